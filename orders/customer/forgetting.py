"""Forget a customer: contact, names and photographs go; money and what was done stays, under a number.

The ledger is sealed, so not a byte of it changes: its rows name the customer by number, and the number
has no name any more. The guards of the database let exactly these names give way, and nothing else.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from django.conf import settings
from django.db import transaction

from orders.background import errands
from orders.customer.hers import MONEY_PAPERS, Hers
from orders.customer.letting_go import changes, foreseen
from orders.customer.names_left import Place, looked_for, places_of
from orders.customer.old_enquiries import CannotForget, let_go_of_words
from orders.keep.rows import kinds
from orders.keep.taken import file_for, made_for_one
from orders.models import (
    Account,
    AskedPicture,
    Customer,
    Entry,
    Errand,
    Event,
    Order,
    Person,
    Photo,
    Posting,
    Shirt,
    Stale,
)
from orders.models.photo import photo_file, photo_folder
from orders.papers.press import file_of


@dataclass(frozen=True)
class Standing:
    """What is in the way of forgetting, what would go, and what stays."""

    in_the_way: tuple[str, ...]
    photos: int
    papers: int
    entries: int
    enquiries: int
    places: tuple[Place, ...]


def standing_of(customer: Customer) -> Standing:
    """Return what forgetting this customer would mean today."""
    hers, in_the_way = Hers(customer), tuple(_in_the_way(customer))
    told = Entry.objects.filter(payer=customer) | Entry.objects.filter(order__customer=customer)
    return Standing(
        in_the_way=in_the_way,
        photos=hers.photos.count(),
        papers=hers.papers.exclude(kind__in=MONEY_PAPERS).count(),
        entries=told.distinct().count(),
        enquiries=hers.enquiries.count(),
        places=() if in_the_way else _what_would_be_left(customer, hers),
    )


def _what_would_be_left(customer: Customer, hers: Hers) -> tuple[Place, ...]:
    """Return where what she is known by would still stand: looked for everywhere, and nothing is written."""
    words = looked_for(customer.name, hers.names())
    return tuple(places_of(words, foreseen(hers, hers.in_place_of())))


def _in_the_way(customer: Customer) -> list[str]:
    pays = Order.objects.filter(payers__customer=customer) | Order.objects.filter(customer=customer)
    reasons = [
        f"{order} is still in the workroom: hand it over or call it off first."
        for order in pays.distinct()
        if order.handed_over_at is None and order.cancelled_at is None
    ]
    for order in pays.distinct():
        if Posting.objects.balance(Account.OWED, entry__order=order):
            reasons.append(f"The account of {order} is open: settle it or write it off first.")
    here = Shirt.objects.filter(bag__customer=customer, bag__handed_back_at=None)
    if here.filter(state__in=(Shirt.State.IN_WORK, Shirt.State.MISSING)).exists():
        reasons.append("Garments of theirs are here or looked for: give them back first.")
    return reasons


@transaction.atomic
def forget(customer: Customer, *, seen: int, by: Person) -> None:
    """Forget a customer for good; twice is once. Files go from the disk once the records let them go."""
    now = Customer.objects.select_for_update().get(pk=customer.pk)
    if now.forgotten_at is not None:
        return
    if now.version != seen:
        raise Stale(now)
    if reasons := _in_the_way(now):
        raise CannotForget(reasons[0])
    files, hers = _let_go(now)
    Event.objects.note("customer forgotten", by=by, customer=now.pk)
    payload = {
        "files": [path.relative_to(settings.DATA_DIR).as_posix() for path in files + _made_files(now)],
        "papers": list(hers.papers.values_list("pk", flat=True)),
    }
    errands.send("let go", key=str(now.pk), payload=payload, cause=f"customer {now.pk}")


def _let_go(customer: Customer) -> tuple[list[Path], Hers]:
    """Let every record go of her; return the files that nobody needs any more."""
    hers = Hers(customer)
    papers = [file_of(paper) for paper in hers.papers.all()]
    for change in changes(hers, hers.in_place_of()):
        change.make()
    let_go_of_words(hers.enquiries)
    return [*_forget_photos(hers), *papers], hers


def _made_files(customer: Customer) -> list[Path]:
    """The files that were made of her to be taken away; one that is being made finds her forgotten."""
    return [file_for(made) for made in made_for_one(customer)]


@errands.errand("let go", seconds=120, megabytes=300)
def let_go_of_files(errand: Errand) -> str:
    """Take the files of a forgotten customer from the disk, then have her papers of money set anew."""
    for name in errand.payload["files"]:
        (Path(settings.DATA_DIR) / name).unlink(missing_ok=True)
    with transaction.atomic():
        for pk in errand.payload["papers"]:
            errands.send("paper", key=f"{pk} without a name", payload={"paper": pk}, cause=errand.cause)
        errand.finish(f"{len(errand.payload['files'])} files are gone.")
    return errand.outcome


def _forget_photos(hers: Hers) -> list[Path]:
    """Let photographs go with everything that points at them; return the files nobody else needs."""
    photos = list(hers.photos.values_list("pk", "sha256"))
    gone = [pk for pk, _ in photos]
    for kind in kinds():
        for field in kind._meta.concrete_fields:
            if field.related_model is Photo:
                kind._base_manager.filter(**{f"{field.name}__in": gone}).update(**{field.name: None})
    for asked in AskedPicture.objects.filter(version__order__customer=hers.customer):
        for part in ("panels", "swatches"):
            kept = asked.shown.get(part, {})
            asked.shown[part] = {name: each for name, each in kept.items() if each.get("photo") not in gone}
        asked.save(update_fields=["shown"])
    Photo.objects.filter(pk__in=gone).delete()
    needed = set(Photo.objects.filter(sha256__in=[sha for _, sha in photos]).values_list("sha256", flat=True))
    return [
        path
        for _, sha256 in photos
        if sha256 not in needed
        for path in (photo_folder() / sha256[:2]).glob(f"{photo_file(sha256).stem}*.jpg")
    ]

"""Forget a customer: contact, names and photographs go; money and what was done stays, under a number.

The ledger is sealed, so not a byte of it changes: its rows name the customer by number, and the number
has no name any more. The guards of the database let exactly these names give way, and nothing else.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from django.conf import settings
from django.db import transaction
from django.utils import timezone

from orders.background import errands
from orders.customer.hers import MONEY_PAPERS, Hers
from orders.customer.names_left import Place, looked_for, places_of
from orders.customer.old_enquiries import CannotForget, let_go_of_words
from orders.customer.words_without_names import take_names_out, without
from orders.guards import FORGOTTEN
from orders.keep.rows import kinds
from orders.keep.taken import file_for, made_for_one
from orders.models import (
    Account,
    ApprovedPiece,
    AskedPicture,
    AskedSingly,
    Certificate,
    Consent,
    Customer,
    Entry,
    Errand,
    Event,
    Incident,
    LeaveToMove,
    Link,
    Message,
    Opening,
    Order,
    Parcel,
    Person,
    Photo,
    Posting,
    Quote,
    Shirt,
    Signature,
    Stale,
)
from orders.models.photo import photo_file, photo_folder
from orders.papers.press import file_of

TELLING = ("said_by", "to", "name", "words", "why", "proof", "before", "address")  # facts of an event


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
    """Forget her, look everywhere for what she is known by, and take all of it back: nothing is changed."""
    words = looked_for(customer.name, hers.names())
    with transaction.atomic():
        _let_go(Customer.objects.get(pk=customer.pk))
        found = tuple(places_of(words))
        transaction.set_rollback(True)
    return found


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
    names = hers.in_place_of()
    _forget_contact(customer)
    _replace_names(hers)
    take_names_out(hers, names)
    _forget_words(hers, names)
    papers = _forget_papers(hers, names)
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


def _forget_contact(customer: Customer) -> None:
    Customer.objects.filter(pk=customer.pk).update(
        name=f"{FORGOTTEN} {customer.pk}",
        email="",
        phone="",
        address="",
        notes="",
        may_show_pictures=False,
        may_show_names=False,
        keep_quiet_until=None,
        forgotten_at=timezone.now(),
        version=customer.version + 1,
    )


def _replace_names(hers: Hers) -> None:
    """Replace names where records need one; the yes and who gave it stays a yes, of nobody by name."""
    for order in hers.orders:
        hers.orders.filter(pk=order.pk).update(title=order.get_kind_display().capitalize())
    hers.orders.update(
        approver=FORGOTTEN, recipient="", collector="", label_words="", label_by="", discreet="", place="",
        occasion="", why_paused="",
    )  # fmt: skip
    hers.orders.exclude(handed_to="").update(handed_to=FORGOTTEN)
    hers.bags.update(brought_by=FORGOTTEN, notes="", allergies="")
    hers.shirts.update(story="", found="", team="")
    hers.of(Consent).update(said_by=FORGOTTEN, words="")
    hers.of(ApprovedPiece).exclude(said_by="").update(said_by=FORGOTTEN)
    hers.of(LeaveToMove).update(said_by=FORGOTTEN)
    hers.of(Quote).exclude(accepted_by="").update(accepted_by=FORGOTTEN)
    hers.of(Parcel).update(address=FORGOTTEN, tracking="")
    hers.of(Incident).update(words="", told_words="", answer="")
    _replace_on_orders_of_others(hers.customer)
    AskedSingly.objects.filter(shirt__bag__customer=hers.customer).update(names=[], why="")
    Opening.objects.filter(bag__customer=hers.customer).update(film="")
    Signature.objects.filter(bag__customer=hers.customer).update(name=FORGOTTEN, strokes=[])


def _replace_on_orders_of_others(customer: Customer) -> None:
    """Replace her name where she only paid a share, gave a yes or collected."""
    others = Order.objects.filter(payers__customer=customer).exclude(customer=customer)
    ids = list(others.values_list("pk", flat=True))
    for field in ("approver", "recipient", "collector", "handed_to"):
        Order.objects.filter(pk__in=ids, **{field: customer.name}).update(**{field: FORGOTTEN})
    Consent.objects.filter(order__in=ids, said_by=customer.name).update(said_by=FORGOTTEN)
    Quote.objects.filter(order__in=ids, accepted_by=customer.name).update(accepted_by=FORGOTTEN)


def _forget_words(hers: Hers, names: Mapping[str, str]) -> None:
    """Let go what was written to her, her links, and what events tell of people."""
    hers.of(Message).delete()
    hers.of(Link).delete()
    hers.mails.delete()
    for certificate in Certificate.objects.filter(entries__payer=hers.customer).distinct():
        change = {
            field: FORGOTTEN
            for field in ("bought_by", "given_to")
            if getattr(certificate, field).strip() in names
        }
        Certificate.objects.filter(pk=certificate.pk).update(**change)
    orders = hers.orders | Order.objects.filter(payers__customer=hers.customer)
    of_bags = Event.objects.filter(order=None, facts__bag__in=list(hers.bags.values_list("pk", flat=True)))
    for event in [*Event.objects.filter(order__in=orders.distinct()), *of_bags]:
        is_hers = event.order is None or event.order.customer_id == hers.customer.pk
        if _tells_of(event.facts, names, is_hers=is_hers):
            Event.objects.filter(pk=event.pk).update(facts={})


def _tells_of(facts: dict[str, Any], names: Collection[str], *, is_hers: bool) -> bool:
    """Say whether an event names her or, of an order of hers, anybody at all."""
    text = str(facts).casefold()
    return any(name.casefold() in text for name in names) or (
        is_hers and any(key in facts for key in TELLING)
    )


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


def _forget_papers(hers: Hers, names: Mapping[str, str]) -> list[Path]:
    """Let papers go; those of money are set anew without a name, under their own number."""
    files = [file_of(paper) for paper in hers.papers.all()]
    hers.papers.exclude(kind__in=MONEY_PAPERS).delete()
    for paper in hers.papers.all():
        paper.made_of = without(paper.made_of, names)
        paper.sha256 = ""
        paper.save(update_fields=["made_of", "sha256"])
    return files

"""Files that are made to be taken away: of the whole shop, or of one customer; each stays for a week."""

from __future__ import annotations

import json
import time
import zipfile
from pathlib import Path
from typing import Any

from django.conf import settings
from django.db import transaction
from django.utils import timezone

from orders.background import errands
from orders.customer.hers import Hers
from orders.keep.rows import rows_of
from orders.keep.taking_along import Say, Writer, hidden_while_written, take_along
from orders.models import Customer, Errand, Event, Person
from orders.papers.press import file_of

SHOP, ONE = "shop in one file", "customer in one file"
KEPT_FOR = 7 * 24 * 3600  # seconds
WHAT, VERSION = "all that a shop keeps of one customer", 1


@transaction.atomic
def ask_for_shop(*, by: Person) -> Errand:
    """Have the whole shop put into one file; while one is being made, it is that one."""
    return _ask(SHOP, "shop", {}, by=by)


@transaction.atomic
def ask_for_one(customer: Customer, *, by: Person) -> Errand:
    """Have everything of one customer put into one file."""
    return _ask(ONE, str(customer.pk), {"customer": customer.pk}, by=by)


def _ask(kind: str, of: str, payload: dict[str, Any], *, by: Person) -> Errand:
    under_way = Errand.objects.about(kind, of).still_open().first()
    if under_way is not None:
        return under_way
    stamp = timezone.now().strftime("%Y-%m-%d-%H%M%S-%f")
    Event.objects.note(kind, by=by, **payload)
    return errands.send(kind, key=f"{of} {stamp}", payload=payload | {"name": stamp}, cause=kind)


def made_for_shop() -> list[Errand]:
    """Return the files of the whole shop that are being made or can still be fetched, the newest first."""
    return [each for each in Errand.objects.about(SHOP, "shop")[:10] if _is_there(each)]


def made_for_one(customer: Customer) -> list[Errand]:
    """Return those of one customer."""
    return [each for each in Errand.objects.about(ONE, str(customer.pk))[:10] if _is_there(each)]


def _is_there(errand: Errand) -> bool:
    return errand.state != Errand.State.DONE or file_for(errand).is_file()


def file_for(errand: Errand) -> Path:
    """Return where the file of an errand lies."""
    return folder() / f"{errand.pk}-{errand.payload['name']}.zip"


def folder() -> Path:
    return Path(settings.DATA_DIR) / "taken"


@errands.errand(SHOP, seconds=3600, megabytes=900)
def make_shop_file(errand: Errand) -> str:
    folder().mkdir(mode=0o700, exist_ok=True)
    about = take_along(file_for(errand), say=errand.say)
    return f"{sum(about['counts'].values())} rows in {len(about['files'])} files."


@errands.errand(ONE, seconds=900, megabytes=600)
def make_one_file(errand: Errand) -> str:
    customer = Customer.objects.filter(pk=errand.payload["customer"], forgotten_at=None).first()
    if customer is None:
        raise errands.CannotBeDone("This customer was forgotten: there is nothing to put into a file.")
    folder().mkdir(mode=0o700, exist_ok=True)
    files = put_in_one_file(customer, file_for(errand), say=errand.say)
    return f"{len(files)} files."


def put_in_one_file(customer: Customer, target: Path, *, say: Say = lambda words: None) -> dict[str, str]:
    """Write everything of one customer as JSON, photographs and papers; return the hash of each file."""
    hers = Hers(customer)
    with hidden_while_written(target) as draft, zipfile.ZipFile(draft, "w") as zipped:
        writer = Writer(zipped)
        say("Records")
        with transaction.atomic():
            kept = {name: list(rows_of(found.distinct(), without=own)) for name, found, own in hers.told()}
            photos, papers = list(hers.photos.distinct()), list(hers.papers.distinct())
        about = {"what": WHAT, "version": VERSION, "made_at": timezone.now().isoformat(timespec="seconds")}
        writer.text("everything.json", [json.dumps(about | kept, indent=1, ensure_ascii=False)])
        for number, photo in enumerate(photos, start=1):
            say(f"Photographs: {number} of {len(photos)}")
            if photo.file.is_file():
                writer.file(f"photographs/{photo.pk}.jpg", photo.file)
        for paper in papers:
            if file_of(paper).is_file():
                writer.file(f"papers/{paper.number}-{paper.kind.replace(' ', '-')}.pdf", file_of(paper))
    return writer.files


@errands.daily("files no longer kept", seconds=60, megabytes=200)
def let_old_ones_go(errand: Errand) -> str:
    """Take away what has lain for a week: everything of a customer is not to lie about."""
    old = [each for each in folder().glob("*.zip") if time.time() - each.stat().st_mtime > KEPT_FOR]
    for each in old:
        each.unlink(missing_ok=True)
    return f"{len(old)} files taken away."

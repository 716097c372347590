"""Forget an enquiry that never became an order: by a tap, or by itself after the time the shop has set."""

from __future__ import annotations

from datetime import datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from django.conf import settings
from django.db import transaction
from django.db.models import QuerySet
from django.utils import timezone

from orders.background import errands
from orders.guards import FORGOTTEN
from orders.models import Enquiry, Errand, Event, Paper, Person, Shop
from orders.papers.press import file_of

LET_GO = {"name": FORGOTTEN, "reach": FORGOTTEN, "what": "", "occasion": "", "reasons": []}


class CannotForget(Exception):
    """Why somebody is not forgotten yet; the text says what to do first."""


@transaction.atomic
def forget_enquiry(enquiry: Enquiry, *, by: Person | None) -> None:
    """Forget who asked and what they wrote, for good; twice is once. That somebody asked, and when, stays."""
    now = Enquiry.objects.select_for_update().get(pk=enquiry.pk)
    if now.forgotten_at is not None:
        return
    if now.order_id is not None:
        raise CannotForget(f"It became {now.order}. Forget the customer instead.")
    files = let_go_of_words(Enquiry.objects.filter(pk=now.pk))
    Event.objects.note("enquiry forgotten", by=by, enquiry=now.pk)
    payload = {"files": files, "papers": []}
    errands.send("let go", key=f"enquiry {now.pk}", payload=payload, cause=f"enquiry {now.pk}")


def let_go_of_words(enquiries: QuerySet[Enquiry]) -> list[str]:
    """Empty enquiries of all that tells of people, with their mails and estimates; return the files to go."""
    numbers = list(enquiries.values_list("pk", flat=True))
    papers = estimates_of(enquiries)
    files = [file_of(paper).relative_to(settings.DATA_DIR).as_posix() for paper in papers]
    papers.delete()
    for enquiry in enquiries:
        enquiry.mails.all().delete()
        Errand.objects.filter(cause=enquiry.name[:120]).update(cause="")
    Enquiry.objects.filter(pk__in=numbers).update(**LET_GO, penciled_until=None, forgotten_at=timezone.now())
    return files


def estimates_of(enquiries: QuerySet[Enquiry]) -> QuerySet[Paper]:
    """Return the estimates that were printed before there was an order."""
    numbers = list(enquiries.values_list("pk", flat=True))
    return Paper.objects.filter(kind=Paper.Kind.ESTIMATE, order=None, made_of__enquiry__in=numbers)


@errands.daily("old enquiries", seconds=120, megabytes=300)
def sweep(errand: Any) -> str:
    """Forget what is older than the shop keeps it; done twice, it forgets once. Off until a time is set."""
    shop = Shop.objects.the()
    if shop is None or shop.enquiries_kept_days is None:
        return "Enquiries are kept until somebody forgets them."
    before = _first_kept(shop, shop.enquiries_kept_days)
    gone = [each for each in Enquiry.objects.never_ordered(before=before) if not _is_held(each, shop)]
    for each in gone:
        forget_enquiry(each, by=None)
    return f"{len(gone)} old enquir{'y' if len(gone) == 1 else 'ies'} forgotten."


def _first_kept(shop: Shop, days: int) -> datetime:
    """The day of the shop so many days ago is kept from its first moment, whatever the clocks did since."""
    return datetime.combine(shop.today() - timedelta(days=days), time.min, ZoneInfo(shop.time_zone))


def _is_held(enquiry: Enquiry, shop: Shop) -> bool:
    """A place is still penciled in, or a mail is on its way out."""
    return enquiry.is_penciled(on=shop.today()) or enquiry.mails.on_their_way().exists()

"""Every paper from one frame: its facts are frozen when it is made, its bytes are hashed."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from django.db import transaction

from orders.account.paid_together import all_of
from orders.background import errands
from orders.models import (
    Bag,
    DesignVersion,
    Enquiry,
    Entry,
    Errand,
    Event,
    Incident,
    Order,
    Paper,
    Person,
    Quote,
    Shop,
)

from . import press
from .as_one import as_one_facts
from .booklet import booklet_facts
from .cloth_cuts import cloth_cuts_facts
from .estimate import NoBand, estimate_facts
from .leaving import hand_over_facts, unclaimed_facts
from .look import picture_facts
from .money import quote_facts, receipt_facts
from .party_card import party_card_facts
from .quilter import quilter_facts
from .receipts import KINDS, entry_facts
from .safekeeping import damage_facts, in_care_facts
from .saying import thing_of
from .supplies import materials_facts
from .tags import stop_facts, tags_facts
from .work import care_facts, cut_list_facts, has_small_parts, intake_facts

__all__ = [
    "NoBand",
    "booklet",
    "bytes_of",
    "care",
    "cloth_cuts",
    "cut_list",
    "damage",
    "deposit",
    "estimate",
    "hand_over",
    "in_care",
    "intake",
    "materials",
    "party_card",
    "picture",
    "quilter_sheet",
    "quote",
    "receipt",
    "stop_tags",
    "tags",
    "unclaimed",
    "with_papers",
]


NO_PRESS = (
    "The libraries that set papers are missing on the shop’s computer. On Debian or Ubuntu: "
    "apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"
)


def intake(bag: Bag, *, by: Person | None) -> Paper:
    """Make the paper that says what came in."""
    return _make(Paper.Kind.INTAKE, intake_facts(bag), bag=bag, order=bag.orders.first(), by=by)


def quote(of: Quote, *, by: Person | None) -> Paper:
    """Make a quote's paper; the same quote has one paper."""
    before = Paper.objects.filter(order=of.order, kind=Paper.Kind.QUOTE, made_of__quote=of.pk).first()
    facts = quote_facts(of) | as_one_facts(of) | {"small_parts": has_small_parts(of.order)}
    return before or _make(Paper.Kind.QUOTE, facts, order=of.order, by=by)


@transaction.atomic
def deposit(of: Entry, *, by: Person | None) -> Paper:
    """Make the paper of an entry that has a receipt number: money in, out, or bounced; it has one.

    What came in one sum for several orders has one paper, with the first of them.
    """
    of = all_of(of)[0]
    if of.order_id is not None:
        Order.objects.select_for_update().get(pk=of.order_id)  # the same form may come twice at once
    kind = KINDS[Entry.Kind(of.kind)]
    before = Paper.objects.filter(order=of.order, kind=kind, made_of__entry=of.pk).first()
    return before or _make(kind, entry_facts(of), order=of.order, by=by)


@transaction.atomic
def with_papers(write: Callable[[], tuple[Entry, ...]], *, by: Person | None) -> tuple[Entry, ...]:
    """Write money and its papers in one: no receipt number is without a paper, whatever goes wrong."""
    entries = write()
    for each in entries:
        if each.receipt_number is not None:
            deposit(each, by=by)
    return entries


def receipt(of: Order, *, by: Person | None) -> Paper:
    """Make the final receipt of an order."""
    return _make(Paper.Kind.RECEIPT, receipt_facts(of), order=of, by=by)


def cut_list(of: Order, *, by: Person | None) -> Paper:
    """Make the list that is pinned up at the table: shirt, side, sizes, heat."""
    return _make(Paper.Kind.CUT_LIST, cut_list_facts(of), order=of, by=by)


def cloth_cuts(of: Order, *, by: Person | None) -> Paper:
    """Make the cutting pictures of a quilt, a cloth a page."""
    return _make(Paper.Kind.CLOTH_CUTS, cloth_cuts_facts(of), order=of, by=by)


def quilter_sheet(of: Order, *, by: Person | None) -> Paper:
    """Make the sheet that goes with the top to whoever quilts it."""
    return _make(Paper.Kind.QUILTER, quilter_facts(of), order=of, by=by)


def care(of: Order, *, by: Person | None) -> Paper:
    """Make the card that tells how the quilt is washed and kept."""
    return _make(Paper.Kind.CARE, care_facts(of), order=of, by=by)


def tags(of: Bag, *, sheet: str, panels: bool, skipped: int, by: Person | None) -> Paper:
    """Make the tags of a bag and the label of its bin."""
    facts = tags_facts(of, sheet=sheet, panels=panels, skipped=skipped)
    return _make(Paper.Kind.TAGS, facts, bag=of, order=of.orders.order_by("number").first(), by=by)


def stop_tags(of: Order, *, by: Person | None) -> Paper:
    """Make a stop tag for each piece that bears little heat or is held."""
    return _make(Paper.Kind.STOP, stop_facts(of), order=of, by=by)


def picture(of: DesignVersion, *, by: Person | None) -> Paper:
    """Make the paper of a picture that was asked about, to be signed; a version has one paper."""
    before = Paper.objects.filter(order=of.order, kind=Paper.Kind.PICTURE, made_of__picture=of.pk).first()
    return before or _make(Paper.Kind.PICTURE, picture_facts(of), order=of.order, by=by)


def damage(of: Incident, *, by: Person | None) -> Paper:
    """Make the paper about one thing that went wrong; only one that was chosen for papers has one."""
    if not of.on_papers:
        raise ValueError("This stays off papers until it is chosen for them.")
    return _make(Paper.Kind.DAMAGE, damage_facts(of), order=of.order, by=by)


def estimate(of: Enquiry, *, by: Person | None) -> Paper:
    """Make the paper of a band told before the shirts were seen; raises NoBand where none was told."""
    return _make(Paper.Kind.ESTIMATE, estimate_facts(of), order=of.order, by=by)


def materials(of: Order, *, by: Person | None) -> Paper:
    """Make the list of the cloth a quilt has spoken for, to shop by."""
    return _make(Paper.Kind.MATERIALS, materials_facts(of), order=of, by=by)


def party_card(of: Order, *, by: Person | None) -> Paper:
    """Make the card to hand over on the day itself, where the quilt follows later."""
    return _make(Paper.Kind.PARTY_CARD, party_card_facts(of), order=of, by=by)


def hand_over(of: Order, *, by: Person | None) -> Paper:
    """Make the note of what left with whom, to be signed at the door."""
    return _make(Paper.Kind.HAND_OVER, hand_over_facts(of), order=of, by=by)


def unclaimed(of: Order, *, collect_by: date, sent_how: str, by: Person | None) -> Paper:
    """Make the notice about a finished quilt that nobody collects: days and contacts, and a day asked for."""
    return _make(
        Paper.Kind.UNCLAIMED, unclaimed_facts(of, collect_by=collect_by, sent_how=sent_how), order=of, by=by
    )


def booklet(of: Order, *, by: Person | None) -> Paper:
    """Make the booklet that goes with the quilt."""
    return _make(Paper.Kind.BOOKLET, booklet_facts(of), order=of, by=by)


def in_care(*, by: Person | None) -> Paper:
    """Make the page for whoever must bring every bag home."""
    return _make(Paper.Kind.IN_CARE, in_care_facts(), by=by)


@transaction.atomic
def _make(kind: str, facts: dict[str, Any], *, by: Person | None, **of: Any) -> Paper:
    if of.get("order") is not None:
        facts = facts | {"thing": thing_of(of["order"])}
    paper = Paper.objects.create(
        kind=kind, number=Shop.next_number("last_paper_number"), made_of=facts, made_by=by, **of
    )
    errands.send("paper", key=str(paper.number), payload={"paper": paper.pk}, cause=f"paper {paper.number}")
    Event.objects.note("paper made", by=by, order=paper.order, paper=paper.number, kind=kind)
    return paper


@errands.errand("paper", seconds=120, megabytes=900)
def print_paper(errand: Any) -> str:
    """Set the paper and keep its bytes; done twice, it is the same file."""
    if not press.is_ready():
        raise errands.CannotBeDone(NO_PRESS)
    paper = Paper.objects.get(pk=errand.payload["paper"])
    if not press.file_of(paper).exists():
        sha256 = press.keep(paper)
        with transaction.atomic():
            Paper.objects.filter(pk=paper.pk).update(sha256=sha256)
            errand.finish("The paper is ready.")
    return "The paper is ready."


def why_none(paper: Paper) -> str:
    """Say why a paper will not come; nothing while it still may."""
    failed = Errand.objects.failed().filter(key=f"paper: {paper.number}").first()
    return failed.outcome if failed else ""


def bytes_of(paper: Paper) -> bytes | None:
    """Return the PDF, or None while it is still being made."""
    file = press.file_of(paper)
    return file.read_bytes() if file.exists() else None

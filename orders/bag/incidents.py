"""Not right: the batch stops, what happened is written down with its setting and picture, nobody is blamed.

What takes the place of a damaged piece is done by `orders.bench.ways_on`; `WAYS_ON` says each way in words.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from django.db import transaction
from django.db.models import Q, QuerySet
from django.utils import timezone

from orders.bench import ways_on
from orders.models import Block, Event, Incident, Order, Person, Photo, Piece, Shirt

FIRST_WORDS = {
    "iron": ("Iron off and up. Do not touch it while soft.", "Open a window. Then tell me."),
    "table": ("Blade closed and down.", "Leave the cloth as it lies. Then tell me."),
    "ruler": ("Blade closed and down.", "Leave the cloth as it lies. Then tell me."),
    "": ("Leave it as it lies.", "Wash nothing more of it, cut nothing more of it."),
    "machine": ("Foot off, needle up.", "Count the pieces of the needle. Then tell me."),
}
CLEARED = (Incident.Outcome.MENDED, Incident.Outcome.WELL)
DAMAGES = (Incident.What.MELTED, Incident.What.CUT_WRONG, Incident.What.STAINED)
BATCH_WAITS = "the batch stopped, it waits until the owner says go on"
WAYS_ON = {
    Incident.Outcome.KEPT: "It is damaged and stays, in work, until what takes its place is agreed.",
    Incident.Outcome.MENDED: "It is mended and goes on.",
    Incident.Outcome.WELL: "Nothing was wrong after all, and it goes on.",
    Incident.Outcome.RECUT: "Cut again from what is left of the shirt: a new yes is asked for, and its"
    " interfacing is back on the shopping list.",
    Incident.Outcome.MADE_UP: "Plain cloth takes the block, made up with what is left; the picture is asked"
    " about again.",
    Incident.Outcome.LAYOUT: "It leaves the layout, and the quilt is laid out anew in the Quilt room.",
}


@dataclass(frozen=True)
class Report:
    """What is known at that moment: one word is enough. `block` or `shirt` is what it happened to."""

    what: str
    stage: str = ""
    block: Block | None = None
    batch: tuple[Block, ...] = ()
    setting: dict[str, Any] = field(default_factory=dict)
    words: str = ""
    turned_to: str = ""
    shirt: Shirt | None = None
    piece: Piece | None = None


def report(
    order: Order, said: Report, *, by: Person, photo: Photo | None = None, client_id: str | None = None
) -> Incident:
    """Write down what happened and stop the batch it lay in; sent twice, it is the first one again."""
    with transaction.atomic():
        now = Order.objects.select_for_update().get(pk=order.pk)
        before = Incident.objects.filter(client_id=client_id).first() if client_id else None
        if before is not None:
            return before
        incident = _write(now, said, by, client_id)
        _stop(incident, said, by)
        if photo is not None:
            Photo.objects.of(None).filter(pk=photo.pk).update(incident=incident)
        Event.objects.note("not right", by=by, order=now, incident=incident.pk, of=incident.name)
    return incident


def _write(order: Order, said: Report, by: Person, client_id: str | None) -> Incident:
    piece = said.block.piece if said.block else said.piece
    return Incident.objects.create(
        what=said.what,
        order=order,
        piece=piece,
        shirt=piece.shirt if piece else said.shirt,
        cell=said.block.cell if said.block else "",
        stage=said.stage,
        setting=said.setting,
        turned_to=said.turned_to,
        words=said.words,
        stopped=[_named(block, order) for block in said.batch if block != said.block],
        by=by,
        client_id=client_id,
    )


def _stop(incident: Incident, said: Report, by: Person) -> None:
    order = incident.order
    stopped_blocks(order, incident.stopped).filter(held="").update(held=BATCH_WAITS)
    if said.block is not None:
        Block.objects.filter(pk=said.block.pk).update(held=f"{incident.get_what_display().lower()}, it waits")
    if incident.shirt and incident.what in DAMAGES:
        Shirt.objects.filter(pk=incident.shirt.pk).update(damaged=True)
    for stage in order.stages.running().filter(kind=said.stage):
        stage.pause(by=by)


def stopped_blocks(order: Order, names: Iterable[str]) -> QuerySet[Block]:
    """Return the blocks an incident stopped: cells of its order, those of another with its number, 32:07."""
    found = Q(pk=None)
    for name in names:
        number, _, cell = name.rpartition(":")
        found |= Q(order__number=int(number), cell=cell) if number else Q(order=order, cell=cell)
    return Block.objects.filter(found)


def _named(block: Block, order: Order) -> str:
    return block.cell if block.order_id == order.pk else f"{block.order.number}:{block.cell}"


def words_at(place: str) -> list[tuple[str, str]]:
    """Return the words for what is not right at a place: at the machine needles break, nothing melts."""
    but = {"machine": (Incident.What.MELTED,)}.get(place, (Incident.What.NEEDLE,))
    return [(value, label) for value, label in Incident.What.choices if value not in but]


def ways_for(incident: Incident) -> tuple[Incident.Outcome, ...]:
    """Return how it may go on: another piece takes the place only where it is known which block it was."""
    if incident.what == Incident.What.NEEDLE:
        return CLEARED
    return tuple(way for way in WAYS_ON if incident.cell or way not in ways_on.WAYS)


@transaction.atomic
def add(incident: Incident, *, by: Person, words: str, turned_to: str, answer: str = "") -> None:
    """Write more about what happened; what was written stays in the record of events."""
    now = Incident.objects.select_for_update().get(pk=incident.pk)
    before = {"words": now.words, "turned_to": now.turned_to, "answer": now.answer}
    after = {"words": words, "turned_to": turned_to, "answer": answer or now.answer}
    if after != before:
        Incident.objects.filter(pk=incident.pk).update(**after)
        Event.objects.note("incident written", by=by, order=now.order, incident=now.pk, before=before)


@transaction.atomic
def say_found(incident: Incident, found: bool, *, by: Person) -> None:
    """Write whether every piece of a needle that broke was found; until then nothing is finished."""
    now = Incident.objects.select_for_update().get(pk=incident.pk)
    if now.settled_at is None and now.all_found != found:
        Incident.objects.filter(pk=now.pk).update(all_found=found)
        Event.objects.note(
            "needle found" if found else "needle not found", by=by, order=now.order, incident=now.pk
        )


@transaction.atomic
def go_on(incident: Incident, *, by: Person) -> int:
    """Let the rest of the batch go on, and return how many blocks do; the damaged one still waits."""
    now = Incident.objects.select_for_update().get(pk=incident.pk)
    if now.went_on_at is not None:
        return 0
    now.went_on_at = timezone.now()
    now.save(update_fields=["went_on_at"])
    others = Incident.objects.stopping().exclude(pk=now.pk).select_related("order")
    still = {
        pk
        for other in others
        for pk in stopped_blocks(other.order, other.stopped).values_list("pk", flat=True)
    }
    free = stopped_blocks(now.order, now.stopped).filter(held=BATCH_WAITS).exclude(pk__in=still)
    count = Block.objects.filter(pk__in=list(free.values_list("pk", flat=True))).update(held="")
    Event.objects.note("gone on", by=by, order=now.order, incident=now.pk, count=count)
    return count


@transaction.atomic
def settle(incident: Incident, outcome: str, *, by: Person, piece: Piece | None = None) -> None:
    """Say how it ended; settled twice, the first time stands. The batch goes on with it.

    `piece` is the one it happened to, where its block holds several.
    """
    if outcome not in WAYS_ON:
        raise ValueError(f"“{outcome}” is no way for this to end.")
    now = Incident.objects.select_for_update().get(pk=incident.pk)
    if now.settled_at is not None:
        return
    if now.what == Incident.What.NEEDLE and not now.all_found:
        raise ways_on.CannotSettle("Find every piece of the needle first, and say so here.")
    if piece is not None:
        _name_piece(now, piece)
    now.outcome, now.settled_at = outcome, timezone.now()
    now.save(update_fields=["outcome", "settled_at"])
    go_on(now, by=by)
    held = f"damaged and kept: {now}" if outcome == Incident.Outcome.KEPT else ""
    if now.cell:
        now.order.blocks.filter(cell=now.cell).update(held=held[:160])
    ways_on.go(now, outcome, by=by)
    if now.shirt_id and outcome in CLEARED and not _damaged_otherwise(now):
        Shirt.objects.filter(pk=now.shirt_id).update(damaged=False)
    Event.objects.note("incident settled", by=by, order=now.order, incident=now.pk, outcome=outcome)


def _name_piece(incident: Incident, piece: Piece) -> None:
    incident.piece, incident.shirt = piece, piece.shirt
    incident.save(update_fields=["piece", "shirt"])
    if incident.what in DAMAGES:
        Shirt.objects.filter(pk=piece.shirt_id).update(damaged=True)


def _damaged_otherwise(incident: Incident) -> bool:
    others = Incident.objects.filter(shirt=incident.shirt, what__in=DAMAGES).exclude(pk=incident.pk)
    return others.exclude(outcome__in=CLEARED).exists()

"""Work at the bench: begun, laid down, done, taken back; by stage, and by the pile."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime
from typing import Any

from django.db import transaction

from orders.bench.needles import why_not_finished
from orders.bench.on_the_frame import why_not_on_it
from orders.days.in_one_go import share_out, with_it
from orders.models import ApprovedPiece, Block, Cut, Event, MayNotBeCut, Order, Person, Piece, Stage, cut
from orders.models.blade import is_cut_by_itself
from orders.planning import garment_of, piece_of
from orders.quilt.blocks import drawn_quilt, label, name_of, pieces_by_cell
from orders.quilt.wall import wall_of
from orders.yes.picture_standing import to_picture
from planner.care import heat_limit

Moved = list[list[Any]]
OWNER_PRESSES_BELOW = 300  # °F

REACHES = {"cut": "cut", "fuse": "fused", "trim": "trimmed", "join": "joined"}
COMES_FROM = {"cut": "planned", "fuse": "cut", "trim": "fused", "join": "trimmed"}
DONE = {"cut": "cut", "fuse": "fused", "trim": "trimmed", "join": "sewn in"}
NOT_YET = {"planned": "is not cut yet", "cut": "is not fused yet", "fused": "is not trimmed yet"}


class NotYet(Exception):
    """What cannot be done now; the message says why and what to do first."""


def may_do(person: Person, kind: str) -> bool:
    """Say whether a person may do a stage: the owner each, a helper what the workroom lists."""
    return person.role == Person.Role.OWNER or kind in getattr(getattr(person, "week", None), "stages", [])


@transaction.atomic
def start(stage: Stage, *, by: Person, now: datetime | None = None) -> None:
    """Take a stage in hand; what the same person had in hand is laid down first."""
    _may(by, stage.kind)
    refuse_without_yes(stage.order, stage.kind)
    if stage.kind == "quilt" and (taken := why_not_on_it(stage.order)):
        raise NotYet(taken)
    for other in Stage.objects.select_for_update().running().filter(person=by).exclude(pk=stage.pk):
        other.pause(by=by, now=now)
    Stage.objects.select_for_update().get(pk=stage.pk).start(by=by, now=now)


@transaction.atomic
def pause(stage: Stage, *, by: Person, now: datetime | None = None) -> None:
    """Lay a stage down."""
    _may(by, stage.kind)
    Stage.objects.select_for_update().get(pk=stage.pk).pause(by=by, now=now)


@transaction.atomic
def finish(stage: Stage, *, by: Person, now: datetime | None = None) -> Event | None:
    """Finish a stage with all of its pile; None when it was done already."""
    _may(by, stage.kind)
    fresh = Stage.objects.select_for_update().get(pk=stage.pk)
    if fresh.done_at is not None:
        return None
    refuse_without_yes(stage.order, stage.kind)
    if stage.kind == "finish" and (missing := why_not_finished(stage.order)):
        raise NotYet(missing)
    others = with_it(fresh)
    moved = _move_whole_pile(stage.order, stage.kind, by)
    fresh.finish(by=by, now=now)
    for each in others:
        finish(each, by=by, now=now)
    share_out(fresh)
    return _note(stage.order, stage.kind, by, moved, finished=fresh.pk)


@transaction.atomic
def tell_minutes(stage: Stage, minutes: int | None, *, by: Person) -> None:
    """Keep what a stage took whose clock was forgotten, told once; None: nobody knows any more."""
    fresh = Stage.objects.select_for_update().get(pk=stage.pk)
    if by.role != Person.Role.OWNER and fresh.person_id != by.pk:
        raise NotYet(
            f"{fresh.person or 'Nobody'} did this stage. Only they or the owner can tell the minutes."
        )
    if fresh.clock in (Stage.Clock.RAN, Stage.Clock.FORGOTTEN):
        fresh.tell_minutes(minutes, by=by)


@transaction.atomic
def do_pile(order: Order, kind: str, blocks: Iterable[int], *, by: Person) -> Event | None:
    """Do these blocks, and finish the stage when they were the last; None when all were done already."""
    _may(by, kind)
    refuse_without_yes(order, kind)
    chosen = list(order.blocks.select_for_update().filter(pk__in=list(blocks)).order_by("cell"))
    moved = _move(order, kind, chosen, by)
    if not moved:
        return None
    return _note(order, kind, by, moved, finished=_finish_when_through(order, kind, by))


@transaction.atomic
def cut_one(order: Order, piece: Piece, *, by: Person) -> Event | None:
    """Cut one piece that was held by itself; its block is cut when this was its last. Twice is once."""
    _may(by, "cut")
    refuse_without_yes(order, "cut")
    cell = next((cell for cell, held in pieces_by_cell(order).items() if piece in held), None)
    block = order.blocks.select_for_update().filter(cell=cell).first()
    if block is None:
        raise NotYet(f"{label(order, piece)} has no block in the layout of {order}.")
    if _is_cut(piece):
        return None
    if block.held:
        raise NotYet(f"{label(order, piece)} is held: {block.held}")
    _cut(order, [piece], by)
    if all(_is_cut(each) for each in pieces_by_cell(order)[block.cell]):
        Block.objects.filter(pk=block.pk, progress="planned").update(progress="cut")
    return _note(order, "cut", by, [[block.pk, "planned"]], finished=_finish_when_through(order, "cut", by))


@transaction.atomic
def take_back(deed: Event, *, by: Person) -> bool:
    """Take a Done back: blocks go to where they were; what was cut stays cut. Twice is once."""
    if Event.objects.filter(what="taken back", facts__deed=deed.pk).exists():
        return False
    kind = deed.facts["stage"]
    _may(by, kind)
    order = Order.objects.select_for_update().get(pk=deed.order_id)
    if finished := deed.facts.get("finished"):
        _reopen(Stage.objects.select_for_update().get(pk=finished), by)
    for id, before in deed.facts.get("moved", []):
        order.blocks.filter(pk=id, progress=_after(kind)).update(progress=before)
    Event.objects.note("taken back", by=by, order=order, deed=deed.pk, stage=kind)
    return True


@transaction.atomic
def pin(stage: Stage, day: date | None, *, by: Person) -> None:
    """Pin a stage to a day, or take the pin out."""
    if stage.pinned_for != day:
        stage.pinned_for = day
        stage.save(update_fields=["pinned_for"])
        what = "pinned" if day else "pin taken out"
        Event.objects.note(what, by=by, order=stage.order, stage=stage.kind, day=day)


def refuse_without_yes(order: Order, kind: str) -> None:
    """Nothing is cut without a yes to cut, and no row is joined without a yes to the picture."""
    if kind == "cut" and not has_yes_to_cut(order):
        raise NotYet(f"{order} has no yes to cut. Ask {order.approver} before the blade comes near it.")
    if kind == "join" and order.kind != Order.Kind.REPAIR:
        _refuse_before_joining(order)


def has_yes_to_cut(order: Order) -> bool:
    """Say whether there is a yes to cut at all; each piece is looked at again when it is cut."""
    return order.approved_pieces.standing().exists()


def _refuse_before_joining(order: Order) -> None:
    """The picture that is drawn now was agreed, and the wall, where it was photographed, lies like it."""
    stands = to_picture(order, drawn_quilt(order))
    if stands.agreed is None:
        raise NotYet(f"{order} has no yes to the picture. Ask {order.approver} before rows are joined.")
    if not stands.is_said:
        what = " ".join(change.words for change in stands.changes)
        raise NotYet(
            f"{order} changed since the yes to its picture: {what} Ask {order.approver} for that first."
        )
    if not wall_of(order, stands).is_as_agreed:
        raise NotYet("The photo of the wall was not found as agreed yet. Lay it beside the picture first.")


def _may(person: Person, kind: str) -> None:
    if not may_do(person, kind):
        raise NotYet(f"{person} does not do this stage in this shop. The owner sets who does what.")


def _after(kind: str) -> str:
    return REACHES.get(kind, "trimmed")


def _behind(order: Order, kind: str) -> list[Block]:
    """The blocks that have not been through this stage; a filler has no shirt to cut, fuse or trim."""
    through = Block.Progress.values[Block.Progress.values.index(REACHES[kind]) :]
    waiting = list(order.blocks.select_for_update().exclude(progress__in=through).order_by("cell"))
    if kind == "join":
        return waiting
    held = pieces_by_cell(order)
    return [block for block in waiting if held.get(block.cell)]


def _finish_when_through(order: Order, kind: str, by: Person) -> int | None:
    """Finish the stage once nothing of the order waits for it; return its key then."""
    stage = order.stages.select_for_update().filter(kind=kind, done_at=None).first()
    if stage is None or _behind(order, kind):
        return None
    stage.finish(by=by)
    _finish_what_is_through_too(stage, by)
    return int(stage.pk)


def _finish_what_is_through_too(stage: Stage, by: Person) -> None:
    """Finish the stages of the same go of whose piles nothing waits either; after the last of them the
    minutes are shared out. What was not tapped stays: nobody saw it done."""
    others = with_it(stage)
    through = [each for each in others if not _behind(each.order, each.kind)]
    for each in through:
        each.finish(by=by)
        _note(each.order, each.kind, by, [], finished=each.pk)
    if len(through) == len(others):
        share_out(stage)


def _move_whole_pile(order: Order, kind: str, by: Person) -> Moved:
    if kind == "make up":
        held = pieces_by_cell(order)
        made = order.blocks.select_for_update().exclude(progress="joined").order_by("cell")
        return _write([block for block in made if not held.get(block.cell)], "trimmed")
    return _move(order, kind, _behind(order, kind), by) if kind in REACHES else []


def _move(order: Order, kind: str, blocks: list[Block], by: Person) -> Moved:
    steps, held = Block.Progress.values, pieces_by_cell(order)
    behind = [each for each in blocks if steps.index(each.progress) < steps.index(REACHES[kind])]
    for block in behind:
        pieces = held.get(block.cell, ())
        name = name_of(order, block, pieces)
        if block.held:
            raise NotYet(f"{name} is held: {block.held}")
        if block.progress != COMES_FROM[kind]:
            lacks = NOT_YET[block.progress] if pieces else "is not made up yet"
            raise NotYet(f"{name} {lacks}. Do that first, or leave it out of the pile.")
    if kind == "fuse" and by.role != Person.Role.OWNER:
        _refuse_cool_pieces(order, [piece for block in behind for piece in held.get(block.cell, ())])
    if kind == "cut":
        pile = [piece for block in behind for piece in held.get(block.cell, ())]
        _refuse_in_a_pile(order, pile)
        _cut(order, pile, by)
    return _write(behind, REACHES[kind])


def _refuse_in_a_pile(order: Order, pieces: list[Piece]) -> None:
    """What opinions differ about, or was agreed for this day alone, is held and tapped one at a time."""
    standing = ApprovedPiece.objects.standing().filter(piece__in=pieces, cut=None)
    yeses = {yes.piece_id: yes for yes in standing}
    alone = [each for each in pieces if is_cut_by_itself(each, yeses.get(each.pk)) and not _is_cut(each)]
    if alone:
        raise NotYet(
            f"{', '.join(label(order, each) for each in alone)} cannot be cut with a pile."
            " Hold each beside its picture and tap it by itself, at the table."
        )


def _is_cut(piece: Piece) -> bool:
    return Cut.objects.filter(approved__piece=piece, approved__withdrawn_at=None).exists()


def _cut(order: Order, pieces: list[Piece], by: Person) -> None:
    try:
        cut(pieces, by=by)
    except MayNotBeCut as fault:
        raise NotYet(f"{label(order, fault.piece)} {fault.why}") from fault


def _refuse_cool_pieces(order: Order, pieces: list[Piece]) -> None:
    """What bears little heat is spoiled by one wrong turn of the dial, so the owner presses it."""
    for piece in pieces:
        if limit_of(piece) < OWNER_PRESSES_BELOW:
            raise NotYet(
                f"{label(order, piece)} bears less heat than the usual print. Stop: the owner presses it."
            )


def limit_of(piece: Piece) -> int:
    """Return the heat limit of a piece in °F."""
    return heat_limit(garment_of(piece.shirt), piece_of(piece))


def _write(blocks: list[Block], progress: str) -> Moved:
    moved = [[block.pk, block.progress] for block in blocks if block.progress != progress]
    Block.objects.filter(pk__in=[pk for pk, _ in moved]).update(progress=progress)
    return moved


def _note(order: Order, kind: str, by: Person, moved: Moved, *, finished: int | None) -> Event:
    return Event.objects.note(
        "bench", by=by, order=order, stage=kind, finished=finished, moved=[] if kind == "cut" else moved,
        count=len(moved), done=DONE.get(kind),
    )  # fmt: skip


def _reopen(stage: Stage, by: Person) -> None:
    try:
        stage.undo(by=by)
    except ValueError as fault:
        raise NotYet(str(fault)) from fault

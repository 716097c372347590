"""The bridge between the shop's records and the planner: records to a brief, a plan to records."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

from django.db import transaction

from orders.account.chosen_way import rules_for, way_of, work_for
from orders.bag.kinds import words_for_planning
from orders.bench import top_size
from orders.days.calendar import AT_ONCE, cushions, people_of_steps, workers, workload
from orders.days.own_times import rules_with_history, standard_minutes
from orders.models import Block, Cloth, Cut, Event, Order, Person, Piece, Shirt, Shop, Stage
from orders.models.as_seen import shirts_here
from planner import materials, quilt
from planner.brief import Brief
from planner.care.heat import heat_limit
from planner.care.interfacing import interfacing_for
from planner.colour import Palette, Swatch, srgb_to_lab
from planner.estimate import StageMinutes
from planner.layout import Layout, Wish
from planner.plan import Offer, Plan, answer_drawn, plan
from planner.problems import Limit
from planner.quilt import FINISHES, Bag, Binding, Garment, Sashing
from planner.units import INCH, Rate, Sides, Size

EFFORT = 40


def plan_order(order: Order, shop: Shop, *, drawn: quilt.Quilt | None = None) -> Plan:
    """Return the whole answer for an order as it stands; `drawn` is a layout to be answered first."""
    return plan(brief_for(order, shop, drawn=drawn), today=shop.today(), limit=Limit(effort=EFFORT))


def drawn_at_once(brief: Brief, *, today: date) -> Offer:
    """Return the answer for the quilt that is drawn alone, its day looked for at a glance."""
    limit, for_the_day = Limit(effort=EFFORT), Limit(effort=AT_ONCE)
    return answer_drawn(brief, today=today, limit=limit, for_the_day=for_the_day)


def plan_at_once(brief: Brief, *, today: date, found: tuple[Layout, ...] = ()) -> Plan:
    """Return the answer to a brief while somebody waits for the page: its day is looked for at a glance."""
    limit, for_the_day = Limit(effort=EFFORT), Limit(effort=AT_ONCE)
    return plan(brief, today=today, limit=limit, for_the_day=for_the_day, found=found)


def brief_for(order: Order, shop: Shop, *, drawn: quilt.Quilt | None = None, way: str | None = None) -> Brief:
    """Return the order as a brief, taken the way that was chosen or the one named."""
    today = shop.today()
    taken = way or way_of(order)
    rules = rules_for(rules_with_history(shop), taken)
    steps = people_of_steps(shop, workers())
    cloths = list(shelf(order))
    return Brief(
        unit=shop.unit,
        currency=shop.currency,
        bag=bag_of(order),
        shelf=tuple(cloth_of(each, shop, order=order) for each in cloths),
        looks={},
        wish=wish_of(order),
        shop=replace(rules, steps=tuple(steps.values())),
        work=work_for(workload(shop, today=today, but=order), taken, cushions(shop)),
        due=max(order.needed_by or today + timedelta(days=90), today),
        buffer=order.cushion(),
        quilt=drawn,
        gives=gives_of(order, cloths),
        measured=top_size.as_measured(order, drawn) if drawn else materials.MeasuredTop(),
        quilted=quilted_how(order),
    )


def quilted_how(order: Order) -> str:
    """Return how the quilt will be quilted; empty: as the shop does it."""
    how = order.wish.get("quilted", "")
    return how if how in materials.OVERHANGS else ""


def bag_of(order: Order) -> Bag:
    """Return the garments and pieces an order may use, as the planner sees them."""
    shirts = shirts_of(order)
    pieces = [piece for shirt in shirts for piece in shirt.pieces.all() if piece.order_id in (None, order.pk)]
    return Bag(tuple(garment_of(shirt) for shirt in shirts), tuple(piece_of(piece) for piece in pieces))


def shirts_of(order: Order) -> list[Shirt]:
    """Return the shirts of an order's bags that are still here, with their pieces; never a guest."""
    return shirts_here(order.pk)


def garment_of(shirt: Shirt) -> Garment:
    """Return a shirt as the planner sees it."""
    return Garment(
        id=f"S{shirt.pk}",
        kind=shirt.kind,
        fibres=shirt.fibre_shares,
        knit=shirt.knit,
        stretch=shirt.stretch,
        thickness=shirt.thickness,
        wash=shirt.wash,
        flags=frozenset(shirt.flags) | words_for_planning(shirt.kind),
        count=shirt.garments,
    )


def piece_id(piece: Piece) -> str:
    """Return a piece's name in the planner: that of its shirt and side, which no layout changes."""
    return f"{piece.name}"


def piece_of(piece: Piece) -> quilt.Piece:
    """Return a piece as the planner sees it."""
    cut = Size(piece.cut_width, piece.cut_height) if piece.cut_width and piece.cut_height else None
    return quilt.Piece(
        id=piece_id(piece),
        garment=f"S{piece.shirt_id}",
        side=piece.side,
        print_size=Size(piece.print_width, piece.print_height),
        free=Sides(piece.free_top, piece.free_right, piece.free_bottom, piece.free_left),
        print_kind=piece.print_kind,
        wanted=piece.wanted,
        heavy=piece.heavy,
        palette=Palette(Swatch(lab_of(piece.ground))) if piece.ground else None,
        cut=cut,
        plus_minus=piece.plus_minus,
        shift=shift_of(piece),
    )


def shift_of(piece: Piece) -> Sides:
    """Return how far a piece is cut off its middle, toward each side."""
    x, y = piece.shift_x, piece.shift_y
    return Sides(top=max(0, -y), right=max(0, x), bottom=max(0, y), left=max(0, -x))


def lab_of(color: str) -> tuple[float, float, float]:
    """Return the CIELAB of a color written #rrggbb."""
    red, green, blue = (int(color[start : start + 2], 16) for start in (1, 3, 5))
    lab = srgb_to_lab([red, green, blue])
    return (float(lab[0]), float(lab[1]), float(lab[2]))


def shelf(order: Order) -> Iterable[Cloth]:
    """Return the cloth a quilt may be made with: the shelf and its own garments that serve as cloth."""
    return Cloth.objects.for_quilt(order).order_by("kind", "name")


def gives_of(order: Order, cloths: Iterable[Cloth]) -> dict[Any, str]:
    """Return which garment gives first to which part of a quilt, as far as it is still here."""
    here = {cloth.name for cloth in cloths}
    return {role: name for role, name in order.wish.get("gives", {}).items() if name in here}


def interfacing_behind(shirt: Shirt) -> str:
    """Return what has to go behind a garment before it is cut into strips; none where it is firm."""
    garment = garment_of(shirt)
    return interfacing_for(garment, heat_limit(garment))


def bolt_of(cloth: Cloth, shop: Shop) -> materials.Cloth:
    """Return a cloth as it is bought for this shop, nothing on hand: its end squared, washed or not."""
    price, added = cloth.price_minor, shop.shop_rules().allowances
    return materials.Cloth(
        id=cloth.name,
        kind=cloth.kind,
        usable=cloth.usable,
        step=cloth.step,
        price=Rate(price, shop.currency, cloth.price_per) if price is not None else None,
        directional=cloth.directional,
        lot=cloth.lot,
        fuse=interfacing_behind(cloth.garment) if cloth.garment else "none",
        squaring=added.squaring,
        shrinkage=added.shrinkage,
        width=cloth.width or 0,
    )


def cloth_of(cloth: Cloth, shop: Shop, *, order: Order) -> materials.Cloth:
    """Return a cloth as the planner sees it: what other orders have spoken for is not there."""
    return replace(bolt_of(cloth, shop), on_hand=free_sizes(cloth, order))


def free_sizes(cloth: Cloth, order: Order) -> tuple[Size, ...]:
    """Return the pieces on the shelf less what others have spoken for, taken off the longest first."""
    others = [each for each in cloth.reservations.all() if each.is_open and each.order_id != order.pk]
    spoken_for = sum(each.length for each in others)
    free = []
    for piece in sorted(cloth.pieces.all(), key=lambda each: -each.length):
        if piece.used_up_at is None:
            taken = min(spoken_for, piece.length)
            spoken_for -= taken
            if piece.length > taken:
                free.append(Size(piece.width, piece.length - taken))
    return tuple(free)


def wish_of(order: Order) -> Wish:
    """Return what the layout may be made of; where nothing was said, the usual of the trade."""
    said = order.wish
    width, height = order.width or 50 * INCH, order.height or 66 * INCH
    blocks = [Size(*each) for each in said.get("blocks", [])] or [
        Size(side, side) for side in _usual_blocks()
    ]
    sashings = [_sashing(each) for each in said.get("sashings", [{"width": 2 * INCH}, None])]
    return Wish(
        target=Size(width, height),
        tolerance=said.get("tolerance", 4 * INCH),
        blocks=tuple(blocks),
        sashings=tuple(sashings),
        margin=said.get("margin", INCH // 2),
        binding=Binding(bias=said.get("binding") == "bias"),
        cloth={role: name for role, name in order.cloth.items() if name},
        finish=tuple(each for each in FINISHES if each in said.get("finish", [])),
    )


def _usual_blocks() -> list[int]:
    return [12 * INCH, 14 * INCH, 15 * INCH]


def _sashing(said: dict[str, Any] | None) -> Sashing | None:
    if said is None:
        return None
    return Sashing(said["width"], said.get("outer", True), said.get("cornerstones", True))


@transaction.atomic
def lay_out_work(order: Order, minutes: Sequence[StageMinutes], *, by: Person | None) -> None:
    """Write the stages an order takes; what has begun keeps its minutes."""
    begun = {stage.kind: stage for stage in order.stages.all()}
    standard = standard_minutes({each.stage: each.minutes for each in minutes})
    for position, each in enumerate(minutes):
        stage = begun.get(each.stage)
        laid = {"position": position, "minutes": each.minutes, "standard": standard[each.stage]}
        if stage is None:
            Stage.objects.create(order=order, kind=each.stage, **laid)
        elif not (stage.started_at or stage.spent or stage.done_at):
            Stage.objects.filter(pk=stage.pk).update(**laid)
    Event.objects.note("work laid out", by=by, order=order, minutes=sum(each.minutes for each in minutes))


@transaction.atomic
def keep_blocks(order: Order, drawn: quilt.Quilt) -> None:
    """Keep a row for each block of a layout, so that its progress can be told."""
    pieces = {piece_id(piece): piece for shirt in shirts_of(order) for piece in shirt.pieces.all()}
    cells = {cell.id: cell for cell in drawn.cells}
    order.blocks.exclude(cell__in=cells).filter(progress=Block.Progress.PLANNED).delete()
    before = {block.cell: block for block in order.blocks.all()}
    is_cut = set(
        Cut.objects.filter(approved__piece__in=pieces.values(), approved__withdrawn_at=None).values_list(
            "approved__piece", flat=True
        )
    )
    for id, cell in cells.items():
        piece = pieces.get(cell.piece or "")
        # A block that gets another piece is as far on as that piece: cut, or not cut yet.
        progress = Block.Progress.CUT if piece and piece.pk in is_cut else Block.Progress.PLANNED
        if id not in before:
            Block.objects.create(order=order, cell=id, piece=piece, progress=progress)
        elif before[id].piece_id != (piece.pk if piece else None):
            Block.objects.filter(pk=before[id].pk).update(piece=piece, progress=progress, held="")


def day_of(answer_day: int, shop: Shop) -> date:
    """Return the date of a day of a plan made today."""
    return shop.today() + timedelta(days=answer_day)

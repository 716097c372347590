"""What stands on the papers about shirts and work."""

from __future__ import annotations

from typing import Any

from orders import planning
from orders.account.money import the_shop
from orders.bag.cropping import off_middle
from orders.bag.kinds import kind_of
from orders.models import Bag, Design, HeatTool, Order, Piece, Shirt
from planner.care import needs, show_heat
from planner.materials import ShirtCut, shirt_cuts
from planner.units import Sides

from .agreed import yes_facts
from .cover import cover_of
from .money import has_infant_clothes
from .saying import Saying, in_words

WASH = {
    "ready": "Clean, as it came", "wash": "To be washed", "twice": "To be washed twice",
    "apart": "To be washed apart", "professional": "For a professional to clean",
    "never": "Never to be washed",
}  # fmt: skip


def intake_facts(bag: Bag) -> dict[str, Any]:
    """Return what came in: who brought it, how many in words and figures, and each item."""
    shop = the_shop()
    say, order = Saying(shop), bag.orders.first()
    shirts = bag.shirts.exclude(state=Shirt.State.STRUCK).prefetch_related("pieces", "photos")
    return {
        "bag": bag.pk,
        "order": order.number if order else None,
        "title": order.title if order else "",
        "customer": bag.customer.name,
        "reach": bag.customer.reach,
        "address": bag.customer.address,
        "brought_by": bag.brought_by,
        "how": bag.get_how_display(),
        "on": say.day(shop.today()),
        "count": bag.count,
        "in_words": in_words(bag.count) if bag.count is not None else "",
        "washed": bag.washed_without_softener,
        "smoke": bag.smoke,
        "pets": bag.pets,
        "seen": [word for word in ("mold", "insects", "soiled") if getattr(bag, word)],
        "allergies": bag.allergies,
        "leftovers_back": bag.leftovers_back,
        "notes": bag.notes,
        "sacks": bag.sacks,
        "items": [_item(shirt) for shirt in shirts.order_by("number")],
        "yes": yes_facts(bag, say),
        "signed": [
            {"role": each.get_role_display(), "name": each.name, "strokes": each.strokes}
            for each in bag.signed
        ],
    }


def _item(shirt: Shirt) -> dict[str, Any]:
    photos = list(shirt.photos.all())
    return {
        "number": f"{shirt.number:02d}",
        "kind": shirt.kind,
        "garments": shirt.garments,
        "guest": shirt.guest,
        "found": shirt.found,
        "sides": ", ".join(piece.side for piece in shirt.pieces.all()),
        "flaws": shirt.flaws,
        "wash": WASH.get(shirt.wash, ""),
        "story": shirt.story,
        "photo": photos[0].pk if photos else None,
    }


def cut_list_facts(order: Order) -> dict[str, Any]:
    """Return the list of cuts in the order of the blocks, each with its picture, sizes and heat."""
    shop = the_shop()
    say, quilt = Saying(shop), _drawn(order)
    bag = planning.bag_of(order)
    pieces = {planning.piece_id(piece): piece for piece in _pieces(order)}
    cuts = shirt_cuts(quilt, bag, rough=shop.shop_rules().allowances.rough) if quilt else ()
    blocks = [_block(say, cut, pieces[cut.piece], bag) for cut in cuts if cut.piece in pieces]
    return {
        "order": order.number,
        "title": order.title,
        "on": say.day(shop.today()),
        "size": say.size(quilt.size) if quilt else "",
        "tool": HeatTool.objects.the_usual().name,
        "blocks": blocks,
        "approved": sum(block["has_yes"] for block in blocks),
    }


def _block(say: Saying, cut: ShirtCut, piece: Piece, bag: Any) -> dict[str, Any]:
    known = bag.piece(cut.piece)
    need = needs(bag.garment(known.garment), known)
    return {
        "block": cut.cell,
        "name": piece.full_name,
        "side": piece.side,
        "photo": piece.photo_id,
        "rough": say.size(cut.rough),
        "cut": say.size(cut.cut),
        "off_middle": off_middle(piece, say.shop.unit),
        "strips": _strips(say, cut.frame),
        "heat": show_heat(need.heat, unit="F" if say.shop.unit == "in" else "C"),
        "cover": need.cover,
        "face_down": need.side == "back",
        "interfacing": need.interfacing,
        "has_yes": any(each.withdrawn_at is None for each in piece.approvals.all()),
        "cautions": [*kind_of(piece.shirt.kind).cautions, *need.cautions],
    }


def _strips(say: Saying, frame: Sides) -> list[str]:
    named = {"top": frame.top, "right": frame.right, "bottom": frame.bottom, "left": frame.left}
    wide = {side: width for side, width in named.items() if width}
    if len(wide) == len(named) and len(set(wide.values())) == 1:
        return [f"all round {say.length(frame.top)}"]
    return [f"{side} {say.length(width)}" for side, width in wide.items()]


def _pieces(order: Order) -> list[Piece]:
    found = Piece.objects.filter(shirt__bag__orders=order).select_related("shirt", "order", "photo")
    return list(found.prefetch_related("approvals"))


def _drawn(order: Order) -> Any:
    design = Design.objects.filter(order=order).first()
    return design.quilt if design else None


def _in_the_quilt(order: Order) -> list[Shirt]:
    """The shirts that have a piece in the quilt; all that may come into it, before it is drawn."""
    shirts, quilt = list(planning.shirts_of(order)), _drawn(order)
    if quilt is None:
        return shirts
    placed = {cell.piece for cell in quilt.with_pieces()}
    return [shirt for shirt in shirts if placed & {planning.piece_id(each) for each in shirt.pieces.all()}]


def has_small_parts(order: Order) -> bool:
    """Say whether snaps or buttons came in, which may come loose."""
    return any("snaps" in flags for flags in order.bags.values_list("shirts__flags", flat=True) if flags)


def _spoken_for(order: Order) -> Any:
    return order.reservations.filter(let_go_at=None).select_related("cloth")


def care_facts(order: Order) -> dict[str, Any]:
    """Return how the quilt is washed and kept, and what it must not be used for."""
    shop = the_shop()
    shirts = _in_the_quilt(order)
    flags = {flag for shirt in shirts for flag in shirt.flags}
    fibres = sorted({name for shirt in shirts if shirt.label_read for name in shirt.fibres})
    return {
        "order": order.number,
        "title": order.title,
        "recipient": order.recipient,
        "year": shop.today().year,
        "maker": shop.name,
        "fibres": fibres,
        "batting": sorted({each.cloth.name for each in _spoken_for(order) if each.role == "batting"}),
        "label": order.label_words.splitlines(),
        "unwashable": "scent" in flags or any(shirt.wash == "never" for shirt in shirts),
        "bleeds": "bleeds" in flags,
        "infant": has_infant_clothes(order),
        "small_parts": "snaps" in flags,
        "flame_resistant": "flame-resistant" in flags,
        "cover": cover_of(order),
    }

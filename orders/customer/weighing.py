"""What a finished quilt weighs, by its layers: a guess for the parcel, until the closed box is weighed."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

from orders.models import Order, Shop
from orders.planning import piece_id, shirts_of
from orders.quilt.quilt_looks import quilt_of
from planner.materials import quilt_layers, quilt_weight
from planner.quilt import Cell, Quilt
from planner.units import round_exactly

POUND = Fraction("453.59237")  # grams, exactly: international pound of 1959 (NIST SP 811, appendix B)
OUNCES = 16
# What a garment is woven or knit of, where only its kind is known; the rest counts as tees do.
CLOTH_OF = {
    "sweatshirt": "sweatshirt", "hoodie": "sweatshirt", "fleece": "fleece", "jeans": "denim",
    "jersey": "performance", "performance": "performance", "shirt": "cotton", "dress": "cotton",
}  # fmt: skip
BEHIND = "light non-woven"


def weight_of(order: Order) -> int | None:
    """Return the grams of a drawn quilt by its layers, cotton backing and 80/20 batting; None undrawn."""
    drawn = quilt_of(order)
    if drawn is None:
        return None
    kinds = {piece_id(piece): shirt.kind for shirt in shirts_of(order) for piece in shirt.pieces.all()}
    return quilt_weight(
        quilt_layers(drawn.size, _top(drawn, kinds), backing="cotton", batting="80/20 batting")
    )


def _top(drawn: Quilt, kinds: dict[str, str]) -> dict[str, int]:
    """Return the area of each cloth in the top; what holds no piece of a garment is cotton."""
    areas: Counter[str] = Counter()
    for cell in _with_pieces(drawn.cells):
        cloth = CLOTH_OF.get(kinds.get(cell.piece or "", ""), "jersey")
        inner = (cell.at.width - cell.frame.left - cell.frame.right) * (
            cell.at.height - cell.frame.top - cell.frame.bottom
        )
        areas[cloth] += inner
        areas[BEHIND] += inner if cloth in ("jersey", "performance") else 0
    areas["cotton"] += drawn.size.area - sum(area for name, area in areas.items() if name != BEHIND)
    return dict(areas)


def _with_pieces(cells: tuple[Cell, ...]) -> list[Cell]:
    found = [cell for cell in cells if cell.piece]
    return found + [inner for cell in cells for inner in _with_pieces(cell.inside)]


def show_weight(grams: int, shop: Shop) -> str:
    """Return a weight as the shop's place tells it: `3 lb 4 oz`, or `1.48 kg`; to the ounce or ten grams."""
    if shop.unit != Shop.Unit.INCHES:
        whole, rest = divmod(round_exactly(Fraction(grams, 10)), 100)
        return f"{whole}.{rest:02d}\N{NO-BREAK SPACE}kg"
    ounces = round_exactly(grams / POUND * OUNCES)
    pounds, rest = divmod(ounces, OUNCES)
    return f"{pounds}\N{NO-BREAK SPACE}lb {rest}\N{NO-BREAK SPACE}oz"


def in_grams(typed: Fraction, shop: Shop) -> int:
    """Return pounds, or kilograms where cloth is bought by the meter, as whole grams, rounded half up."""
    return round_exactly(typed * (POUND if shop.unit == Shop.Unit.INCHES else 1000))

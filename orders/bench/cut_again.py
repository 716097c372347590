"""Of a block that holds several pieces, those that were cut again after the iron: the others are fused."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from orders.models import Block, Incident, Order
from orders.planning import piece_id

BEFORE_OR_AT_THE_IRON = ("", "cut", "fuse")
CutAgain = Mapping[tuple[int, str], frozenset[str]]


def cut_again_after_the_iron(orders: Iterable[Order]) -> CutAgain:
    """Return the names of such pieces by order and cell."""
    made = Incident.objects.filter(order__in=list(orders), outcome=Incident.Outcome.RECUT)
    late = made.exclude(stage__in=BEFORE_OR_AT_THE_IRON).exclude(piece=None).select_related("piece__shirt")
    found: dict[tuple[int, str], frozenset[str]] = {}
    for each in late:
        key = (each.order_id, each.cell)
        found[key] = found.get(key, frozenset()) | {piece_id(each.piece)}  # type: ignore[arg-type]
    return found


def waiting_in(block: Block, names: Sequence[str], again: CutAgain) -> list[str]:
    """Return the pieces of a block that wait at the iron: those cut again, or all where none was."""
    some = [name for name in names if name in again.get((block.order_id, block.cell), frozenset())]
    return some if some and block.progress == Block.Progress.CUT else list(names)

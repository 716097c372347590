"""What the bench room shows of a quilt that is being sewn: its pins and needles, its top as measured."""

from __future__ import annotations

from typing import Any

from orders.bench import needles, top_size
from orders.bench.bench import Bench
from orders.days.calendar import goes_out
from orders.forms.sewn import NeedlesForm, TopForm
from orders.models import Cloth, Order, Shop
from orders.planning import cloth_of, quilted_how
from planner.materials import backing_options
from planner.materials.cloth import Item, Ribbon
from planner.problems import Impossible
from planner.quilt import Quilt
from planner.units import Size, show_length


def shown(order: Order, lies: Bench, shop: Shop, cloths: list[Cloth]) -> dict[str, Any]:
    """Return the two cards, with their forms as they were last filled in."""
    kinds = {stage.kind: stage.done_at for stage in order.stages.all()}
    found, said = top_size.measured(order), needles.last_count(order)
    is_joined = bool(lies.items) and lies.joined == len(lies.items)
    return {
        "asks_for_needles": "finish" in kinds
        and not kinds["finish"]
        and _is_sewn(lies)
        and _done(kinds, "quilt"),
        "needles_said": said,
        "needles_lack": needles.why_not_finished(order) if said or _is_sewn(lies) else "",
        "needle_form": NeedlesForm(initial=vars(said[1]) if said else {}),
        "asks_for_top": lies.quilt is not None
        and (found is not None or (is_joined and not _done(kinds, "quilt"))),
        "top": found,
        "top_raw": _raw(lies.quilt) if lies.quilt else None,
        "top_whole": top_size.size_of(order, lies.quilt) if lies.quilt else None,
        "top_takes": _takes(order, lies, shop, cloths) if found and lies.quilt else [],
        "top_form": TopForm(unit=shop.unit, initial=order.top),
    }


def _done(kinds: dict[str, Any], kind: str) -> bool:
    """Say whether a stage is done, or is none of this order's."""
    return kind not in kinds or kinds[kind] is not None


def _is_sewn(lies: Bench) -> bool:
    return bool(lies.items) and lies.joined == len(lies.items)


def _raw(quilt: Quilt) -> Size:
    return quilt.field.size.grown(2 * quilt.seam)


def _takes(order: Order, lies: Bench, shop: Shop, cloths: list[Cloth]) -> list[tuple[str, str]]:
    """What borders, binding and backing come to on the top as it was sewn, each in words."""
    assert lies.quilt is not None
    given = shop.shop_rules().allowances
    items = top_size.parts_as_sewn(order, lies.quilt, given)
    found = [(item.name.capitalize(), _size(item, shop)) for each in items.values() for item in each]
    whole, overhang = top_size.size_of(order, lies.quilt), beyond(order, shop)
    back = lies.quilt.cloth.get("backing", "")
    backing = [cloth_of(cloth, shop, order=order) for cloth in cloths if cloth.name == back]
    found.append(("Backing, at least", _across(_grown(whole, overhang), shop)))
    found.append(("Batting, at least", _across(_grown(whole, given.batting_overhang), shop)))
    if backing:
        answer = backing_options(
            whole, backing, overhang=overhang, seam_loss=given.seam_loss, least_panel=given.least_panel
        )
        if not isinstance(answer, Impossible):
            best = answer[0]
            way = "in one piece" if best.panels == 1 else f"in {best.panels} panels"
            found.append(
                (f"Backing of {best.cloth}, {way}", show_length(best.length, unit=shop.unit, rounding="up"))
            )
    return found


def beyond(order: Order, shop: Shop) -> int:
    """Return how far the back goes beyond the top on each side, by how the quilt will be quilted."""
    rules = shop.shop_rules()
    out = rules.quilter is not None and goes_out(order, rules.quilter)
    return rules.allowances.back_beyond(quilted_how(order), goes_out=out)


def _grown(size: Size, overhang: int) -> Size:
    return Size(size.width + 2 * overhang, size.height + 2 * overhang)


def _size(item: Item, shop: Shop) -> str:
    if isinstance(item, Ribbon):
        return f"{_length(item.length, shop)} long, cut {_length(item.width, shop)} wide"
    return f"{item.count} of {_across(Size(item.across, item.along), shop)}"


def _across(size: Size, shop: Shop) -> str:
    return f"{_length(size.width, shop)} × {_length(size.height, shop)}"


def _length(ticks: int, shop: Shop) -> str:
    return show_length(ticks, unit=shop.unit, rounding="nearest").removeprefix("about ")

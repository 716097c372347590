"""What stands on the paper of cloth to cut: a picture a page, its key, its strips, boxes to tick by hand."""

from __future__ import annotations

import re
from typing import Any

from orders.account.money import the_shop
from orders.cloth.cutting import cutting_list
from orders.cloth.cutting_picture import sheet_of
from orders.models import Order
from orders.planning import shelf
from orders.quilt.blocks import drawn_quilt

from .saying import Saying

VIEW_BOX = re.compile(r'viewBox="0 0 ([\d.]+) ([\d.]+)"')
TALL = 1.5


def cloth_cuts_facts(order: Order) -> dict[str, Any]:
    """Return each cloth with its picture, drawn now: the shelf may lie otherwise when the paper is set."""
    shop, quilt = the_shop(), drawn_quilt(order)
    say = Saying(shop)
    cloths = cutting_list(quilt, shop, list(shelf(order)), order=order) if quilt else []
    return {
        "order": order.number,
        "title": order.title,
        "on": say.day(shop.today()),
        "cloths": [_cloth(cuts, say) for cuts in cloths],
    }


def _is_tall(picture: str) -> bool:
    """Say whether a picture is so much higher than wide that only a page of its own lets it be read."""
    found = VIEW_BOX.search(picture)
    return found is not None and float(found[2]) > TALL * float(found[1])


def _cloth(cuts: Any, say: Saying) -> dict[str, Any]:
    if cuts.plan is None:
        return {"cloth": cuts.cloth, "roles": list(cuts.roles), "why_none": cuts.why_none}
    sheet = sheet_of(cuts.facts, cuts.plan, unit=say.shop.unit)
    return {
        "cloth": cuts.cloth,
        "roles": list(cuts.roles),
        "picture": str(sheet.picture),
        "is_tall": _is_tall(str(sheet.picture)),
        "marks": [
            [each.letter, each.name, f"{say.length(each.across)} × {say.length(each.along)}", each.count]
            for each in sheet.marks
        ],
        "left": [f"{say.length(wide)} × {say.length(high)}" for wide, high in sheet.leftovers],
        "used": say.length(cuts.used),
        "buy": say.length(cuts.buy) if cuts.buy else "",
    }

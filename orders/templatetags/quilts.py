"""Quilts and cloth as pictures and in few words, for templates."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString

from orders.cloth.cloth_needs import Need
from orders.models import Cloth, Order, Piece
from orders.quilt import little_quilt as picture
from orders.quilt import quilt_looks
from orders.templatetags.shop import HARD_SPACE, cloth_length
from orders.templatetags.shop import _unbroken as unbroken
from orders.yes.yes_room import ToCut, finished_size
from planner.units import Size, show_length

register = template.Library()


@register.simple_tag
def little_quilt(order: Order) -> SafeString:
    """Draw the little quilt of an order; no query if it came from `Order.objects.with_little_quilt()`."""
    return quilt_looks.draw_of(order) or picture.draw_wish(
        quilt_looks.name_of(order), quilt_looks.wished_size(order), quilt_looks.shirts_of(order)
    )


@register.filter
def across_down(size: Size, shop: Any) -> str:
    """Return a finished size in full: `50 across, 66 down`."""
    return finished_size(size, shop.unit).replace(" cm", f"{HARD_SPACE}cm")


@register.filter
def print_size(piece: Piece) -> Size:
    return Size(piece.print_width, piece.print_height)


@register.filter
def on_shelf(ticks: int, shop: Any) -> str:
    """Return a length that lies on the shelf, in yards or meters to the nearest step."""
    shown = show_length(ticks, unit="yd" if shop.unit == "in" else "m", rounding="nearest")
    return unbroken(shown.removeprefix("about "))


@register.filter
def roles_of(need: Need, last: str = "") -> str:
    """Say which parts of the quilt a cloth is for: `sashing, binding`, or with a word before the last."""
    words = [{"cornerstone": "cornerstones", "frame": "strips"}.get(role, role) for role in need.roles]
    if last and len(words) > 1:
        return f"{', '.join(words[:-1])} {last} {words[-1]}"
    return ", ".join(words)


@register.filter
def to_buy(need: Need, shop: Any) -> str:
    return f"Buy{HARD_SPACE}{cloth_length(need.buy, shop)}"


@register.filter
def yes_count(to_cut: ToCut) -> str:
    """Say how many pieces have their yes: `Yes to 9 of 12`."""
    return f"Yes to {len(to_cut.covered)} of {to_cut.total}" if to_cut.total else "No piece to ask about"


@register.simple_tag
def dot(color: str) -> SafeString:
    """Draw a small round of a cloth's color; an empty ring where none is chosen."""
    fill = color or "none"
    return format_html(
        '<svg class="dot" viewBox="0 0 16 16" aria-hidden="true">'
        '<circle cx="8" cy="8" r="7" fill="{}"/></svg>',
        fill,
    )


@register.inclusion_tag("parts/swatch.html")
def swatch(cloth: Cloth) -> dict[str, Any]:
    """Show a cloth: its photographed swatch, or a pinked scrap of its color."""
    photo = cloth.swatch if cloth.swatch_id and cloth.swatch and cloth.swatch.is_ready else None
    return {"cloth": cloth, "photo": photo, "color": cloth.ground or picture.PLAIN}


@register.filter
def short_first(needs: Sequence[Need]) -> list[tuple[bool, list[Need]]]:
    """Part what is to be bought from what there is enough of, what is short first."""
    parted = [(True, [each for each in needs if each.buy]), (False, [each for each in needs if not each.buy])]
    return [(short, some) for short, some in parted if some]


@register.inclusion_tag("parts/bolt.html")
def bolt(need: Need) -> dict[str, Any]:
    """Draw a length of cloth: what is taken of what is here, and what is missing."""
    whole = max(need.length, need.here, 1)
    wide = 176
    taken = min(need.length, need.here) * wide // whole
    here = need.here * wide // whole
    lacks = max(need.length - need.here, 0) * wide // whole
    return {"taken": taken, "here": here, "lacks": lacks, "from_": 2 + here}

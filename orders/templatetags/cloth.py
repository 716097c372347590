"""Piles of folded shirts, and cloth in few words, for templates."""

from __future__ import annotations

from django import template
from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe

from orders.cloth.cloth_groups import Group

register = template.Library()

STEP, WIDE = 17, 106  # of one folded shirt
MOST = 12  # shirts drawn in one pile; the count beside it says how many there are
SHIFT = (0, 5, 2, 6, 1, 4)


@register.simple_tag
def folded(group: Group) -> SafeString:
    """Draw the shirts of a color group as they would lie folded, the darkest below."""
    colors = group.colors[:MOST]
    high = len(colors) * STEP + 6
    shirts = "".join(
        f'<g transform="translate({SHIFT[number % len(SHIFT)]} {high - 3 - (number + 1) * STEP})">'
        f'<path class="fold" d="M10 .5H96.500a3 3 0 0 1 3 3V14a3 3 0 0 1-3 3H10A8.250 8.250 0 0 1 10 .5z" '
        f'fill="{escape(color)}"/><path class="layer" d="M97 8.700H11M97 5H15M97 12.500H15"/></g>'
        for number, color in enumerate(colors)
    )
    return mark_safe(
        f'<svg class="pile" viewBox="0 0 {WIDE} {high}" aria-hidden="true">{shirts}'
        f'<path class="floor" d="M0 {high - 1.5}H{WIDE}"/></svg>'
    )

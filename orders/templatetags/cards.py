"""An order in a list of quilts: drawn from nothing but what it says, so that the same card is drawn once."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import lru_cache

from django import template
from django.conf import settings
from django.template.loader import render_to_string
from django.utils.safestring import SafeString

from orders.days.line_up import Card
from orders.templatetags.quilts import little_quilt

register = template.Library()


@dataclass(frozen=True)
class Said:
    """All that a card says."""

    number: int
    title: str
    place: str
    occasion: str
    discreet: str
    memorial: bool
    needed_by: date | None
    is_gone: bool
    is_planned: bool
    shape: str
    words: str
    minutes: int
    days: int | None
    bench_days: float
    shows_gauge: bool
    picture: SafeString


@register.simple_tag
def order_card(card: Card) -> SafeString:
    """Draw an order as the list shows it."""
    order = card.order
    said = Said(
        number=order.number,
        title=order.title,
        place=order.place,
        occasion=order.occasion,
        discreet=order.discreet,
        memorial=order.memorial,
        needed_by=order.needed_by,
        is_gone=order.handed_over_at is not None,
        is_planned=bool(order.stages.all()),
        shape=card.state.shape,
        words=card.state.words,
        minutes=card.left.minutes,
        days=card.left.days,
        bench_days=card.bench_days,
        shows_gauge=card.shows_gauge,
        picture=little_quilt(order),
    )
    return _drawn(said) if settings.DEBUG else _drawn_once(said)


def _drawn(said: Said) -> SafeString:
    return render_to_string("quilts/card.html", {"card": said})


_drawn_once = lru_cache(maxsize=500)(_drawn)

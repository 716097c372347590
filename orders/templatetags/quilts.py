"""Quilts as pictures, for templates."""

from __future__ import annotations

from django import template
from django.utils.safestring import SafeString

from orders import little_quilt as picture
from orders import quilt_looks
from orders.models import Order

register = template.Library()


@register.simple_tag
def little_quilt(order: Order) -> SafeString:
    """Draw the little quilt of an order that came from `Order.objects.with_little_quilt()`."""
    quilt = quilt_looks.quilt_of(order)
    if quilt is None:
        return picture.draw_wish(
            quilt_looks.name_of(order), quilt_looks.wished_size(order), quilt_looks.shirts_of(order)
        )
    return picture.draw(quilt, quilt_looks.look_of(order))

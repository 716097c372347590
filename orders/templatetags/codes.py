"""Codes that a phone's own camera reads."""

from __future__ import annotations

import io

import segno
from django import template
from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe

from orders.bag.finding import tag_of
from orders.models import Order, Piece, Shirt

register = template.Library()

QUIET = 4
"""Modules of white round a code, as ISO/IEC 18004 asks for."""


@register.simple_tag
def qr(address: str, words: str = "") -> SafeString:
    """Draw an address as a QR code that survives a pin hole (a quarter of it may be lost)."""
    out = io.BytesIO()
    segno.make_qr(address, error="q").save(
        out, kind="svg", xmldecl=False, svgns=True, omitsize=True, border=QUIET, title=words or None,
        svgclass="qr", lineclass=None, dark="#000",
    )  # fmt: skip
    return mark_safe(out.getvalue().decode())


@register.simple_tag
def tag_address(order: Order, of: Shirt | Piece) -> str:
    """Return where a tag of this shop leads to."""
    return reverse("find-code", args=[tag_of(order, of)])

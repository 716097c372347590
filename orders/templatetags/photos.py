"""A photo on a page, with its true proportions from the start, so that nothing jumps when it comes."""

from __future__ import annotations

from typing import Any

from django import template

from orders.models import Photo

register = template.Library()


@register.inclusion_tag("parts/photo.html")
def photo(of: Photo, size: int) -> dict[str, Any]:
    """Draw a photo at 320, 800 or 1600 pixels of its longer side, or a quiet drawing until it is made."""
    return shown(of, size)


def shown(of: Photo, size: int) -> dict[str, Any]:
    width, height = of.shape_at(size)
    return {"photo": of, "size": size, "width": width, "height": height}

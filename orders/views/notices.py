"""What a page says once, after something was done."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest


def tell(request: HttpRequest, sentence: str, *, undo: str = "") -> None:
    """Say the sentence on the next page; `undo` is an address that takes the deed back when posted to."""
    messages.info(request, sentence, extra_tags=undo)

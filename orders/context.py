"""What every page may speak of: the shop, and the day it is there."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.http import HttpRequest
from django.utils import timezone
from django.utils.functional import SimpleLazyObject

from orders.models import Shop


def shop(request: HttpRequest) -> dict[str, Any]:
    """Give templates `shop` (empty before it is set up) and `today`, each read only when it is shown."""
    the = SimpleLazyObject(Shop.objects.the)
    return {"shop": the, "today": SimpleLazyObject(lambda: _today(the))}


def _today(the: Any) -> date:
    return the.today() if the else timezone.now().date()

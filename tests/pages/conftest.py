"""What the tests of several pages ask for."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from django.core.cache import cache

from orders.models import Link


@pytest.fixture
def hers(client: Any, shop: Any, ada: Any) -> Callable[[Any], Any]:
    """Open the page of an order as its customer would; nobody has guessed at links yet."""
    cache.clear()

    def opened(order: Any) -> Any:
        _, token = Link.objects.give_out(order, until=shop.today() + timedelta(days=30), by=ada)
        client.get(f"/for-you/{token}/")
        return client

    return opened

"""A quilt on the shop's own frame stays on it: nobody waits where the shop has none."""

import pytest

from orders.bench.on_the_frame import why_not_on_it
from orders.days.frames import set_frames
from orders.models import Order
from tests.orders.workbench import draw

pytestmark = pytest.mark.django_db


@pytest.fixture
def two(order, twelve_shirts, shop, shelf, ada, aunt):
    draw(order, shop, ada)
    order.stages.get(kind="quilt").start(by=ada)
    return order, Order.objects.open(title="Another", customer=aunt, by=ada)


def test_the_frames_of_the_hours_hold_a_quilt_that_is_on_one(two, shop, ada):
    on_it, other = two
    assert why_not_on_it(other) == ""
    set_frames(shop, 1, by=ada)
    assert "is on the frame and stays on it" in why_not_on_it(other)
    assert why_not_on_it(on_it) == ""
    shop.refresh_from_db()
    set_frames(shop, 2, by=ada)
    assert why_not_on_it(other) == ""

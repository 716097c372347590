"""Cloth that is here but not in full: by when the rest is needed, and what if its dye lot is sold out."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from orders.cloth.cloth_buying import Buying, days_of_work, here_by
from orders.cloth.cloth_groups import pile_of
from orders.cloth.cloth_needs import needs_of
from orders.models import Cloth, Order
from orders.quilt.drawn import room_of
from planner.units import YARD

pytestmark = pytest.mark.django_db

MONDAY = date(2026, 3, 2)
DAYS = {
    "join": MONDAY + timedelta(days=4),
    "back": MONDAY + timedelta(days=2),
    "bind": MONDAY + timedelta(days=9),
}


def has(name, yards, **facts):
    """Leave so many yards of a cloth on the shelf."""
    cloth = Cloth.objects.get(name=name)
    cloth.pieces.all().delete()
    Cloth.objects.filter(pk=cloth.pk).update(**facts)
    if yards:
        cloth.put_on_shelf(int(yards * YARD), by=None)


def toppings_of(order, shop):
    room = room_of(Order.objects.get(pk=order.pk), shop)
    cloths = list(Cloth.objects.for_quilt(room.order))
    needs = needs_of(room.offer, room.order, cloths)
    return Buying(room.order, shop, room.quilt, cloths, pile_of(room.order).palettes).toppings(needs)


@pytest.mark.parametrize(
    ("roles", "by"),
    [
        (("sashing",), MONDAY + timedelta(days=3)),
        (("binding", "sashing"), MONDAY + timedelta(days=3)),
        (("binding",), MONDAY + timedelta(days=8)),
        (("backing",), MONDAY + timedelta(days=1)),
        (("batting",), None),
    ],
)
def test_cloth_is_here_the_day_before_the_first_work_that_takes_it(roles, by):
    assert here_by(roles, DAYS, MONDAY) == by


def test_what_is_wanted_tomorrow_or_was_yesterday_is_bought_today():
    assert here_by(("backing",), DAYS, MONDAY + timedelta(days=2)) == MONDAY + timedelta(days=2)
    assert here_by(("backing",), DAYS, MONDAY + timedelta(days=30)) == MONDAY + timedelta(days=30)


def test_before_the_price_has_its_yes_there_is_no_day(drawn, shop):
    has("Forest", 0.5)
    (topping,) = toppings_of(drawn, shop)
    assert (topping.by, topping.is_agreed) == (None, False)


def test_once_it_is_agreed_the_day_is_that_before_it_is_joined(agreed, shop):
    has("Forest", 0.5)
    (topping,) = toppings_of(agreed, shop)
    days = days_of_work(agreed, shop)
    assert topping.is_agreed
    assert topping.by == max(shop.today(), days["join"] - timedelta(days=1))


def test_cloth_of_which_nothing_is_here_has_no_lot_to_match(drawn, shop):
    has("Forest", 0)
    assert toppings_of(drawn, shop) == ()


def test_where_enough_is_here_without_the_binding_another_cloth_binds(drawn, shop):
    drawn.change(seen=drawn.version, cloth={"sashing": "Forest", "cornerstone": "Gold", "binding": "Forest"})
    has("Forest", 1.375, lot="62")
    has("Gold", 5)
    (topping,) = [each for each in toppings_of(drawn, shop) if each.need.cloth == "Forest"]
    assert topping.need.roles == ("sashing", "binding")
    assert topping.instead.startswith("bind with ")
    assert "Forest" not in topping.instead


def test_where_too_little_is_here_for_the_strips_alone_no_other_cloth_helps(drawn, shop):
    has("Forest", 0.25, lot="62")
    has("Gold", 5)
    (topping,) = [each for each in toppings_of(drawn, shop) if each.need.cloth == "Forest"]
    assert topping.instead == ""


def test_the_page_says_the_lot_the_day_and_what_else_would_do(client, ada, agreed, shop):
    has("Forest", 0.5, lot="62")
    client.force_login(ada)
    words = " ".join(client.get(f"/quilts/{agreed.number}/quilt/").content.decode().split())
    assert "of Forest by " in words
    assert "If lot 62 is sold out" in words
    assert "new, from one bolt" in words

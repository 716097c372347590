"""The shopping list over all quilts: on hand less spoken for, in whole steps, by when, once bought."""

from datetime import date, timedelta

import pytest

from orders.cloth import shopping
from orders.models import Cloth, Event, Order, Outside, Reservation
from planner.units import YARD
from tests.orders.workbench import draw

pytestmark = pytest.mark.django_db


@pytest.fixture
def forest(shelf):
    """Forest: three yards on hand, 12.00 a yard, sold by the eighth."""
    return Cloth.objects.get(name="Forest")


def speaks_for(order, cloth, length, role="sashing"):
    return Reservation.objects.create(order=order, cloth=cloth, role=role, length=length)


def test_what_lies_here_in_full_is_not_on_the_list(order, shop, forest):
    speaks_for(order, forest, 3 * YARD)
    assert shopping.shopping_list(shop).lines == ()


def test_on_hand_less_spoken_for_is_bought_in_whole_steps_at_its_price(order, aunt, shop, forest, ada):
    """Worked by hand: 2 yd + 1 1/2 yd − 3 yd on hand = 1/2 yd and a tick, so 5/8 yd at 12.00 = 7.50."""
    other = Order.objects.open(title="Another", customer=aunt, by=ada)
    speaks_for(order, forest, 2 * YARD)
    speaks_for(other, forest, 3 * YARD // 2 + 1, role="binding")
    line = shopping.shopping_list(shop).lines[0]
    assert (line.cloth.name, line.buy, line.cost.minor) == ("Forest", 5 * YARD // 8, 750)
    assert [(each.order, each.roles) for each in line.wanted] == [
        (order, ("sashing",)),
        (other, ("binding",)),
    ]


def test_a_cloth_without_a_price_is_on_the_list_without_a_cost(order, shop, forest):
    Cloth.objects.filter(pk=forest.pk).update(price="")
    speaks_for(order, forest, 4 * YARD)
    found = shopping.shopping_list(shop)
    assert (found.lines[0].cost, found.total) == (None, None)
    assert found.lines[0].buy == YARD


def test_what_was_cut_or_let_go_asks_for_nothing(order, shop, forest):
    speaks_for(order, forest, 9 * YARD).delete()
    assert shopping.shopping_list(shop).lines == ()


def test_the_cloth_is_wanted_the_day_before_its_first_work(order, twelve_shirts, shop, forest, ada):
    draw(order, shop, ada)
    speaks_for(order, forest, 4 * YARD, role="sashing")
    line = shopping.shopping_list(shop).lines[0]
    days = shopping._days_of_work(shop)[str(order)]
    assert line.by == min(
        days.get("make up", date.max), days["join"] if "make up" not in days else date.max
    ) - timedelta(1)


def test_without_a_supplier_two_weeks_are_kept_and_no_day_lies_in_the_past():
    today = date(2027, 3, 1)
    assert shopping.last_safe_day(date(2027, 4, 1), (), today=today) == date(2027, 3, 18)
    assert shopping.last_safe_day(date(2027, 3, 5), (), today=today) == today


def test_a_supplier_that_is_closed_moves_the_last_safe_day(db):
    mill = Outside(kind="supplier", name="The mill", lead_days=5, transit_days=2)
    today, by = date(2027, 3, 1), date(2027, 4, 1)
    free = shopping.last_safe_day(by, [mill], today=today)
    assert mill.back_by(free) <= by < mill.back_by(free + timedelta(1))
    mill.closed = [["2027-03-25", "2027-03-31"]]
    assert shopping.last_safe_day(by, [mill], today=today) < free


def test_bought_puts_it_on_the_shelf_once_for_those_who_wait(order, shop, forest, ada):
    speaks_for(order, forest, 4 * YARD)
    for _ in range(2):
        shopping.bought(forest, YARD, by=ada, client_id="till-1")
    fresh = Cloth.objects.with_pieces().get(pk=forest.pk)
    assert (fresh.on_hand, fresh.left) == (4 * YARD, 0)
    assert shopping.shopping_list(shop).lines == ()
    assert Event.objects.filter(what="cloth bought").count() == 1


def test_another_dye_lot_says_so_on_its_piece(order, shop, forest, ada):
    Cloth.objects.filter(pk=forest.pk).update(lot="K7")
    shopping.bought(forest, YARD, by=ada, client_id="till-1", lot="M2")
    assert forest.pieces.get(length=YARD).part == "lot M2"
    assert Cloth.objects.get(pk=forest.pk).lot == "K7"

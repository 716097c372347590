"""The shopping list over all quilts: on hand less spoken for, in whole steps, by when, once bought."""

from datetime import date, timedelta

import pytest
from django.utils import timezone

from orders.background import errands
from orders.cloth import shopping, takes
from orders.cloth.cloth_needs import needs_of, set_aside
from orders.cloth.off_the_shelf import NEW, Laid
from orders.cloth.wanted import Wanted, shared
from orders.models import Cloth, Errand, Event, Order, Outside, Reservation
from orders.quilt import layouts
from orders.quilt.drawn import room_of
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


def bought_or_not(shop):
    return {line.cloth.name: line for line in shopping.shopping_list(shop).lines}


def runs_short(cloth, left=YARD // 8):
    cloth.pieces.update(length=left)


def test_an_agreed_quilt_is_on_the_list_though_nothing_was_set_aside(agreed, shop, forest):
    runs_short(forest)
    assert agreed in shopping.shopping_list(shop).being_reckoned
    errands.run_due()
    need = next(each for each in needs_of_now(agreed, shop) if each.cloth == "Forest")
    line = bought_or_not(shop)["Forest"]
    assert (line.spoken_for, line.here, line.buy) == (need.length, YARD // 8, need.buy)
    assert [(each.order, each.set_aside) for each in line.wanted] == [(agreed, 0)]
    assert shopping.shopping_list(shop).being_reckoned == ()


def needs_of_now(order, shop):
    return needs_of(room_of(order, shop).offer, order, Cloth.objects.for_quilt(order))


def test_setting_aside_changes_nothing_of_what_is_to_be_bought(agreed, shop, forest, ada):
    runs_short(forest)
    takes.ask(agreed, shop)
    errands.run_due()
    before = bought_or_not(shop)["Forest"]
    set_aside(agreed, needs_of_now(agreed, shop), by=ada)
    after = bought_or_not(shop)["Forest"]
    assert (after.buy, after.spoken_for) == (before.buy, before.spoken_for)
    assert after.wanted[0].set_aside == after.wanted[0].length


def test_a_layout_that_is_not_agreed_takes_nothing_yet(drawn, shop, forest):
    runs_short(forest)
    found = shopping.shopping_list(shop)
    assert (found.lines, found.being_reckoned) == ((), ())


def test_another_cloth_is_reckoned_anew_and_what_was_known_is_shown_meanwhile(agreed, shop, forest, ada):
    runs_short(forest)
    takes.ask(agreed, shop)
    errands.run_due()
    layouts.dress(agreed, {"binding": "Gold"}, "Gold for binding", version=agreed.version, by=ada)
    meanwhile = shopping.shopping_list(shop)
    assert meanwhile.being_reckoned == (agreed,)
    assert "Forest" in {line.cloth.name for line in meanwhile.lines}
    before = bought_or_not(shop)["Forest"].spoken_for
    errands.run_due()
    assert bought_or_not(shop)["Forest"].spoken_for < before
    assert Errand.objects.filter(kind=takes.KIND).count() == 1


@pytest.mark.parametrize("how", ["written as cut", "its work is done", "handed over", "cancelled"])
def test_what_is_cut_used_or_gone_is_not_bought_again(agreed, shop, forest, ada, how):
    runs_short(forest)
    takes.ask(agreed, shop)
    errands.run_due()
    set_aside(agreed, needs_of_now(agreed, shop), by=ada)
    assert "Forest" in bought_or_not(shop)
    if how == "written as cut":
        Event.objects.note("cloth cut", by=ada, order=agreed, cloth="Forest", roles=["sashing"])
        agreed.reservations.filter(cloth=forest).update(cut_at=timezone.now())
    elif how == "its work is done":
        agreed.stages.filter(kind__in=["make up", "join"]).update(done_at=timezone.now())
    elif how == "handed over":
        agreed.hand_over("the aunt", by=ada)
    else:
        agreed.cancel(by=ada)
    assert "Forest" not in bought_or_not(shop)


def test_what_was_set_aside_for_work_that_is_done_does_not_lie_here_for_others(
    agreed, aunt, shop, forest, ada
):
    """By hand: 3 yd on the shelf, 2 of them went into the top; 2 more for another quilt: 1 yd to buy."""
    other = Order.objects.open(title="Another", customer=aunt, by=ada)
    speaks_for(agreed, forest, 2 * YARD)
    agreed.stages.filter(kind__in=["make up", "join"]).update(done_at=timezone.now())
    speaks_for(other, forest, 2 * YARD)
    line = bought_or_not(shop)["Forest"]
    assert (line.here, line.spoken_for, line.buy) == (YARD, 2 * YARD, YARD)


def test_what_is_bought_is_set_aside_for_the_agreed_quilts_that_wait(agreed, shop, forest, ada):
    runs_short(forest)
    takes.ask(agreed, shop)
    errands.run_due()
    line = bought_or_not(shop)["Forest"]
    shopping.bought(forest, line.buy, by=ada, client_id="till-1")
    mine = agreed.reservations.filter(cloth=forest)
    assert [each.length for each in mine] == [line.spoken_for]
    assert "Forest" not in bought_or_not(shop)


def test_a_panel_cut_again_is_wanted_beside_what_the_layout_takes(agreed, shop, ada):
    roll = Cloth.objects.get(name="Light non-woven")
    runs_short(roll, 1)
    takes.ask(agreed, shop)
    errands.run_due()
    before = bought_or_not(shop)["Light non-woven"].spoken_for
    speaks_for(agreed, roll, YARD // 2, role=Reservation.AGAIN)
    set_aside(agreed, needs_of_now(agreed, shop), by=ada)
    assert bought_or_not(shop)["Light non-woven"].spoken_for == before + YARD // 2


def test_a_quilt_that_nothing_on_the_shelf_serves_is_named(agreed, shop):
    Cloth.objects.update(put_away_at=timezone.now())
    Order.objects.update(cloth={})
    takes.ask(agreed, shop)
    errands.run_due()
    assert shopping.shopping_list(shop).unserved in ((agreed,), ())


def test_two_agreed_quilts_never_share_a_remnant_that_holds_only_one():
    """By hand: 1 yd here; each takes ¾ yd. The first cuts it from the yard, the second is all new: ¾ yd."""
    first, second = (Order(number=number, pk=number) for number in (1, 2))
    laid = Laid(((NEW, 3 * YARD // 4),))
    each = [Wanted(one, ("binding",), 3 * YARD // 4, 0, laid=laid) for one in (first, second)]
    assert [one.new for one in shared(each, [YARD])] == [0, 3 * YARD // 4]

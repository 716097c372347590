"""The ways to take an order: their prices and days, told one by one, and what choosing one changes."""

from datetime import date, timedelta
from decimal import Decimal

import pytest

from orders.account import quoting, ways_to_take
from orders.account.chosen_way import choose, way_of
from orders.background import errands
from orders.models import Errand, Event, Order, Stage

pytestmark = pytest.mark.django_db


@pytest.fixture
def hasty(taxed):
    """Return the shop with 25 % on top for a rush and a quilter outside for what is over 80 in."""
    taxed.rules["terms"]["rush"] = "0.25"
    taxed.rules["quilter"] = {"over": "80 in", "rate": {"rate": "0.02", "per": "in2"}, "days": 14,
                              "minutes": 30, "least": None}  # fmt: skip
    taxed.save(update_fields=["rules"])
    return taxed


def found(order, shop):
    ways_to_take.look(order, shop)
    errands.run_due()
    return {way["key"]: way for way in ways_to_take.search_of(order, shop).payload["ways"]}


@pytest.fixture
def drawn_order(drawn, hasty):
    return drawn


def test_each_way_has_its_price_and_its_day(drawn_order, hasty):
    ways = found(drawn_order, hasty)
    assert {"place", "rush", "outside"} <= ways.keys()
    place, rush, outside = ways["place"], ways["rush"], ways["outside"]
    assert Decimal(rush["net"]) / place["net"] == Decimal("1.25")
    assert outside["hour"] != place["hour"]
    days = {name: date.fromisoformat(ways[name]["fits"]) for name in ("place", "rush", "outside")}
    assert days["rush"] <= days["place"] < days["outside"]
    assert all(way["not_before"] <= way["fits"] for way in ways.values())
    assert place["undisturbed"] >= place["fits"]


def test_asking_twice_looks_once_and_a_new_day_looks_again(drawn_order, hasty):
    first = ways_to_take.look(drawn_order, hasty)
    assert ways_to_take.look(drawn_order, hasty).pk == first.pk
    drawn_order.needed_by += timedelta(days=20)
    drawn_order.save()
    assert ways_to_take.search_of(drawn_order, hasty) is None
    assert ways_to_take.look(drawn_order, hasty).pk != first.pk


def test_what_was_found_before_the_work_changed_is_looked_for_again(drawn_order, hasty, aunt, ada):
    assert found(drawn_order, hasty)
    before = ways_to_take.search_of(drawn_order, hasty)
    other = Order.objects.open(title="Another", customer=aunt, by=ada, needed_by=None)
    Stage.objects.create(order=other, kind="bind", position=0, minutes=30)
    assert ways_to_take.search_of(drawn_order, hasty) is None
    again = ways_to_take.look(drawn_order, hasty)
    assert (again.pk == before.pk, again.is_open) == (False, True)
    errands.run_due()
    assert ways_to_take.search_of(drawn_order, hasty).pk == again.pk


def test_a_look_that_is_stopped_or_under_way_has_not_proved_the_day(drawn_order, hasty):
    def state():
        return quoting.prospect(drawn_order, hasty).longer.state

    assert state() == "not begun"
    search = ways_to_take.look(drawn_order, hasty)
    assert state() == "under way"
    search.ask_to_stop()
    assert state() == "halted"
    ways_to_take.look(drawn_order, hasty)
    errands.run_due()
    assert state() == "over"


def test_a_day_that_is_too_soon_offers_the_quilt_later_with_a_card(drawn_order, hasty):
    drawn_order.needed_by = hasty.today() + timedelta(days=3)
    drawn_order.save()
    ways = found(drawn_order, hasty)
    assert ways["later"]["fits"] > drawn_order.needed_by.isoformat()
    assert "card" in ways["later"]["words"]


def test_only_a_rush_costs_the_rush(drawn_order, hasty, ada):
    plain = quoting.prospect(drawn_order, hasty).pricing.net.minor
    choose(drawn_order, "rush", by=ada)
    choose(drawn_order, "rush", by=ada)
    assert Event.objects.filter(what="way chosen").count() == 1
    assert Decimal(quoting.prospect(drawn_order, hasty).pricing.net.minor) / plain == Decimal("1.25")
    choose(drawn_order, "nonsense", by=ada)
    assert way_of(drawn_order) == "rush"


def test_the_quilter_outside_is_in_the_day_of_the_quote(drawn_order, hasty, ada):
    here = quoting.prospect(drawn_order, hasty)
    choose(drawn_order, "outside", by=ada)
    there = quoting.prospect(drawn_order, hasty)
    assert there.fits_by >= here.fits_by + timedelta(days=10)
    assert there.costs.outside.minor > here.costs.outside.minor == 0


def test_a_rush_uses_the_days_kept_free_before_others_and_never_their_day(drawn_order, hasty, aunt, ada):
    other = Order.objects.open(
        title="Another", customer=aunt, by=ada, needed_by=hasty.today() + timedelta(days=9)
    )
    Stage.objects.create(order=other, kind="bind", position=0, minutes=1500)
    ways = found(drawn_order, hasty)
    assert ways["rush"]["fits"] <= ways["place"]["fits"]


def test_an_order_changed_meanwhile_is_told(drawn_order, hasty):
    ways_to_take.look(drawn_order, hasty)
    drawn_order.cushion_days = 9
    drawn_order.save()
    errands.run_due()
    last = Errand.objects.get(kind=ways_to_take.KIND)
    assert last.state == "failed"
    assert "changed meanwhile" in last.outcome


def test_the_quote_carries_a_sooner_day_found_by_looking_longer(drawn_order, hasty, aunt, ada):
    at_once = quoting.prospect(drawn_order, hasty).fits_by
    found(drawn_order, hasty)
    search = ways_to_take.search_of(drawn_order, hasty)
    sooner = at_once - timedelta(days=1)
    search.payload["ways"][0] |= {"fits": sooner.isoformat(), "not_before": sooner.isoformat()}
    search.save()
    assert quoting.prospect(drawn_order, hasty).fits_by == sooner
    other = Order.objects.open(title="Another", customer=aunt, by=ada, needed_by=None)
    Stage.objects.create(order=other, kind="bind", position=0, minutes=30)
    assert quoting.prospect(drawn_order, hasty).longer.found is None
    assert quoting.prospect(drawn_order, hasty).fits_by >= at_once

"""A quilt leaves when the money, the count and the pins are in order, or the reason is written down."""

from __future__ import annotations

from dataclasses import replace

import pytest

from orders.account import money
from orders.customer import handing_over
from orders.customer.handing_over import Answers
from orders.models import Bag, Consent, Event, Order, Shirt, cut
from tests.cast import add_shirt

pytestmark = pytest.mark.django_db
READY = Answers(to="An aunt of Ferncliff", leftovers="returned", needles=True, why_unpaid="A funeral")


@pytest.fixture
def sewn(agreed, twelve_shirts, ada):
    """Return the order with all twelve shirts cut."""
    pieces = [shirt.pieces.get() for shirt in twelve_shirts]
    Consent.objects.to_cut(agreed, pieces, said_by="the mother", how="phone", by=ada)
    cut(pieces, by=ada)
    return agreed


@pytest.fixture
def paid(sewn):
    money.take_payment(sewn, minor=50076, payer=sewn.customer, method="card", key="all", by=None)
    return sewn


def faults(order, answers, by):
    with pytest.raises(handing_over.NotYet) as refused:
        handing_over.hand_over(order, answers, by=by)
    order.refresh_from_db()
    assert order.handed_over_at is None
    return refused.value.faults


def test_paid_counted_and_searched_for_pins_it_leaves_with_its_leftovers(paid, ada):
    handing_over.hand_over(paid, replace(READY, why_unpaid=""), by=ada)
    assert (paid.handed_to, paid.bags.get().handed_back_at is not None) == ("An aunt of Ferncliff", True)
    assert not Shirt.objects.exclude(leftovers="returned").exists()
    assert Event.objects.filter(order=paid, what="handed over").count() == 1


def test_handed_over_twice_is_once(paid, ada):
    for _ in range(2):
        handing_over.hand_over(paid, READY, by=ada)
    assert Event.objects.filter(order=paid, what="handed over").count() == 1


def test_an_open_balance_is_named_and_stops_it_without_a_reason(sewn, ada):
    assert "$500.76 is open" in faults(sewn, replace(READY, why_unpaid=""), ada)["why_unpaid"]
    handing_over.hand_over(sewn, READY, by=ada)
    event = Event.objects.get(order=sewn, what="handed over")
    assert event.facts["why_unpaid"] == "A funeral"
    assert money.owing_of(sewn).balance == 50076


def test_somebody_who_is_not_on_the_order_is_a_stop_until_the_reason_is_written(paid, ada):
    stranger = replace(READY, to="Her partner")
    assert "not on this order" in faults(paid, stranger, ada)["why_them"]
    handing_over.hand_over(paid, replace(stranger, why_them="She rang and named him"), by=ada)
    assert paid.handed_to == "Her partner"


def test_leftovers_that_are_still_here_are_named(paid, ada):
    said = faults(paid, replace(READY, leftovers=""), ada)
    assert "01, 02, 03" in said["leftovers"]


def test_leftovers_are_thrown_away_only_with_leave_and_it_is_kept_whose(paid, ada):
    assert "who gave leave" in faults(paid, replace(READY, leftovers="discarded"), ada)["leave_by"]
    answers = replace(READY, leftovers="discarded", leave_by="the mother", leave_how="phone")
    handing_over.hand_over(paid, answers, by=ada)
    consent = Consent.objects.get(kind="discard")
    assert (consent.said_by, consent.how) == ("the mother", "phone")
    assert set(Shirt.objects.values_list("consent", flat=True)) == {consent.pk}


def test_a_whole_shirt_that_is_still_here_is_named_and_goes_back_when_it_is_ticked(paid, ada):
    add_shirt(paid.bags.get(), 13)
    Bag.objects.update(count=13)
    assert "13" in faults(paid, READY, ada)["whole"]
    handing_over.hand_over(paid, replace(READY, whole=True), by=ada)
    assert Shirt.objects.get(number=13).state == "returned"
    assert paid.bags.get().tally().adds_up


def test_a_missing_shirt_is_a_stop_that_no_tick_overcomes(paid, ada):
    add_shirt(paid.bags.get(), 13).miss(by=ada)
    Bag.objects.update(count=13)
    assert "Missing: 13" in faults(paid, replace(READY, whole=True), ada)["whole"]


def test_a_shirt_counted_at_the_door_and_never_logged_is_a_stop(paid, ada):
    Bag.objects.update(count=13)
    assert "1 shirt was counted" in faults(paid, replace(READY, whole=True), ada)["whole"]


def test_pins_and_needles_are_counted_out_first(paid, ada):
    assert "pins and needles" in faults(paid, replace(READY, needles=False), ada)["needles"]


def test_what_another_order_still_works_from_stays_in_its_bag(paid, ada):
    bag = paid.bags.get()
    other = Order.objects.open(title="The pillow", customer=paid.customer, by=ada)
    other.bags.add(bag)
    theirs = add_shirt(bag, 13)
    theirs.pieces.update(order=other)
    Bag.objects.update(count=13)
    ours = Shirt.objects.filter(bag=bag, number__lte=12)
    for shirt in ours:
        shirt.pieces.update(order=paid)
    assert handing_over.checklist(paid).whole == ()
    handing_over.hand_over(paid, READY, by=ada)
    theirs.refresh_from_db()
    bag.refresh_from_db()
    assert (theirs.state, bag.handed_back_at) == ("in work", None)


def test_an_order_that_was_called_off_does_not_leave_as_a_quilt(paid, ada):
    paid.cancel(by=ada)
    assert "called off" in faults(paid, READY, ada)["to"]

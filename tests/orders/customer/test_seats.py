"""Whose link it is decides what it shows: reckoned from the names on the order."""

from __future__ import annotations

from datetime import timedelta

import pytest

from orders.customer import people
from orders.customer.people import is_kept_from, seat_of
from orders.models import Customer, Event, Payer

pytestmark = pytest.mark.django_db
AUNT = "An aunt of Ferncliff"


def seat(order, name, payers=((1, AUNT, 1, 0),)):
    return seat_of(order, name, payers)


def test_whoever_ordered_it_pays_and_decides_until_others_are_named(order):
    for name in ("", AUNT, " an AUNT of ferncliff "):
        hers = seat(order, name)
        assert (hers.pays, hers.decides, hers.sees_the_quilt, hers.pays_a_part) == (True, True, True, False)


def test_a_payer_who_does_not_decide_and_one_who_decides_and_does_not_pay(order):
    order.approver = "The mother"
    aunt, mother = seat(order, AUNT), seat(order, "the mother")
    assert (aunt.pays, aunt.decides) == (True, False)
    assert (mother.pays, mother.decides, mother.sees_money) == (False, True, False)


def test_whoever_collects_it_is_shown_nothing_of_the_quilt(order):
    order.collector = "A neighbor"
    assert not seat(order, "A neighbor").sees_the_quilt
    assert not seat(order, "A neighbor").sees_money


def test_a_surprise_is_kept_from_whoever_gets_it_until_its_day(order, shop):
    order.recipient, order.secret_until = "The graduate", shop.today() + timedelta(days=3)
    graduate = seat(order, "The graduate")
    assert is_kept_from(order, graduate, on=shop.today())
    assert not is_kept_from(order, graduate, on=order.secret_until)
    assert not is_kept_from(order, seat(order, AUNT), on=shop.today())


def test_whoever_pays_for_her_own_quilt_is_no_surprise_to_herself(order, shop):
    order.recipient, order.secret_until = AUNT, shop.today() + timedelta(days=3)
    assert not is_kept_from(order, seat(order, AUNT), on=shop.today())


def test_everybody_on_it_is_named_once_the_customer_first(order, aunt):
    order.recipient, order.collector = "The graduate", "AN aunt of Ferncliff"
    Payer.objects.create(order=order, customer=Customer.objects.create(name="An uncle"), share=1)
    assert people.names_on(order) == [AUNT, "An uncle", "The graduate"]


def test_what_is_written_down_is_kept_once_with_who_wrote_it(order, ada):
    for _ in range(2):
        people.write_down(order, by=ada, recipient="The graduate", label_words="For you", collector="")
    order.refresh_from_db()
    assert (order.recipient, order.label_words, order.label_by) == ("The graduate", "For you", "Ada")
    assert Event.objects.filter(what="people written down").count() == 1

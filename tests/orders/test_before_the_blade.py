"""What keeps the blade away: a yes taken back, another order, a shirt that left, a look that lacks."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from django.db import IntegrityError, transaction

from orders.demo.clock import standing_at
from orders.models import (
    ApprovedPiece,
    CannotAgree,
    Consent,
    Cut,
    NotHere,
    NotLookedAtTwice,
    NoYes,
    Order,
    Piece,
    Shirt,
    cut,
)  # fmt: skip
from orders.yes import yes_to_cut
from tests.orders.yeses import AUNT, NOON, ask_singly, aunt_says, other_order, piece, pieces, standing

pytestmark = pytest.mark.django_db


@pytest.fixture
def bag(order, twelve_shirts):
    return order


def test_a_withdrawn_yes_marks_and_deletes_nothing_and_a_cut_stays(bag, ada):
    consent = yes_to_cut.say_for_pile(bag, pieces(7, 8), aunt_says(), by=ada)
    cut([piece(7)], by=ada)
    assert consent is not None
    consent.withdraw(by=ada)
    assert standing() == ["07F"]
    assert ApprovedPiece.objects.count() == 2
    with pytest.raises(NoYes):
        cut([piece(8)], by=ada)
    assert Cut.objects.count() == 1


def test_one_piece_is_taken_back_and_the_others_stay(bag, ada):
    yes_to_cut.say_for_pile(bag, pieces(7, 8), aunt_says(), by=ada)
    assert yes_to_cut.take_back_piece(bag, piece(7), by=ada)
    assert not yes_to_cut.take_back_piece(bag, piece(7), by=ada)
    assert standing() == ["08F"]


def test_a_cut_is_not_taken_back_with_its_yes(bag, ada):
    yes_to_cut.say_for_pile(bag, pieces(7), aunt_says(), by=ada)
    cut([piece(7)], by=ada)
    assert not yes_to_cut.take_back_piece(bag, piece(7), by=ada)


def test_a_piece_in_two_orders_gets_one_yes(bag, ada):
    other = other_order(bag, ada)
    yes_to_cut.say_for_pile(bag, pieces(7), aunt_says(), by=ada)
    with pytest.raises(CannotAgree, match=f"07F goes into No. {bag.number} The aunt’s surprise"):
        yes_to_cut.say_for_pile(other, pieces(7), aunt_says(), by=ada)
    assert ApprovedPiece.objects.get().order == bag
    assert Consent.objects.count() == 1


def test_the_layout_that_has_the_piece_decides_which_order_may_ask(bag, ada):
    other = other_order(bag, ada)
    yes_to_cut.say_for_pile(bag, pieces(7), aunt_says(), by=ada)
    Piece.objects.filter(shirt__number=7).update(order=other)
    with pytest.raises(NoYes):
        cut([piece(7)], by=ada)
    yes_to_cut.say_for_pile(other, pieces(7), aunt_says(), by=ada)
    with pytest.raises(CannotAgree):
        yes_to_cut.say_for_pile(bag, pieces(7), aunt_says(), by=ada)
    assert ApprovedPiece.objects.standing().get().order == other


def test_a_piece_that_is_cut_stays_with_the_order_it_was_cut_for(bag, ada):
    other = other_order(bag, ada)
    yes_to_cut.say_for_pile(bag, pieces(7), aunt_says(), by=ada)
    cut([piece(7)], by=ada)
    Piece.objects.filter(shirt__number=7).update(order=other)
    with pytest.raises(CannotAgree):
        yes_to_cut.say_for_pile(other, pieces(7), aunt_says(), by=ada)


@pytest.mark.parametrize("what", ["returned", "missing"])
def test_a_shirt_that_is_not_here_is_not_cut(bag, ada, what):
    yes_to_cut.say_for_pile(bag, pieces(7), aunt_says(), by=ada)
    shirt = Shirt.objects.get(number=7)
    shirt.give_back(by=ada) if what == "returned" else shirt.miss(by=ada)
    with pytest.raises(NotHere):
        cut([piece(7)], by=ada)
    assert Shirt.objects.get(number=7).state == what


def test_nothing_is_cut_for_an_order_that_is_called_off(bag, ada):
    yes_to_cut.say_for_pile(bag, pieces(7), aunt_says(), by=ada)
    bag.cancel(by=ada)
    with pytest.raises(NotHere):
        cut([piece(7)], by=ada)


def memorial(bag: Order, by: Any) -> None:
    Order.objects.filter(pk=bag.pk).update(memorial=True)
    bag.refresh_from_db()
    yes_to_cut.say_for_pile(bag, pieces(7), aunt_says(), by=by)


def test_a_memorial_is_looked_at_twice_by_two(bag, ada, bo):
    memorial(bag, ada)
    with pytest.raises(NotLookedAtTwice, match="wants a second look"):
        cut([piece(7)], by=ada)
    yes_to_cut.look(bag, piece(7), by=ada)
    with pytest.raises(NotLookedAtTwice):
        cut([piece(7)], by=ada)
    yes_to_cut.look(bag, piece(7), by=bo)
    assert len(cut([piece(7)], by=ada)) == 1


@pytest.mark.parametrize(
    ("first", "second", "is_enough"),
    [
        ("2027-06-12T16:00", "2027-06-12T23:00", False),  # the same day
        ("2027-06-13T03:30", "2027-06-13T04:30", False),  # over midnight, and no night between
        ("2027-06-13T02:00", "2027-06-13T12:00", True),
    ],
)
def test_the_same_person_looks_again_after_a_night(bag, ada, first, second, is_enough):
    memorial(bag, ada)
    for moment in (first, second):
        with standing_at(datetime.fromisoformat(moment).replace(tzinfo=UTC)):
            yes_to_cut.look(bag, piece(7), by=ada)
            yes_to_cut.look(bag, piece(7), by=ada)
    if is_enough:
        assert cut([piece(7)], by=ada)
    else:
        with pytest.raises(NotLookedAtTwice):
            cut([piece(7)], by=ada)


def test_looks_are_at_the_piece_as_it_was(bag, ada, bo):
    memorial(bag, ada)
    yes_to_cut.look(bag, piece(7), by=ada)
    Piece.objects.filter(shirt__number=7).update(box={"x": 0, "y": 0, "width": 45, "height": 50})
    yes_to_cut.look(bag, piece(7), by=bo)
    with pytest.raises(NotLookedAtTwice):
        cut([piece(7)], by=ada)


def test_a_contested_shirt_wants_a_second_look_too(bag, ada, bo):
    ask_singly(ada, 7, AUNT)
    yes_to_cut.say_for_one(bag, piece(7), aunt_says(), by=ada)
    with pytest.raises(NotLookedAtTwice):
        cut([piece(7)], by=ada)
    yes_to_cut.look(bag, piece(7), by=ada)
    yes_to_cut.look(bag, piece(7), by=bo)
    assert cut([piece(7)], by=bo)


def test_the_database_refuses_a_cut_whose_yes_is_gone(bag, ada):
    consent = yes_to_cut.say_for_pile(bag, pieces(7), aunt_says(), by=ada)
    assert consent is not None
    yes = ApprovedPiece.objects.get()
    consent.withdraw(by=ada)
    with pytest.raises(IntegrityError, match="no cut without a yes"), transaction.atomic():
        Cut.objects.create(approved=yes, by=ada)
    with standing_at(NOON):
        yes_to_cut.say_for_pile(bag, pieces(8), aunt_says(for_the_day=True), by=ada)
    with pytest.raises(IntegrityError, match="no cut without a yes"), transaction.atomic():
        Cut.objects.create(
            approved=ApprovedPiece.objects.get(piece=piece(8)), by=ada, at=NOON + timedelta(days=1)
        )
    with pytest.raises(IntegrityError), transaction.atomic():
        Cut.objects.create(approved_id=None, by=ada)


def test_a_yes_said_in_another_order_does_not_come_back_for_a_piece_that_is_cut(bag, ada, bo):
    other = other_order(bag, ada)
    ask_singly(ada, 7, AUNT, "Her brother")
    yes_to_cut.say_for_one(other, piece(7), aunt_says(), by=ada)
    yes_to_cut.ask_as_usual(Shirt.objects.get(number=7), by=ada)
    yes_to_cut.say_for_pile(bag, pieces(7), aunt_says(), by=ada)
    cut([piece(7)], by=ada)
    ask_singly(ada, 7, AUNT)
    assert ApprovedPiece.objects.standing().get().order == bag

"""The yes to cut: by the pile, by name for single shirts, for a day, and what it covers."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from django.db import transaction

from orders.account.agreeing import NotTheirs
from orders.demo.clock import standing_at
from orders.models import (
    ApprovedPiece,
    CannotAgree,
    Consent,
    Cut,
    Design,
    Event,
    NoYes,
    Piece,
    Shirt,
    cut,
)  # fmt: skip
from orders.models.blade import covers
from orders.yes import yes_to_cut
from planner.units import INCH
from tests.orders.yeses import AUNT, NOON, ask_singly, aunt_says, piece, pieces, standing

pytestmark = pytest.mark.django_db


@pytest.fixture
def bag(order, twelve_shirts):
    return order


def test_a_yes_to_the_pile_is_one_yes_to_each_piece(bag, ada):
    consent = yes_to_cut.say_for_pile(bag, pieces(), aunt_says(), by=ada)
    assert len(standing()) == 12
    assert {yes.consent for yes in ApprovedPiece.objects.all()} == {consent}
    facts = ApprovedPiece.objects.get(piece=piece(7)).facts
    assert facts == {
        "shirt": piece(7).shirt_id,
        "side": "front",
        "piece": piece(7).pk,
        "box": None,
        "cut": None,
    }


def test_the_same_yes_again_writes_nothing(bag, ada):
    yes_to_cut.say_for_pile(bag, pieces(), aunt_says(), by=ada)
    before = Event.objects.count()
    assert yes_to_cut.say_for_pile(bag, pieces(), aunt_says(how="phone"), by=ada) is None
    assert (Consent.objects.count(), Event.objects.count()) == (1, before)


def test_only_the_one_who_decides_says_yes_to_the_pile(bag, ada):
    with pytest.raises(NotTheirs, match="This yes is for An aunt of Ferncliff to give"):
        yes_to_cut.say_for_pile(bag, pieces(), aunt_says(by="her sister"), by=ada)
    yes_to_cut.name_approver(bag, "Her sister", seen=bag.version, by=ada)
    yes_to_cut.say_for_pile(bag, pieces(), aunt_says(by="HER  sister"), by=ada)
    assert Consent.objects.get().said_by == "Her sister"


def test_no_pile_covers_a_shirt_that_is_asked_about_by_itself(bag, ada):
    ask_singly(ada, 7, "Her brother", AUNT)
    yes_to_cut.say_for_pile(bag, pieces(), aunt_says(), by=ada)
    assert "07F" not in standing()
    assert len(standing()) == 11
    with pytest.raises(CannotAgree, match="07F is asked about by itself"), transaction.atomic():
        Consent.objects.to_cut(bag, pieces(), said_by=AUNT, how="person", by=ada)


def test_a_contested_shirt_waits_for_every_name_in_any_order(bag, ada):
    ask_singly(ada, 7, "Her brother", AUNT)
    yes_to_cut.say_for_one(bag, piece(7), aunt_says(), by=ada)
    assert standing() == []
    with pytest.raises(NoYes):
        cut([piece(7)], by=ada)
    yes_to_cut.say_for_one(bag, piece(7), aunt_says(by="her brother", how="phone"), by=ada)
    assert standing() == ["07F"]
    assert ApprovedPiece.objects.get().said_by == f"Her brother and {AUNT}"


def test_one_name_saying_yes_twice_is_not_two_names(bag, ada):
    ask_singly(ada, 7, "Her brother", AUNT)
    assert yes_to_cut.say_for_one(bag, piece(7), aunt_says(), by=ada) is not None
    assert yes_to_cut.say_for_one(bag, piece(7), aunt_says(how="paper"), by=ada) is None
    assert standing() == []


def test_a_name_that_is_not_on_the_shirt_does_not_count(bag, ada):
    ask_singly(ada, 7, "Her brother", "Her mother")
    with pytest.raises(NotTheirs, match="Her brother or Her mother"):
        yes_to_cut.say_for_one(bag, piece(7), aunt_says(), by=ada)


def test_when_one_of_two_takes_the_yes_back_the_piece_may_not_be_cut(bag, ada):
    ask_singly(ada, 7, "Her brother", AUNT)
    hers = yes_to_cut.say_for_one(bag, piece(7), aunt_says(), by=ada)
    yes_to_cut.say_for_one(bag, piece(7), aunt_says(by="Her brother"), by=ada)
    assert hers is not None
    hers.withdraw(by=ada)
    assert standing() == []
    assert ApprovedPiece.objects.count() == 1
    yes_to_cut.say_for_one(bag, piece(7), aunt_says(), by=ada)
    assert standing() == ["07F"]


def test_a_yes_in_a_pile_does_not_last_when_the_shirt_becomes_contested(bag, ada):
    yes_to_cut.say_for_pile(bag, pieces(), aunt_says(), by=ada)
    ask_singly(ada, 7, AUNT, "Her brother")
    assert len(standing()) == 11
    assert ApprovedPiece.objects.exclude(withdrawn_at=None).get().piece == piece(7)


def test_a_name_that_is_taken_off_the_shirt_is_not_waited_for(bag, ada):
    ask_singly(ada, 7, AUNT, "Her brother")
    yes_to_cut.say_for_one(bag, piece(7), aunt_says(), by=ada)
    ask_singly(ada, 7, AUNT)
    assert standing() == ["07F"]


def test_a_shirt_of_the_pile_again_is_asked_about_with_the_pile(bag, ada):
    ask_singly(ada, 7, AUNT)
    yes_to_cut.say_for_one(bag, piece(7), aunt_says(), by=ada)
    yes_to_cut.ask_as_usual(Shirt.objects.get(number=7), by=ada)
    assert standing() == []
    yes_to_cut.say_for_pile(bag, pieces(7), aunt_says(), by=ada)
    assert standing() == ["07F"]


def test_nobody_to_name_is_refused(bag, ada):
    with pytest.raises(CannotAgree, match="Name at least one person"):
        ask_singly(ada, 7, " ")


@pytest.mark.parametrize(
    ("zone", "said", "last", "over"),
    [
        # Midnight is the shop's: New York is four hours behind in June, five in December.
        ("America/New_York", "2027-06-12T16:00", "2027-06-13T03:59", "2027-06-13T04:00"),
        ("America/New_York", "2027-12-12T16:00", "2027-12-13T04:59", "2027-12-13T05:00"),
        # The clocks go back on 7 Nov 2027, so that day has 25 hours.
        ("America/New_York", "2027-11-07T05:30", "2027-11-08T04:59", "2027-11-08T05:00"),
        ("Pacific/Auckland", "2027-06-12T16:00", "2027-06-13T11:59", "2027-06-13T12:00"),
    ],
)
def test_a_yes_for_the_day_lapses_at_the_shops_midnight(bag, shop, ada, zone, said, last, over):
    shop.time_zone = zone
    shop.save()
    with standing_at(datetime.fromisoformat(said).replace(tzinfo=UTC)):
        yes_to_cut.say_for_pile(bag, pieces(7, 8), aunt_says(for_the_day=True), by=ada)
    with standing_at(datetime.fromisoformat(last).replace(tzinfo=UTC)):
        assert standing() == ["07F", "08F"]
        cut([piece(8)], by=ada)
    with standing_at(datetime.fromisoformat(over).replace(tzinfo=UTC)):
        assert standing() == ["08F"]  # what is cut stays cut
        with pytest.raises(NoYes):
            cut([piece(7)], by=ada)


def test_after_the_day_the_yes_is_asked_for_anew(bag, ada):
    with standing_at(NOON):
        yes_to_cut.say_for_pile(bag, pieces(7), aunt_says(for_the_day=True), by=ada)
    with standing_at(NOON + timedelta(days=1)):
        yes_to_cut.say_for_pile(bag, pieces(7), aunt_says(for_the_day=True), by=ada)
        assert standing() == ["07F"]
    assert ApprovedPiece.objects.count() == 2


def test_a_yes_for_good_takes_the_place_of_one_for_the_day(bag, ada):
    with standing_at(NOON):
        yes_to_cut.say_for_pile(bag, pieces(7), aunt_says(for_the_day=True), by=ada)
        yes_to_cut.say_for_pile(bag, pieces(7), aunt_says(), by=ada)
        yes_to_cut.say_for_pile(bag, pieces(7), aunt_says(for_the_day=True), by=ada)
    with standing_at(NOON + timedelta(days=9)):
        assert standing() == ["07F"]


def test_a_shirt_for_the_day_makes_every_yes_to_it_one_for_the_day(bag, ada):
    with standing_at(NOON):
        ask_singly(ada, 7, AUNT, for_the_day=True)
        yes_to_cut.say_for_one(bag, piece(7), aunt_says(), by=ada)
        assert standing() == ["07F"]
    with standing_at(NOON + timedelta(days=1)):
        assert standing() == []


def test_two_yeses_of_two_days_are_not_both_of_the_day(bag, ada):
    with standing_at(NOON):
        ask_singly(ada, 7, AUNT, "Her brother", for_the_day=True)
        yes_to_cut.say_for_one(bag, piece(7), aunt_says(), by=ada)
    with standing_at(NOON + timedelta(days=1)):
        yes_to_cut.say_for_one(bag, piece(7), aunt_says(by="Her brother"), by=ada)
        assert standing() == []


def test_a_changed_crop_asks_again_for_that_piece_alone(bag, ada):
    Piece.objects.update(box={"x": 20, "y": 10, "width": 45, "height": 50})
    yes_to_cut.say_for_pile(bag, pieces(), aunt_says(), by=ada)
    Piece.objects.filter(shirt__number=7).update(box={"x": 20, "y": 12, "width": 45, "height": 50})
    assert yes_to_cut.without_yes(bag, pieces()) == [piece(7)]
    with pytest.raises(NoYes):
        cut([piece(7)], by=ada)
    cut([piece(8)], by=ada)


def test_a_yes_before_there_was_a_layout_is_to_any_size_that_keeps_the_print(bag, drawn, ada):
    Design.objects.all().delete()
    yes_to_cut.say_for_pile(bag, pieces(), aunt_says(), by=ada)
    sizes = {"07F": [11 * INCH + INCH // 2, 12 * INCH + INCH // 2]}
    yes = ApprovedPiece.objects.get(piece=piece(7))
    assert covers(yes.facts, piece(7), sizes=sizes)
    assert not covers(yes.facts, piece(7), sizes={"07F": [sizes["07F"][0] - 1, sizes["07F"][1]]})
    assert not covers(yes.facts, piece(7), sizes={"07F": [sizes["07F"][0], sizes["07F"][1] - 1]})


def test_the_cut_reads_the_piece_as_it_is_and_not_as_the_page_saw_it(bag, ada):
    Piece.objects.update(box={"x": 20, "y": 10, "width": 45, "height": 50})
    yes_to_cut.say_for_pile(bag, pieces(), aunt_says(), by=ada)
    seen = piece(7)
    Piece.objects.filter(pk=seen.pk).update(box={"x": 0, "y": 0, "width": 45, "height": 50})
    with pytest.raises(NoYes):
        cut([seen], by=ada)


def test_a_cut_twice_is_one_cut_even_after_the_layout_changed(bag, ada):
    yes_to_cut.say_for_pile(bag, pieces(7), aunt_says(), by=ada)
    first = cut([piece(7)], by=ada)
    Piece.objects.update(box={"x": 0, "y": 0, "width": 45, "height": 50})
    assert cut([piece(7)], by=ada) == first
    assert Cut.objects.count() == 1


def test_one_piece_that_may_not_be_cut_keeps_the_blade_from_all(bag, ada):
    yes_to_cut.say_for_pile(bag, pieces(7), aunt_says(), by=ada)
    with pytest.raises(NoYes) as refused:
        cut(pieces(7, 8), by=ada)
    assert refused.value.piece == piece(8)
    assert not Cut.objects.exists()


def test_a_cut_off_the_middle_is_another_cut(bag, ada):
    Piece.objects.update(box={"x": 20, "y": 10, "width": 45, "height": 50})
    yes_to_cut.say_for_pile(bag, pieces(), aunt_says(), by=ada)
    Piece.objects.filter(shirt__number=7).update(shift_x=INCH // 4)
    assert yes_to_cut.without_yes(bag, pieces()) == [piece(7)]
    yes_to_cut.say_for_pile(bag, pieces(), aunt_says(), by=ada)
    Piece.objects.filter(shirt__number=7).update(shift_x=0)
    assert yes_to_cut.without_yes(bag, pieces()) == [piece(7)]

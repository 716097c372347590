"""The yes to cut: by the pile, by name for single shirts, for a day, taken back; and the second look."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from django.db import IntegrityError, transaction

from orders import yes_to_cut
from orders.agreeing import NotTheirs
from orders.demo.clock import standing_at
from orders.models import (
    ApprovedPiece,
    CannotAgree,
    Consent,
    Cut,
    Design,
    Event,
    NotHere,
    NotLookedAtTwice,
    NoYes,
    Order,
    Piece,
    Shirt,
    cut,
)
from orders.yes_to_cut import Said
from planner.units import INCH

pytestmark = pytest.mark.django_db
AUNT = "An aunt of Ferncliff"
NOON = datetime(2027, 6, 12, 16, 0, tzinfo=UTC)  # noon in New York


def pieces(*numbers: int) -> list[Piece]:
    found = Piece.objects.select_related("shirt__asked_singly").order_by("shirt__number")
    return [each for each in found if each.shirt.number in numbers or not numbers]


def piece(number: int) -> Piece:
    return pieces(number)[0]


def aunt_says(**change: Any) -> Said:
    return Said(**{"by": AUNT, "how": "person", **change})


def ask_singly(by: Any, number: int, *names: str, for_the_day: bool = False) -> None:
    shirt = Shirt.objects.get(number=number)
    yes_to_cut.ask_singly(shirt, names, for_the_day=for_the_day, why="his", by=by)


def standing() -> list[str]:
    return sorted(str(yes.piece) for yes in ApprovedPiece.objects.standing().select_related("piece__shirt"))


@pytest.fixture
def bag(order, twelve_shirts):
    return order


@pytest.fixture
def drawn_blocks(drawn):
    return drawn


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


def test_a_yes_before_there_was_a_layout_is_to_any_size_that_keeps_the_print(bag, drawn_blocks, ada):
    Design.objects.all().delete()
    yes_to_cut.say_for_pile(bag, pieces(), aunt_says(), by=ada)
    sizes = {"07F": [11 * INCH + INCH // 2, 12 * INCH + INCH // 2]}
    yes = ApprovedPiece.objects.get(piece=piece(7))
    from orders.models.blade import covers

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


def other_order(bag: Order, by: Any) -> Order:
    other = Order.objects.open(title="The second quilt", customer=bag.customer, by=by)
    bag.bags.get().serve(other, by=by)
    return other


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

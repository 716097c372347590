"""What is in the bag: labels that add up, sides used once, pieces of garments that are there."""

from __future__ import annotations

from decimal import Decimal

import pytest

from planner.problems import BadInput
from planner.quilt import Bag, Garment, Piece
from planner.units import INCH, Sides, Size

COTTON = {"cotton": Decimal(100)}
PRINT = Size(10 * INCH, 12 * INCH)
FREE = Sides.all_round(2 * INCH)


def tee(id="01", **changed) -> Garment:
    """A cotton tee."""
    return Garment(**{"id": id, "kind": "tee", "fibres": COTTON} | changed)


def front(id="01F", **changed) -> Piece:
    """The front print of a tee."""
    return Piece(**{"id": id, "garment": "01", "side": "front", "print_size": PRINT, "free": FREE} | changed)


@pytest.mark.parametrize(
    "fibres",
    [
        {"acetate": Decimal(96), "spandex": Decimal(4)},  # the example of 16 CFR 303.3
        {"cotton": Decimal(50), "polyester": Decimal(50)},
        {"polyester": Decimal("50.5"), "cotton": Decimal("37.5"), "rayon": Decimal(12)},
        {"cotton": 95, "elastane": 5},
    ],
)
def test_a_label_whose_shares_make_100_is_taken(fibres):
    assert tee(fibres=fibres).fibres == fibres


@pytest.mark.parametrize(
    "fibres",
    [
        {},
        {"cotton": Decimal(99)},
        {"cotton": Decimal(60), "polyester": Decimal(41)},
        {"cotton": Decimal(110), "polyester": Decimal(-10)},
        {"cotton": Decimal(100), "polyester": Decimal(0)},
        {"cotton": Decimal("NaN")},
        {"cotton": 100.0},
        {"cotton": 33.3, "polyester": Decimal("66.7")},
    ],
)
def test_a_label_whose_shares_do_not_make_100_is_refused(fibres):
    with pytest.raises(BadInput) as caught:
        tee(fibres=fibres)
    assert caught.value.field == "fibres"


def test_the_sentence_says_what_the_shares_add_up_to():
    with pytest.raises(BadInput, match="add up to 90 %"):
        tee(fibres={"cotton": Decimal(60), "polyester": Decimal(30)})


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("id", ""),
        ("id", " "),
        ("kind", ""),
        ("stretch", "stretchy"),
        ("thickness", "fat"),
        ("wash", "boil"),
    ],
)
def test_a_garment_in_words_nobody_knows_cannot_be_built(field, value):
    with pytest.raises(BadInput) as caught:
        tee(**{field: value})
    assert caught.value.field == field


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("id", ""),
        ("garment", ""),
        ("side", " "),
        ("print_kind", "crayon"),
        ("wanted", "perhaps"),
        ("cut", Size(0, INCH)),
    ],
)
def test_a_piece_in_words_nobody_knows_cannot_be_built(field, value):
    with pytest.raises(BadInput) as caught:
        front(**{field: value})
    assert caught.value.field == field


def test_a_piece_without_any_cloth_cannot_be_built():
    with pytest.raises(BadInput) as caught:
        front(print_size=Size(0, 0), free=Sides(top=INCH))
    assert caught.value.field == "free"


def test_a_plain_piece_has_a_print_of_no_size():
    assert front(print_size=Size(0, 0), free=FREE).cloth == Size(4 * INCH, 4 * INCH)


def test_the_cloth_of_a_piece_is_its_print_and_what_lies_beyond():
    piece = front(free=Sides(top=INCH, right=2 * INCH, bottom=3 * INCH, left=4 * INCH))
    assert piece.cloth == Size(16 * INCH, 16 * INCH)


def test_a_side_of_a_garment_is_used_once():
    with pytest.raises(BadInput, match="front of 01") as caught:
        Bag((tee(),), (front("a"), front("b")))
    assert caught.value.field == "pieces"


def test_front_and_back_of_one_garment_are_two_pieces():
    bag = Bag((tee(),), (front("a"), front("b", side="back")))
    assert bag.piece("b").side == "back"


def test_the_same_side_of_two_garments_is_two_pieces():
    bag = Bag((tee("01"), tee("02")), (front("a"), front("b", garment="02")))
    assert bag.garment(bag.piece("b").garment).id == "02"


@pytest.mark.parametrize(
    ("garments", "pieces", "field"),
    [
        ((tee(), tee()), (), "garments"),
        ((tee(),), (front("a"), front("a", side="back")), "pieces"),
        ((tee(),), (front("a"), front("b", garment="09")), "pieces[1].garment"),
    ],
)
def test_a_bag_with_an_id_twice_or_a_stray_piece_cannot_be_built(garments, pieces, field):
    with pytest.raises(BadInput) as caught:
        Bag(garments, pieces)
    assert caught.value.field == field


def test_asking_for_what_is_not_in_the_bag_names_it():
    for ask in (Bag().garment, Bag().piece):
        with pytest.raises(BadInput, match="“31”"):
            ask("31")

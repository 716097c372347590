"""What is to be looked at in single blocks: prints near a seam, upside down, two fronts of one team."""

from __future__ import annotations

import pytest

from orders.models import Order, Piece, Shirt
from orders.quilt import layouts
from orders.quilt.block_cautions import prints_near_a_seam, said_of_seams, said_of_teams, said_of_turned
from orders.quilt.cautions import looks_of
from orders.quilt.drawn import room_of
from planner.layout import grid_quilt
from planner.quilt import Sashing
from planner.units import INCH, Size

pytestmark = pytest.mark.django_db


@pytest.fixture
def pieces(order, twelve_shirts):
    return {piece.name: piece for piece in layouts.pieces_of(order)}


@pytest.fixture
def quilt():
    """Return three by four sashed blocks of 14 in, each with a front print of 11 by 12."""
    names = [f"{number:02d}F" for number in range(1, 13)]
    return grid_quilt(3, 4, Size(14 * INCH, 14 * INCH), pieces=names, sashing=Sashing(2 * INCH))


def with_turn(quilt, id, turn):
    from dataclasses import replace

    return replace(
        quilt, cells=tuple(replace(each, turn=turn) if each.id == id else each for each in quilt.cells)
    )


def test_a_print_with_half_an_inch_to_every_seam_is_not_named(quilt, pieces):
    pieces["03F"].print_height = 13 * INCH
    assert prints_near_a_seam(quilt, pieces) == {}
    pieces["03F"].print_height = 13 * INCH + 2
    assert prints_near_a_seam(quilt, pieces) == {"03F": (INCH // 2 - 1, "top")}


def test_a_print_measured_roughly_is_taken_to_be_as_large_as_it_may_be(quilt, pieces):
    pieces["03F"].print_height = 12 * INCH + INCH // 2
    pieces["03F"].plus_minus = INCH
    assert prints_near_a_seam(quilt, pieces) == {"03F": (INCH // 4, "top")}


def test_the_nearest_is_told_with_its_side_and_many_are_a_number(quilt, pieces):
    for name in ("03F", "05F"):
        pieces[name].print_height = 13 * INCH + INCH // 2
    pieces["05F"].shift_y = INCH // 8
    (mark, what, helps), = said_of_seams(prints_near_a_seam(quilt, pieces), unit="in")  # fmt: skip
    assert (mark, what) == ("wait", "03F and 05F come within 1/2 in of a seam.")
    assert helps.startswith("05F has 1/8 in at the bottom. ") or helps.startswith(
        "05F has 1/8 in at the top. "
    )
    for piece in pieces.values():
        piece.print_height = 13 * INCH + INCH // 2
    (_, what, _), = said_of_seams(prints_near_a_seam(quilt, pieces), unit="cm")  # fmt: skip
    assert what == "12 prints come within 1.3 cm of a seam."


def test_a_print_that_a_seam_would_take_some_of_is_late(quilt, pieces):
    pieces["03F"].print_width, pieces["03F"].shift_x = 13 * INCH, 2 * INCH
    said = list(said_of_seams(prints_near_a_seam(quilt, pieces), unit="in"))
    assert [each[:2] for each in said] == [("late", "03F would lose part of its print in a seam.")]


def test_prints_upside_down_are_named_and_plain_cloth_is_not(quilt, pieces):
    assert list(said_of_turned(quilt, pieces)) == []
    turned = with_turn(with_turn(quilt, "03", 180), "05", 180)
    assert [each[1] for each in said_of_turned(turned, pieces)] == ["03F and 05F are upside down."]
    pieces["03F"].print_width = pieces["03F"].print_height = 0
    assert [each[1] for each in said_of_turned(turned, pieces)] == ["05F is upside down."]
    lying = with_turn(quilt, "07", 90)
    assert [each[1] for each in said_of_turned(lying, pieces)] == ["07F is on its side."]


def test_two_fronts_of_one_team_side_by_side_are_named(quilt, pieces):
    for name in ("01F", "02F", "04F", "09F"):
        pieces[name].shirt.team = "Ferncliff Rowers" if name != "04F" else "ferncliff  rowers "
    said = [each[1] for each in said_of_teams(quilt, pieces)]
    assert said == [
        "01F and 02F, two fronts of Ferncliff Rowers, lie side by side.",
        "01F and 04F, two fronts of Ferncliff Rowers, lie side by side.",
    ]


def test_a_back_beside_its_front_and_shirts_of_no_team_are_nothing(quilt, pieces):
    for name in ("01F", "02F"):
        pieces[name].shirt.team = "Ferncliff Rowers"
    pieces["02F"].side = "back"
    assert list(said_of_teams(quilt, pieces)) == []


def test_all_of_them_stand_among_what_to_look_at_and_none_is_told_twice(
    order, shop, twelve_shirts, ada, quilt
):
    Piece.objects.filter(shirt__number=3).update(print_height=13 * INCH + INCH // 2)
    Shirt.objects.filter(number__in=(1, 2)).update(team="Ferncliff Rowers")
    layouts.choose(order, with_turn(quilt, "05", 180), "drawn", minutes=(), seen=0, by=ada)
    looks = looks_of(room_of(Order.objects.get(pk=order.pk), shop))
    said = [look.what for look in looks]
    assert "03F comes within 1/2 in of a seam." in said
    assert "05F is upside down." in said
    assert "01F and 02F, two fronts of Ferncliff Rowers, lie side by side." in said
    assert not any("03F has hardly any margin" in each for each in said)


def test_what_nobody_measured_is_told_before_she_is_asked_and_what_is_cut_no_longer(drawn, shop):
    def told():
        looks = looks_of(room_of(Order.objects.get(pk=drawn.pk), shop))
        return [f"{look.what} {look.helps}" for look in looks if "usual size" in look.what]

    assert told() == []
    Piece.objects.filter(shirt__number=3).update(sizes_are_usual=True)
    assert told() == [
        "03F has only the usual size of its kind. Measure it in the Bag room before she is asked."
    ]
    Piece.objects.filter(shirt__number__in=(4, 5)).update(sizes_are_usual=True)
    assert told()[0].startswith("3 panels have only the usual size of their kind. Measure them")
    Shirt.objects.update(state=Shirt.State.USED)
    assert told() == []

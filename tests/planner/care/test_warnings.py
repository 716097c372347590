"""Stop tags, hard items, and who may share a load; garments of the handbook's scenarios S3 to S6."""

from __future__ import annotations

import pytest

from planner.care import (
    hard_items,
    instead_of_cloth,
    kept_out,
    melts,
    needs,
    stop_reasons,
    wash_loads,
    wash_partners,
)
from planner.quilt import Garment, Piece
from planner.units import INCH, Sides, Size


def garment(id: str = "01", fibre: str = "cotton", *flags: str, wash: str = "wash") -> Garment:
    return Garment(id, "tee", {fibre: 100}, flags=frozenset(flags), wash=wash)


def piece(print_kind: str) -> Piece:
    return Piece("p", "01", "front", Size(8 * INCH, 8 * INCH), Sides.all_round(4 * INCH), print_kind)


@pytest.mark.parametrize(
    ("of", "print_kind", "starts"),
    [
        (garment(), "foil", "Never above 250 °F"),  # S5, 09
        (garment(), "vinyl", "Never above 270 °F"),
        (garment(), "unknown", "Never above 270 °F"),
        (garment("01", "polyester"), "sublimation", "Never above 265 °F"),  # S4, 01-06
        (garment("01", "nylon", "coated"), "plastisol", "No heat"),  # S4, 13
        (garment(), "paint", "No heat"),
    ],
)
def test_what_bears_less_than_300_gets_a_stop_tag(of: Garment, print_kind: str, starts: str) -> None:
    assert stop_reasons(of, piece(print_kind))[0].startswith(starts)


def test_the_usual_print_gets_no_stop_tag() -> None:
    assert stop_reasons(garment(), piece("plastisol")) == ()
    assert stop_reasons(garment(), piece("none")) == ()


def test_a_hold_gets_a_stop_tag_however_much_heat_it_bears() -> None:
    (why,) = stop_reasons(garment("07", "cotton", "scent"), piece("plastisol"))
    assert "on the day" in why


def test_hard_items_are_named_for_the_needle() -> None:
    assert hard_items(garment("13", "nylon", "zip"), piece("twill")) == ("a zip", "sewn-on letters")
    assert hard_items(garment(), piece("plastisol")) == ()


def test_a_race_bib_is_refused_as_cloth_with_what_can_be_done_instead() -> None:
    """S4, 16: spun-bonded plastic."""
    bib = garment("16", "polyethylene", "plastic")
    assert needs(bib, piece("none")).heat == 0
    assert melts(bib) == "The coating melts"
    assert "photograph" in instead_of_cloth(bib)
    assert instead_of_cloth(garment()) == ""


PILE = [
    garment("01"),
    garment("02"),
    garment("03", "cotton", "smoke", wash="twice"),
    garment("07", "cotton", "scent", wash="never"),
    garment("11", wash="professional"),
    garment("18", "cotton", "bleeds"),
    garment("20", wash="ready"),
]


@pytest.mark.parametrize(
    ("id", "with_"),
    [("01", ("02",)), ("03", ()), ("18", ()), ("07", ()), ("11", ())],
)
def test_wash_partners_are_those_of_the_same_load(id: str, with_: tuple[str, ...]) -> None:
    one = next(each for each in PILE if each.id == id)
    assert wash_partners(one, PILE) == with_


def test_every_garment_is_in_a_load_or_kept_out_with_a_reason() -> None:
    """S3: 07 is never washed, 11 goes to a cleaner."""
    washed = {each for load in wash_loads(PILE) for each in load.garments}
    out = [each.garment for each in kept_out(PILE)]
    assert out == ["07", "11", "20"]
    assert washed.isdisjoint(out)
    assert washed | set(out) == {each.id for each in PILE}

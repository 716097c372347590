"""Kinds of garments as data: each gives panels with sizes, and brings its minutes and its cautions."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from orders import planning
from orders.bag.kinds import BY_KIND, KINDS, extra_minutes, kind_of
from orders.bag.panels import BY_WORD, PANELS, counted, label_of, letters_of
from orders.models import Shirt
from orders.models.reference import usual_rules
from planner.brief import read_shop_rules
from planner.estimate import stage_minutes
from planner.quilt import STRETCHES, THICKNESSES, Bag, Cell, Garment, Piece, Quilt
from planner.units import INCH, Rect, Sides, Size
from tests.cast import add_shirt

NAMED = {
    "tee", "sweatshirt", "dress shirt", "tie", "jeans", "dress", "one-piece", "uniform", "robe", "scarf",
    "hat", "other",
}  # fmt: skip


def test_every_kind_that_comes_in_is_in_the_table_once():
    assert {kind.word for kind in KINDS} >= NAMED
    words = [word for kind in KINDS for word in (kind.word, *kind.also)]
    assert len(words) == len(set(words)) == len(BY_KIND)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.word)
def test_the_panels_of_a_kind_are_known_and_give_cloth(kind):
    for keep in ("front", "back", "both"):
        assert kind.sides(keep)
        assert set(kind.sides(keep)) <= set(kind.panels) <= BY_WORD.keys()
    for side in kind.panels:
        usual = kind.size_of(side)
        Piece("P", "G", side, usual.print_size, usual.free)  # refuses a piece without cloth
    assert kind.stretch in STRETCHES
    assert kind.thickness in THICKNESSES


def test_a_word_of_the_shop_finds_its_row_and_an_unknown_one_the_most_careful():
    assert kind_of("Hoodie").word == "sweatshirt"
    assert kind_of(" necktie ").word == "tie"
    assert kind_of("pennant").word == "other"


def test_letters_on_tags_stand_for_one_panel_each():
    letters = [panel.letter for panel in PANELS]
    assert len(set(letters)) == len(letters)
    assert (letters_of("front"), letters_of("sleeve-l"), letters_of("left-front")) == ("F", "L", "LF")
    assert (letters_of("front-3"), label_of("front-3"), counted("front-3")) == ("F3", "Front 3", ("front", 3))
    assert (letters_of("yoke"), label_of("back yoke"), counted("yoke-2")) == (
        "-YOKE",
        "Back yoke",
        ("yoke-2", 1),
    )


def test_all_panels_of_one_shirt_have_names_of_their_own():
    garment = Garment("S1", "tee", {"cotton": Decimal(100)})
    names = [f"01{letters_of(side)}" for word in BY_WORD for side in (word, f"{word}-2")]
    pieces = [Piece(name, "S1", name, Size(0, 0), Sides(INCH, INCH, INCH, INCH)) for name in names]
    assert len(Bag((garment,), tuple(pieces)).pieces) == 2 * len(PANELS)


@pytest.mark.parametrize(("word", "minutes"), extra_minutes())
def test_a_kinds_extra_minutes_reach_the_estimate(word, minutes):
    rules = read_shop_rules(usual_rules("in") | {"steps": [], "quilter": None}, unit="in", currency="USD")
    tee = Garment("S1", "tee", {"cotton": Decimal(100)})
    piece = Piece("01F", "S1", "front", Size(8 * INCH, 8 * INCH), Sides(*[2 * INCH] * 4))
    quilt = Quilt(
        size=Size(12 * INCH, 12 * INCH),
        cells=(Cell("01", Rect(0, 0, 12 * INCH, 12 * INCH), piece="01F"),),
        sashing=None, borders=(), binding=None, cloth={},
    )  # fmt: skip

    def cutting(garment):
        found = stage_minutes(quilt, Bag((garment,), (piece,)), rules.standards)
        return next(each.minutes for each in found if each.stage == "cut")

    assert cutting(tee) == 7
    assert cutting(replace(tee, kind=word)) == 7 + minutes


@pytest.mark.django_db
def test_another_word_for_a_kind_takes_its_minutes_too(order):
    shirt = add_shirt(order.bags.get(), 1, kind="necktie")
    assert "tie" in planning.garment_of(shirt).flags
    assert planning.garment_of(shirt).kind == "necktie"
    assert planning.garment_of(Shirt(kind="pennant")).flags == frozenset()


def test_every_kind_beyond_the_plain_tee_says_what_to_mind():
    without = {kind.word for kind in KINDS if not kind.cautions}
    assert without == {"tee", "one-piece", "other"}  # a one-piece brings the flags infant and snaps instead
    assert set(kind_of("one-piece").flags) == {"infant", "snaps"}

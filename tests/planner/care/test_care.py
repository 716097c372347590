"""Heat, interfacing, washing and pressing.

Expected limits are those of the trade handbook, 3.4 and 3.5 (an iron-setting guide, plastisol and
performance-fabric notes, a heat-transfer-vinyl course) and its scenarios S1, S4, S5.
"""

from __future__ import annotations

from collections.abc import Mapping

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.care import BONDS_AT, Batch, heat_limit, needs, press_batches, show_heat, wash_loads
from planner.layout import grid_quilt
from planner.quilt import PRINT_KINDS, Bag, Garment, Piece
from planner.units import INCH, Sides, Size

COTTON = {"cotton": 100}


def garment(id: str = "01", fibres: Mapping[str, int] = COTTON, **change: object) -> Garment:
    return Garment(id, "tee", fibres, **change)


def piece(print_kind: str, id: str = "p", of: str = "01") -> Piece:
    return Piece(id, of, "front", Size(8 * INCH, 8 * INCH), Sides.all_round(4 * INCH), print_kind)


@pytest.mark.parametrize(
    ("fibres", "print_kind", "limit"),
    [
        ({"linen": 100}, "none", 445),
        (COTTON, "none", 400),
        ({"rayon": 100}, "none", 375),
        ({"wool": 100}, "none", 300),
        ({"silk": 100}, "none", 300),
        ({"acetate": 100}, "none", 290),
        ({"acrylic": 100}, "none", 275),
        ({"nylon": 100}, "none", 275),
        ({"cotton": 50, "polyester": 50}, "plastisol", 300),  # S1, 05
        ({"cotton": 95, "spandex": 5}, "plastisol", 275),  # S1, 11
        (COTTON, "plastisol", 300),
        (COTTON, "vinyl", 270),  # S1, 09
        (COTTON, "foil", 250),  # S5
        (COTTON, "paint", 0),
        ({"polyester": 100}, "sublimation", 265),  # S4, 01-06
        ({"polyester": 100}, "plastisol", 265),  # S4, 07-10
    ],
)
def test_the_heat_limit_is_the_lower_of_fiber_and_print(
    fibres: Mapping[str, int], print_kind: str, limit: int
) -> None:
    assert heat_limit(garment(fibres=fibres), piece(print_kind)) == limit


def test_a_coated_windbreaker_gets_no_heat_and_sew_in_interfacing() -> None:
    """S4, 13."""
    windbreaker = garment(
        fibres={"nylon": 100}, knit=False, stretch="none", flags=frozenset({"coated", "zip"})
    )
    need = needs(windbreaker, piece("plastisol"))
    assert (need.heat, need.seconds, need.cover, need.interfacing) == (0, 0, "nothing hot", "sew-in")


def test_a_print_nobody_has_felt_yet_is_treated_as_vinyl() -> None:
    assert heat_limit(garment(), piece("unknown")) == heat_limit(garment(), piece("vinyl"))


def test_a_knit_whose_label_is_gone_is_pressed_as_polyester_and_a_woven_as_the_coolest_usual_fiber() -> None:
    """265: where the dye of polyester starts to move, trade handbook P3; 275: acrylic and nylon, 3.4."""
    assert heat_limit(garment(fibres={"label gone": 100})) == 265
    assert heat_limit(garment(fibres={"label gone": 100}, knit=False)) == 275


@pytest.mark.parametrize(
    ("change", "print_kind", "kind", "layers"),
    [
        ({}, "plastisol", "light non-woven", 1),
        ({}, "vinyl", "tricot", 1),  # the usual kind bonds too hot for it
        ({}, "foil", "low-heat tricot", 1),
        ({"stretch": "high"}, "plastisol", "tricot", 1),
        ({"stretch": "very high", "thickness": "thin"}, "plastisol", "tricot", 2),
        ({"fibres": {"polyester": 100}, "stretch": "high"}, "plastisol", "low-heat tricot", 1),
        ({"stretch": "low", "thickness": "thick"}, "plastisol", "none", 0),
        ({"knit": False, "stretch": "none"}, "none", "none", 0),
        ({"knit": False, "stretch": "none", "thickness": "thin"}, "none", "woven", 1),
        ({}, "transfer", "sew-in", 1),
    ],
)
def test_interfacing_follows_stretch_weight_and_heat(
    change: dict[str, object], print_kind: str, kind: str, layers: int
) -> None:
    need = needs(garment(**change), piece(print_kind))
    assert (need.interfacing, need.layers) == (kind, layers)


@given(
    st.sampled_from(["cotton", "polyester", "nylon", "silk", "linen", "acetate"]),
    st.sampled_from(PRINT_KINDS),
    st.booleans(),
    st.sampled_from(["none", "low", "medium", "high", "very high"]),
    st.sampled_from(["thin", "medium", "thick"]),
)
def test_nothing_is_ever_fused_hotter_than_the_piece_can_bear(
    fibre: str, print_kind: str, knit: bool, stretch: str, thickness: str
) -> None:
    of = garment(fibres={fibre: 100}, knit=knit, stretch=stretch, thickness=thickness)
    need = needs(of, piece(print_kind))
    assert BONDS_AT.get(need.interfacing, 0) <= need.heat
    assert need.heat <= heat_limit(of)
    assert (need.layers == 0) == (need.interfacing == "none")


def test_degrees_celsius_are_rounded_down_never_up() -> None:
    """ISO 3758: 110, 150 and 200 °C are 230, 302 and 392 °F, all whole."""
    assert [show_heat(heat, unit="C") for heat in (230, 302, 392)] == ["110 °C", "150 °C", "200 °C"]
    assert show_heat(300, unit="C") == "148 °C"
    assert show_heat(270) == "270 °F"
    assert show_heat(0) == "no heat"


def test_vinyl_and_scent_carry_their_cautions() -> None:
    assert any("fumes" in each for each in needs(garment(), piece("vinyl")).cautions)
    kept = needs(garment(wash="never", flags=frozenset({"scent"})), piece("none"))
    assert any("cannot be washed" in each for each in kept.cautions)


def test_batches_run_from_the_coolest_to_the_hottest_and_hold_every_piece_once() -> None:
    kinds = ["plastisol", "vinyl", "plastisol", "paint", "foil", "none"]
    pieces = tuple(piece(kind, f"p{number}", f"{number:02d}") for number, kind in enumerate(kinds))
    bag = Bag(tuple(garment(f"{number:02d}") for number in range(6)), pieces)
    quilt = grid_quilt(3, 2, Size(12 * INCH, 12 * INCH), pieces=[each.id for each in pieces])
    batches = press_batches(quilt, bag)
    assert batches == (
        Batch(0, "nothing hot", ("p3",)),
        Batch(250, "non-stick sheet", ("p4",)),
        Batch(270, "non-stick sheet", ("p1",)),
        Batch(300, "non-stick sheet", ("p0", "p2")),
        Batch(400, "damp cloth", ("p5",)),
    )


def test_an_ordinary_pile_is_one_load() -> None:
    """Trade handbook S2: 20 and 25 shirts are one load of 12 minutes."""
    for count in (12, 20, 25):
        assert len(wash_loads([garment(f"{number:02d}") for number in range(count)])) == 1
    assert len(wash_loads([garment(f"{number:02d}") for number in range(26)])) == 2


def test_a_load_counts_garments_not_tags() -> None:
    of = [garment("01", count=20), garment("02", count=5), garment("03")]
    assert [load.garments for load in wash_loads(of)] == [("01", "02"), ("03",)]
    groups = [garment(f"{number:02d}", count=12) for number in range(4)]
    assert [load.garments for load in wash_loads(groups)] == [("00", "01"), ("02", "03")]


def test_loads_are_filled_in_the_order_of_the_numbers() -> None:
    loads = wash_loads([garment(f"S{number}") for number in range(1, 31)])
    assert loads[0].garments == tuple(f"S{number}" for number in range(1, 26))


def test_more_alike_garments_than_a_load_holds_are_washed_in_parts() -> None:
    loads = wash_loads([garment("01", count=60), garment("02"), garment("03", count=30, wash="apart")])
    assert [load.garments for load in loads] == [("03",), ("03",), ("01",), ("01",), ("01",), ("02",)]
    assert ["in parts" in " ".join(load.cautions) for load in loads] == [True] * 5 + [False]


def test_what_bleeds_is_washed_alone_and_what_is_kept_unwashed_is_in_no_load() -> None:
    """Trade handbook 3.6 and S3: 18 bleeds, 07 and 15 are never washed, 03-06 twice and apart."""
    pile = [
        garment("01"),
        garment("07", wash="never"),
        garment("18", flags=frozenset({"bleeds"})),
        garment("03", wash="twice", flags=frozenset({"smoke"})),
        garment("04", wash="twice", flags=frozenset({"smoke"})),
        garment("11", wash="professional"),
        garment("12", wash="ready"),
        garment("15", wash="never", flags=frozenset({"bleeds"})),
    ]
    loads = [load.garments for load in wash_loads(pile)]
    assert loads == [("18",), ("01",), ("03", "04"), ("03", "04")]


def test_a_load_with_a_delicate_fiber_runs_gently() -> None:
    mixed = [garment("01"), garment("02", fibres={"cotton": 95, "spandex": 5})]
    assert [load.programme for load in wash_loads(mixed)] == ["cold, gentle"]

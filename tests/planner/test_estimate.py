"""Minutes per stage: standards, history, and the sums of the trade handbook's scenarios."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.estimate import Done, Standard, stage_minutes
from planner.layout import grid_quilt
from planner.problems import BadInput
from planner.quilt import Bag, Border, Garment, Piece, Quilt, Sashing
from planner.units import INCH, Sides, Size

BLOCK = Size(14 * INCH, 14 * INCH)


def bag_and_ids(count: int) -> tuple[Bag, list[str]]:
    ids = [f"{number:02d}" for number in range(count)]
    pieces = tuple(Piece(id, id, "front", Size(INCH, INCH), Sides.all_round(8 * INCH)) for id in ids)
    return Bag(tuple(Garment(id, "tee", {"cotton": 100}) for id in ids), pieces), ids


def standard(stage: str, per: str, minutes: str) -> Standard:
    return Standard(stage, per, Decimal(minutes))


def reference(*, out: bool = False) -> list[Standard]:
    """The reference minutes of the trade handbook, section 2."""
    quilting = [standard("pack", "quilt", "30")]
    if not out:
        quilting = [standard("quilt", "quilt", "60"), standard("quilt", "in2", "0.03125")]
    return [
        standard("design", "quilt", "140"), standard("log", "garment", "4"), standard("wash", "load", "12"),
        standard("cut", "block", "7"), standard("fuse", "block", "6"), standard("trim", "block", "3"),
        standard("join", "cell", "6"), standard("join", "fitted", "4"), standard("border", "border", "40"),
        standard("back", "quilt", "35"), *quilting,
        standard("bind", "quilt", "40"), standard("bind", "in", "0.35"), standard("finish", "quilt", "45"),
    ]  # fmt: skip


def total(quilt: Quilt, bag: Bag, standards: list[Standard]) -> int:
    return sum(each.minutes for each in stage_minutes(quilt, bag, standards))


@pytest.mark.parametrize(
    ("columns", "rows", "sashed", "border", "out", "printed"),
    [
        (3, 4, True, 0, False, 876),  # S1
        (4, 5, True, 0, True, 1006),  # S2, A
        (4, 4, False, 4, False, 1006),  # S2, B
        (5, 5, False, 0, True, 1050),  # S2, C
        (3, 3, True, 0, False, 750),  # S8
    ],
)
def test_the_scenarios_take_the_minutes_of_the_handbook(
    columns: int, rows: int, sashed: bool, border: int, out: bool, printed: int
) -> None:
    bag, ids = bag_and_ids(columns * rows)
    quilt = grid_quilt(
        columns,
        rows,
        BLOCK,
        pieces=ids,
        sashing=Sashing(2 * INCH, cornerstones=True) if sashed else None,
        borders=(Border(Sides.all_round(border * INCH)),) if border else (),
    )
    assert total(quilt, bag, reference(out=out)) == printed


def test_a_stage_is_rounded_once_after_its_standards_are_added() -> None:
    bag, ids = bag_and_ids(1)
    quilt = grid_quilt(1, 1, BLOCK, pieces=ids)
    halves = [
        standard("join", "quilt", "0.5"),
        standard("join", "cell", "0.5"),
        standard("bind", "quilt", "0.5"),
    ]
    assert [each.minutes for each in stage_minutes(quilt, bag, halves)] == [1, 1]


def test_history_pulls_a_stage_towards_what_it_took_and_says_from_how_many_jobs() -> None:
    bag, ids = bag_and_ids(1)
    quilt = grid_quilt(1, 1, BLOCK, pieces=ids)
    history = [Done("join", 100, 150)] * 5 + [Done("bind", 60, 30)]
    (join,) = stage_minutes(quilt, bag, [standard("join", "quilt", "100")], history=history)
    # Five jobs' weight stays with the standard: (5 + 5 · 1.5) / 10 = 1.25.
    assert (join.minutes, join.jobs) == (125, 5)


def test_minutes_recalled_because_the_clock_was_forgotten_count_half() -> None:
    bag, ids = bag_and_ids(1)
    quilt = grid_quilt(1, 1, BLOCK, pieces=ids)
    asked = [standard("join", "quilt", "100")]
    (clocked,) = stage_minutes(quilt, bag, asked, history=[Done("join", 100, 300)] * 5)
    (recalled,) = stage_minutes(quilt, bag, asked, history=[Done("join", 100, 300, recalled=True)] * 5)
    assert clocked.minutes == 200  # (5 + 5 · 3) / 10
    assert recalled.minutes == 167  # (5 + 2.5 · 3) / 7.5 = 1.6667
    assert recalled.jobs == 5
    (ten,) = stage_minutes(quilt, bag, asked, history=[Done("join", 100, 300, recalled=True)] * 10)
    assert (ten.minutes, ten.spread) == (clocked.minutes, clocked.spread)


def test_without_history_the_spread_is_the_usual_one_and_steady_jobs_narrow_it() -> None:
    bag, ids = bag_and_ids(1)
    quilt = grid_quilt(1, 1, BLOCK, pieces=ids)
    (plain,) = stage_minutes(quilt, bag, [standard("join", "quilt", "100")])
    (steady,) = stage_minutes(
        quilt, bag, [standard("join", "quilt", "100")], history=[Done("join", 100, 100)] * 20
    )
    assert plain.spread == 0.3
    assert steady.spread < plain.spread


@pytest.mark.parametrize(
    ("make", "field"),
    [
        (lambda: standard("join", "shirt", "4"), "per"),
        (lambda: standard("join", "block", "-1"), "minutes"),
        (lambda: Standard("join", "block", 4.5), "minutes"),  # type: ignore[arg-type]
        (lambda: standard("", "block", "4"), "stage"),
        (lambda: Done("join", 0, 4), "estimated"),
        (lambda: Done("join", 4, -1), "spent"),
    ],
)
def test_senseless_minutes_cannot_be_given(make: object, field: str) -> None:
    with pytest.raises(BadInput) as fault:
        make()  # type: ignore[operator]
    assert fault.value.field == field


@given(st.integers(1, 6), st.integers(1, 6))
def test_more_blocks_never_take_less_time(columns: int, rows: int) -> None:
    bag, ids = bag_and_ids(columns * rows)
    smaller = grid_quilt(columns, rows, BLOCK, pieces=ids)
    bag_more, ids_more = bag_and_ids(columns * (rows + 1))
    larger = grid_quilt(columns, rows + 1, BLOCK, pieces=ids_more)
    assert total(smaller, bag, reference()) < total(larger, bag_more, reference())

"""Bounds of cases of a search, and what is to spare in them: never too sharp, and firm where none can be.

No outside source: small programmes are compared with trying everything.
"""

from __future__ import annotations

from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from planner.materials import Cloth, CutPiece, Ribbon, search, ties
from planner.materials.fills import Group, Task, all_fills
from planner.materials.programme import Programme, Row, Solved
from planner.materials.relaxing import Relaxation, _tightest
from planner.materials.slots import Slot
from planner.materials.strip_rows import StripRows
from planner.units import INCH, Rate

THREE = 3
small = st.integers(0, 6)
sides = st.tuples(st.none() | st.integers(0, 12), st.none() | st.integers(0, 12))
a_row = st.builds(
    lambda gives, ends: Row(dict(enumerate(gives)), *ends), st.lists(small, min_size=3, max_size=3), sides
)
a_count = st.builds(
    lambda columns, ends: Row(dict.fromkeys(sorted(columns), 1), *ends),
    st.sets(st.integers(0, 2), min_size=1),
    sides,
)
cases = st.lists(st.lists(a_count, max_size=3), min_size=1, max_size=4)


def is_met(row: Row, uses: tuple[int, ...]) -> bool:
    given = sum(uses[column] * times for column, times in row.gives.items())
    return (row.least is None or given >= row.least) and (row.most is None or given <= row.most)


def fewest(programme: Programme, more: list[Row]) -> int | None:
    found = [
        sum(cost * many for cost, many in zip(programme.costs, uses, strict=True))
        for uses in product(*(range(most + 1) for most in programme.most))
        if all(is_met(row, uses) for row in [*programme.rows, *more])
    ]
    return min(found, default=None)


@settings(max_examples=150, deadline=None)
@given(
    st.lists(st.integers(0, 9), min_size=THREE, max_size=THREE),
    st.lists(st.integers(1, 4), min_size=THREE, max_size=THREE),
    st.lists(a_row, max_size=2),
    cases,
)
def test_no_uses_cost_less_than_the_bound_of_their_case_whatever_was_asked_before(costs, most, rows, asked):
    programme = Programme(costs, most, rows)
    relaxation = Relaxation(programme)
    for more in asked:
        least, uses = relaxation.least(more)
        found = fewest(programme, more)
        assert found is None or max(least, relaxation._least_if_missed(_tightest(more))) <= found
        if uses:
            assert least == Relaxation(programme).least(more)[0]


def test_a_case_that_cannot_be_is_out_of_reach_and_the_next_is_bounded_as_ever():
    at_most_two = Programme([10, 20], [5, 5], [Row({0: 1, 1: 1}, most=2), Row({0: 2, 1: 3}, least=4)])
    relaxation = Relaxation(at_most_two)
    for _ in range(2):
        least, uses = relaxation.least([Row({0: 1}, least=1, most=1), Row({1: 1}, least=2, most=2)])
        assert least > 1_000_000
        assert not uses
    assert relaxation.least([Row({0: 1}, least=2, most=2)]) == (20, {0: 2.0})


def two_joined_lengths() -> search._Search:
    cloth = Cloth("c", "cotton", 40 * INCH, INCH, Rate(1200, "USD", "yd"))
    items = (CutPiece("p", 9 * INCH, 2 * INCH, 6), *(Ribbon(f"r{n}", 2 * INCH, 70 * INCH) for n in range(2)))
    task = Task(cloth, items, 40 * INCH)
    return search._Search(StripRows(task, all_fills(task) or ()), 200, None)


def test_a_search_for_what_is_to_spare_that_found_nothing_says_nothing_of_the_ties(monkeypatch):
    unfinished = Solved(None, 0, settled=False, effort=1)
    monkeypatch.setattr(search, "solve", lambda *given, **limits: unfinished)
    known = two_joined_lengths()
    assert known._ties_of(0, [known.strips.within(12)]) is None


def test_what_a_search_cut_short_leaves_open_counts_as_to_spare(monkeypatch):
    whole, short = two_joined_lengths(), two_joined_lengths()
    every = whole._ties_of(0, [whole.strips.within(12)])
    solved = search.solve

    def cut_short(programme, *, effort, seconds=None):
        answer = solved(programme, effort=effort, seconds=seconds)
        return Solved((0,) * len(programme.most), answer.least, settled=False, effort=answer.effort)

    monkeypatch.setattr(search, "solve", cut_short)
    more = short._ties_of(0, [short.strips.within(12)])
    assert every
    assert more
    assert every.every
    assert all(tie in more.every for tie in every.every)


def test_too_many_ties_for_little_to_spare_are_not_listed_again_for_more(monkeypatch):
    monkeypatch.setattr("planner.materials.ties.MOST_COVERS", 0)
    known, listed = two_joined_lengths(), []
    counted = search.tied
    monkeypatch.setattr(search, "tied", lambda *given: listed.append(given[2]) or counted(*given))
    for steps in (12, 14):
        assert known._ties_of(0, [known.strips.within(steps)]) is None
    assert len(listed) == 1


@settings(max_examples=100, deadline=None)
@given(
    st.lists(st.integers(6, 30), min_size=1, max_size=4),
    st.sets(st.integers(5, 16), min_size=1, max_size=4),
    st.integers(0, 12),
)
def test_ties_that_are_too_many_for_little_to_spare_are_too_many_for_more(lengths, rooms, spare):
    group = Group(2, 2, tuple(range(len(lengths))), tuple(lengths), (3,) * len(lengths))
    kinds = {Slot(room, lengthwise=False): 9 for room in rooms}
    few, ties.MOST_COVERS = ties.MOST_COVERS, 12
    try:
        less, more = ties.needed_ties(group, kinds, spare), ties.needed_ties(group, kinds, spare + 3)
    finally:
        ties.MOST_COVERS = few
    assert more is None or (less is not None and all(tie in more for tie in less))

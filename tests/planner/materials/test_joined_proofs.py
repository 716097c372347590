"""What is said to be proved of joined lengths, against trying everything on tiny cloths.

No outside source: the answers come from `joined_oracle`, which shares nothing with the engine.
"""

from __future__ import annotations

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from planner.materials import Cloth, CutPiece, CutPlan, Ribbon, check_cuts, plan_cuts
from planner.materials.fills import Group
from planner.materials.joining import NotJoined, join
from planner.materials.slots import Slot
from planner.problems import Limit
from planner.units import INCH, Rate

from .joined_oracle import can_be_joined, fewest_strips


def joined(lengths: list[int], rooms: list[int], loss: int, least_end: int):
    group = Group(loss, loss, tuple(range(len(lengths))), tuple(lengths), (least_end,) * len(lengths))
    return join(group, [Slot(room, lengthwise=False) for room in rooms])


@settings(max_examples=100, deadline=None)
@given(
    st.lists(st.integers(6, 20), min_size=1, max_size=3),
    st.lists(st.integers(6, 16), min_size=1, max_size=4),
    st.integers(0, 3),
    st.integers(1, 6),
)
def test_ends_proved_not_to_go_do_not_go_whatever_is_tried(lengths, rooms, loss, least_end):
    answer = joined(lengths, rooms, loss, least_end)
    if isinstance(answer, NotJoined):
        if answer.proved:
            assert not can_be_joined(lengths, rooms, loss=loss, least_end=least_end)
    else:
        assert can_be_joined(lengths, rooms, loss=loss, least_end=least_end)


@pytest.mark.parametrize(
    ("lengths", "rooms", "loss", "least_end"),
    [([17, 12], [16, 15], 1, 6), ([11, 12], [14, 10], 0, 4)],
)
def test_ends_that_must_go_round_in_a_circle_are_found(lengths, rooms, loss, least_end):
    # 16 = 10 + 6 and 15 = 8 + 7: no shift of one end leaves the other three long enough
    assert can_be_joined(lengths, rooms, loss=loss, least_end=least_end)
    assert not isinstance(joined(lengths, rooms, loss, least_end), NotJoined)


@settings(max_examples=60, deadline=None)
@given(
    st.integers(6, 10),
    st.lists(st.integers(3, 14), min_size=1, max_size=3),
    st.lists(st.tuples(st.integers(3, 10), st.integers(1, 2)), max_size=2),
    st.integers(0, 2),
    st.integers(1, 5),
)
def test_the_bound_is_never_above_the_fewest_strips_and_what_is_proved_is_them(
    width, lengths, pieces, loss, least_end
):
    assume(sum(lengths) <= 3 * width and all(side <= width for side, _ in pieces))
    wanted = [max(length, least_end) for length in lengths]
    sides = [side for side, count in pieces for _ in range(count)]
    fewest = fewest_strips(sides, wanted, width=width, loss=loss, least_end=least_end)
    items = [CutPiece(f"p{n}", side * INCH, INCH, count) for n, (side, count) in enumerate(pieces)]
    items += [
        Ribbon(f"r{n}", INCH, length * INCH, join=loss * INCH, least_end=least_end * INCH)
        for n, length in enumerate(lengths)
    ]
    cloth = Cloth("c", "cotton", width * INCH, INCH, Rate(100, "USD", "yd"), directional=True)
    plan = plan_cuts(cloth, items, limit=Limit(effort=30))
    assert isinstance(plan, CutPlan)
    assert check_cuts(cloth, items, plan) == ()
    assert plan.bound <= fewest * INCH <= plan.buy
    assert not plan.proved or plan.buy == fewest * INCH

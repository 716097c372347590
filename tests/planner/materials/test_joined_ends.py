"""Ends shared out among joined lengths: what is found holds, and what is proved not to go never does."""

from __future__ import annotations

import random

from hypothesis import given, settings
from hypothesis import strategies as st

from planner.materials.fills import Group
from planner.materials.joining import NotJoined, Shares, join, most_shared
from planner.materials.programme import Programme, solve
from planner.materials.slots import End, Slot
from planner.materials.thrifty import thrifty_ends
from planner.materials.ties import cannot_be_joined

from .samples import inch

LEAST = inch(6)


def group(width: str, *lengths: str) -> Group:
    found = tuple(inch(length) for length in lengths)
    return Group(inch(width), inch(width), tuple(range(len(found))), found, (LEAST,) * len(found))


def slots(*given_: tuple[str, int], along: bool = False) -> list[Slot]:
    return [Slot(inch(room), along) for room, count in given_ for _ in range(count)]


def assert_joined(wanted: Group, given_: list[Slot], ends: tuple[End, ...]) -> None:
    """Re-add every length, and what each slot gives."""
    for number, length in zip(wanted.ribbons, wanted.lengths, strict=True):
        mine = [end.length for end in ends if end.ribbon == number]
        assert min(mine) >= LEAST
        assert sum(mine) - (len(mine) - 1) * wanted.loss >= length
    for number, slot in enumerate(given_):
        mine = [end.length for end in ends if end.slot == number]
        assert sum(mine) <= slot.room
        assert not slot.lengthwise or len(mine) <= 1


@st.composite
def cases(draw):
    chance = random.Random(draw(st.integers(0, 100_000)))
    lengths = [str(chance.randint(20, 110)) for _ in range(chance.randint(1, 4))]
    wanted = group(chance.choice(("2", "2 1/2", "4")), *lengths)
    kinds = [str(chance.randint(7, 40)) for _ in range(2)] + ["40"]
    given_ = slots(*((kind, chance.randint(0, 4)) for kind in kinds))
    return wanted, given_ + slots((str(chance.randint(41, 90)), chance.randint(0, 2)), along=True)


@settings(max_examples=60, deadline=None)
@given(cases())
def test_what_is_joined_reaches_every_length_and_takes_no_more_than_there_is(case):
    wanted, given_ = case
    ends = join(wanted, given_)
    if not isinstance(ends, NotJoined):
        assert_joined(wanted, given_, ends)


@settings(max_examples=60, deadline=None)
@given(cases())
def test_what_is_proved_not_to_go_has_no_way_by_the_exact_programme_either(case):
    wanted, given_ = case
    if not given_ or not cannot_be_joined(wanted, given_):
        return
    kinds = tuple(sorted(set(given_)))
    shares = Shares(wanted, kinds, most_shared(wanted, given_))
    rows = shares.rows([sum(slot == kind for slot in given_) for kind in kinds])
    exact = solve(Programme([0] * len(shares.most), shares.most, rows), effort=20)
    assert exact.uses is None


def test_two_lengths_that_each_want_more_than_half_a_strip_cannot_share_one():
    # each end along the cloth leaves 16 in and a join of 5 1/2 to be made, 43 in out of a strip of 40
    wanted = group("5 1/2", "129 1/2", "129 1/2")
    given_ = slots(("40", 1)) + slots(("113 1/2", 2), along=True)
    assert cannot_be_joined(wanted, given_)
    assert join(wanted, given_) == NotJoined(proved=True)
    assert_joined(wanted, slots(("43", 1)) + given_[1:], thrifty_ends(wanted, slots(("43", 1)) + given_[1:]))


def test_no_slots_join_nothing():
    assert join(group("2", "20"), []) == NotJoined(proved=True)

"""What a change costs: late orders, moved work, the least overtime and an amount that is enough."""

from dataclasses import replace
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.problems import BadInput, Limit
from planner.schedule import (
    Due,
    Person,
    Stage,
    Timetable,
    check_timetable,
    feasible,
    what_if,
    with_overtime,
)
from tests.planner.schedule.workshop import chain, workload, workloads

SOME = Limit(effort=150)


def without(work, person, days):
    """Return the workload with a person away on some days."""
    people = tuple(
        replace(p, minutes=tuple(0 if p.id == person and d in days else m for d, m in enumerate(p.minutes)))
        for p in work.people
    )
    return replace(work, people=people)


def week_of_three():
    """Return three quilts of two days each, due one after the other, with no hour to spare."""
    stages = [Stage(o, o, "sew", 600, ("ann",)) for o in "ABC"]
    dues = [Due("A", 1), Due("B", 3), Due("C", 5)]
    return workload([Person("ann", (300,) * 20, (540,) * 20)], stages, dues=dues)


def sound(after, effect):
    assert check_timetable(after, effect.timetable) == ()
    if effect.mended is not None:
        assert check_timetable(with_overtime(after, effect.extra), effect.mended) == ()
        assert effect.overtime_enough == sum(effect.extra.values()) >= effect.overtime_at_least
    return True


def test_a_change_that_changes_nothing_costs_nothing():
    effect = what_if(week_of_three(), week_of_three(), limit=SOME)
    assert (dict(effect.late), effect.moved.stages, effect.moved.minutes) == ({}, (), 0)
    assert (effect.overtime_at_least, effect.overtime_enough, dict(effect.extra)) == (0, 0, {})


def test_a_day_of_illness_costs_exactly_its_minutes_where_there_was_none_to_spare():
    before = week_of_three()
    after = without(before, "ann", {0})
    effect = what_if(before, after, limit=SOME)
    assert sound(after, effect)
    assert set(effect.late) == {"A", "B", "C"}
    assert (effect.overtime_at_least, effect.overtime_enough) == (300, 300)
    assert effect.moved.minutes >= 300
    assert all(effect.mended.finish[due.order] <= due.day for due in before.dues)


def test_nobody_makes_up_for_an_illness_on_the_days_of_illness():
    before = week_of_three()
    effect = what_if(before, without(before, "ann", {2}), limit=SOME)
    assert effect.overtime_at_least == 300
    assert ("ann", 2) not in effect.extra


def test_room_that_is_left_takes_up_a_slip_without_overtime():
    before = replace(week_of_three(), dues=(Due("A", 3), Due("B", 5), Due("C", 7)))
    effect = what_if(before, without(before, "ann", {0}), limit=SOME)
    assert dict(effect.late) == {}
    assert (effect.overtime_at_least, effect.overtime_enough) == (0, 0)
    assert effect.moved.minutes >= 300


def test_an_order_that_was_late_before_is_no_effect_of_the_change():
    before = replace(week_of_three(), dues=(Due("A", 0), Due("B", 3), Due("C", 9)))
    assert dict(what_if(before, before, limit=SOME).late) == {}


def test_cloth_that_comes_after_the_due_is_beyond_help():
    before = week_of_three()
    after = replace(before, stages=tuple(replace(s, ready=9) if s.id == "B" else s for s in before.stages))
    effect = what_if(before, after, limit=SOME)
    assert sound(after, effect)
    assert effect.beyond_help == ("B",)
    assert set(effect.late) == {"B"}
    assert effect.overtime_enough == 0


def test_one_order_more_names_what_it_makes_late():
    before = week_of_three()
    after = replace(
        before,
        stages=(*before.stages, Stage("N", "N", "sew", 120, ("ann",))),
        dues=(*before.dues, Due("N", 5)),
    )
    effect = what_if(before, after, limit=SOME)
    assert sound(after, effect)
    assert effect.late
    assert effect.overtime_at_least == 120 == effect.overtime_enough


@given(workloads(most_orders=3, days=60), st.integers(0, 8), st.integers(1, 5))
@settings(max_examples=25)
def test_whatever_is_answered_can_be_worked(work, first, days):
    after = without(work, work.people[0].id, range(first, first + days))
    effect = what_if(work, after, limit=Limit(effort=45))
    assert sound(after, effect)
    if effect.mended is not None:
        for order, day in effect.late.items():
            assert order in effect.beyond_help or effect.mended.late[order] <= day


def test_a_minute_less_than_the_least_overtime_is_never_enough():
    """The least is a proof: with less, even in the best hours, one person's plan must fail (Horn's rule)."""
    for seed in range(30):
        rng = Random(seed)
        stages, waits = [], []
        for order in "ABC":
            its, between = chain(order, [rng.randint(60, 300) for _ in range(2)], wait=rng.randint(0, 1))
            stages += its
            waits += between
        before = workload([Person("ann", (300,) * 30)], stages, waits=waits, dues=[Due(o, 30) for o in "ABC"])
        plan = feasible(before, {}, limit=Limit(effort=5))
        before = replace(before, dues=tuple(Due(o, plan.finish[o]) for o in "ABC"))
        after = without(before, "ann", {rng.randrange(3)})
        effect = what_if(before, after, limit=SOME)
        if effect.overtime_at_least < 2:
            continue
        least = effect.overtime_at_least - 1
        for day in range(max(plan.finish.values()) + 1):
            if after.people[0].minutes[day] or before.people[0].minutes[day] == 0:
                more = with_overtime(after, {("ann", day): min(least, 480)})
                asked = {o: d.day for o, d in zip("ABC", before.dues, strict=True)}
                asked = {o: d for o, d in asked.items() if o not in effect.beyond_help}
                assert not isinstance(feasible(more, asked, limit=Limit(effort=8)), Timetable)


def test_two_workloads_that_begin_on_different_days_are_not_compared():
    from datetime import timedelta

    later = replace(week_of_three(), origin=week_of_three().origin + timedelta(days=1))
    with pytest.raises(BadInput, match=r"^after"):
        what_if(week_of_three(), later, limit=SOME)


def test_a_pencilled_place_is_never_a_reason_for_overtime():
    before = week_of_three()
    before = replace(before, dues=tuple(replace(due, firm=due.order != "A") for due in before.dues))
    effect = what_if(before, without(before, "ann", {0}), limit=SOME)
    assert "A" not in effect.late


def test_a_day_off_amid_a_fever_is_no_day_to_make_up_for_it():
    # five days at work, two off, and again; the fever is from Thursday to the Tuesday after
    week = (300, 300, 300, 300, 300, 0, 0)
    stages = [Stage("A", "A", "sew", 2400, ("ann",))]
    work = workload([Person("ann", week * 3, (540,) * 21)], stages, dues=[Due("A", 9)])
    fever = {3, 4, 5, 6, 7, 8}
    effect = what_if(work, without(work, "ann", fever), limit=SOME)
    assert effect.extra
    assert not {day for _, day in effect.extra} & fever

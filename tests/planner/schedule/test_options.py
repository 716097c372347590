"""Ways to take an order: told one after the other, and never worse for more hours."""

from dataclasses import replace
from itertools import islice

from hypothesis import given, settings
from hypothesis import strategies as st

from planner.problems import Impossible, Limit
from planner.schedule import Due, NewOrder, Promise, Stage, options, promise, with_order, with_overtime
from tests.planner.schedule.test_promise import busy
from tests.planner.schedule.workshop import SHORT, holds, new_order, workload, workloads

FEW = Limit(effort=6)


def more_hours(work, minutes):
    extra = {(person.id, day): minutes for person in work.people for day in range(work.days)}
    return with_overtime(work, extra)


def test_ways_come_in_the_order_given_each_with_a_promise_that_holds():
    new = new_order((600,))
    ways = {"as it is": (busy(dues=(4, 7)), new), "an hour more": (more_hours(busy(dues=(4, 7)), 60), new)}
    told = dict(options(ways, limit=SHORT))
    assert list(told) == list(ways)
    assert all(holds(*ways[name], answer) for name, answer in told.items())
    assert told["as it is"].day == promise(*ways["as it is"], limit=SHORT).day


@given(workloads(most_orders=3), st.integers(10, 120))
@settings(max_examples=30)
def test_more_hours_never_make_the_day_later(work, minutes):
    new = new_order((60, 90), people=(work.people[0].id,), wait=1)
    more = more_hours(work, minutes)
    asked = replace(work, dues=tuple(replace(due, firm=True) for due in work.dues))
    with_more = replace(more, dues=asked.dues)
    before, after = (answer for _, answer in options({"a": (asked, new), "b": (with_more, new)}, limit=FEW))
    assert isinstance(before, Promise)
    assert holds(with_more, new, after)
    late = {
        o: max(0, day - d.day)
        for d in work.dues
        if (o := d.order) in before.timetable.finish
        for day in [before.timetable.finish[o]]
    }
    if not any(late.values()):
        assert after.day <= before.day


def test_each_way_is_told_as_soon_as_it_is_known():
    asked = []

    def ways():
        for name in ("one", "two"):
            asked.append(name)
            yield name

    new = new_order((200,))
    stream = options({name: (busy(), new) for name in ways()}, limit=Limit(effort=60, watch=asked.append))
    list(islice(stream, 1))
    heard = len(asked)
    list(stream)
    assert len(asked) > heard


def test_a_timetable_that_does_not_fit_the_way_is_not_inherited():
    """Without the Saturday help the first way's timetable cannot be worked."""
    new = new_order((600,))
    fewer = replace(
        busy(), people=tuple(replace(p, minutes=tuple(m // 2 for m in p.minutes)) for p in busy().people)
    )
    told = dict(
        options(
            {"all hours": (busy(), new), "half": (replace(fewer, dues=(Due("A", 30), Due("B", 30))), new)},
            limit=SHORT,
        )
    )
    assert told["half"].day > told["all hours"].day
    assert holds(replace(fewer, dues=(Due("A", 30), Due("B", 30))), new, told["half"])


def test_an_earlier_plan_is_not_inherited_where_it_would_harm_an_order():
    new = new_order((600,))
    easy, strict = busy(dues=(9, 9)), busy(dues=(4, 7))
    told = dict(options({"later dues": (easy, new), "as agreed": (strict, new)}, limit=SHORT))
    assert told["later dues"].day == 1
    assert told["as agreed"].day == 9


def test_quilting_sent_out_is_a_way_without_that_stage():
    here = new_order((300, 300, 60))
    quilted, after = here.stages[1], here.waits
    out = NewOrder(
        here.due, (here.stages[0], here.stages[2]), (replace(after[0], after=here.stages[2].id, days=14),)
    )
    told = dict(options({"in its place": (busy(), here), "sent out": (busy(), out)}, limit=SHORT))
    assert quilted.id not in {stint.stage for stint in told["sent out"].timetable.stints}
    assert told["sent out"].day == 14


def test_a_way_that_is_impossible_says_so_and_the_next_is_told_all_the_same():
    long = NewOrder(Due("N", 0), (Stage("N0", "N", "sew", 90_000, ("ann",)),), ())
    told = dict(options({"huge": (busy(), long), "small": (busy(), new_order((60,)))}, limit=SHORT))
    assert isinstance(told["huge"], Impossible)
    assert holds(busy(), new_order((60,)), told["small"])


def test_what_is_unfinished_when_the_days_end_is_not_pushed_aside_by_a_promise():
    """The order that the calendar is too short for keeps every minute it gets without the new one."""
    stages = [Stage("A", "A", "sew", 1500, ("ann",))]
    work = workload([replace(busy().people[0], minutes=(300,) * 4)], stages, dues=[Due("A", 2)])
    answer = promise(work, new_order((300,)), limit=SHORT)
    assert not isinstance(answer, Promise)
    room = replace(work, people=(replace(work.people[0], minutes=(300,) * 6),), days=6)
    given_room = promise(room, new_order((300,)), limit=SHORT)
    assert given_room.day == 5
    assert with_order(room, new_order((300,))).days == 6

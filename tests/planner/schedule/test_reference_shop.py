"""Two scenarios played in the reference shop: a maker 5 h on weekdays, a helper 6 h on Saturdays."""

from datetime import date
from itertools import pairwise

from planner.problems import Limit
from planner.schedule import (
    Due,
    NewOrder,
    Person,
    Proof,
    Stage,
    Timetable,
    Wait,
    check_proof,
    check_timetable,
    feasible,
    minutes_by_day,
    promise,
)
from tests.planner.schedule.workshop import SHORT, holds, workload

MAKER = (300, 300, 300, 300, 300, 0, 0)
HELPER = (0, 0, 0, 0, 0, 360, 0)


def reference_people(origin, days):
    """Return the maker and the Saturday helper of the trade's reference shop."""
    return [
        Person(name, minutes_by_day(week, closed=set(), extra={}, origin=origin, days=days), (540,) * days)
        for name, week in (("maker", MAKER), ("helper", HELPER))
    ]


# -- the week of three graduations: Mon 26 Apr to Thu 20 May 2027 ------------------------------------


def graduations(minutes_less=0):
    """Return 62 h already owed and three quilts of 1006, 1006 and 1050 minutes, everything for everybody."""
    orders = {
        "owed by 8 May": 38 * 60,
        "owed by 20 May": 24 * 60,
        "A": 1006,
        "B": 1006,
        "C": 1050 - minutes_less,
    }
    stages = [Stage(o, o, "sew", minutes, ("maker", "helper")) for o, minutes in orders.items()]
    return workload(reference_people(date(2027, 4, 26), 40), stages), {
        o: 12 if "8" in o else 24 for o in orders
    }


def test_three_graduations_ask_two_minutes_more_than_there_are():
    work, due = graduations()
    proof = feasible(work, due, limit=SHORT)
    assert isinstance(proof, Proof)
    assert (proof.demand, proof.capacity, proof.kind) == (6782, 6780, "capacity")
    assert (work.date_of(proof.first), work.date_of(proof.last)) == (date(2027, 4, 26), date(2027, 5, 20))
    assert check_proof(work, proof) == ()
    assert "Between Mon 26 Apr and Thu 20 May" in proof.words(work)
    assert "2 minutes are missing" in proof.words(work)


def test_with_two_minutes_less_the_three_graduations_fit_to_the_minute():
    work, due = graduations(minutes_less=2)
    answer = feasible(work, due, limit=Limit(effort=200))
    assert isinstance(answer, Timetable)
    assert check_timetable(work, answer) == ()
    assert sum(stint.minutes for stint in answer.stints) == 6780


# -- the graduate's aunt: drop-off Mon 15 Mar, party Sat 22 May 2027 ---------------------------------


def aunt():
    """Return 104 bench hours of queue, and her quilt of 876 minutes with a wash, two yeses and their waits.

    The queue is for the maker and due by Mon 12 Apr, about when 104 h at 25 h a week run out. The split
    of the 876 minutes is by the standard times; waits of 1 day to dry and 3 for each yes are assumed.
    """
    queue = [Stage(f"Q{n}", f"Q{n}", "sew", 480, ("maker",)) for n in range(13)]
    work = workload(
        reference_people(date(2027, 3, 15), 120),
        queue,
        dues=[Due(s.order, 28) for s in queue],
        origin=date(2027, 3, 15),
    )
    kinds = {"log": 48, "wash": 12, "design": 140, "cut": 84, "fuse": 72, "trim": 36, "join": 120, "back": 35}
    kinds |= {"quilt": 163, "bind": 121, "finish": 45}
    may = {"log", "wash", "cut", "finish"}
    stages = [
        Stage(f"N-{n:02}-{kind}", "N", kind, minutes, ("maker", "helper") if kind in may else ("maker",))
        for n, (kind, minutes) in enumerate(kinds.items())
    ]
    days = {"wash": 1, "design": 3, "trim": 3}
    waits = [Wait(a.id, b.id, days.get(a.kind, 0)) for a, b in pairwise(stages)]
    return work, NewOrder(Due("N", 68), tuple(stages), tuple(waits))


def test_the_aunts_quilt_is_ready_four_weeks_before_the_party():
    """The trade's scenario expects a start about 13 Apr and an end before 24 Apr.

    Logging and washing go to the helper, on a Saturday before; for the maker it starts on Mon 12 Apr,
    the last hour that the queue leaves her, so a day either way of 13 Apr is allowed.
    """
    work, new = aunt()
    assert sum(stage.minutes for stage in new.stages) == 876
    answer = promise(work, new, limit=Limit(effort=200))
    assert holds(work, new, answer)
    assert answer.day == answer.not_before
    assert work.date_of(answer.day) < date(2027, 4, 24)
    hers = [s.day for s in answer.timetable.stints if s.stage.startswith("N-") and s.person == "maker"]
    assert date(2027, 4, 12) <= work.date_of(min(hers)) <= date(2027, 4, 14)
    assert all(not answer.timetable.late[due.order] for due in work.dues)

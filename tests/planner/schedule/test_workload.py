"""What cannot be entered, and the sentence that says so."""

from dataclasses import replace

import pytest

from planner.problems import BadInput
from planner.schedule import Due, Machine, NewOrder, Person, Stage, Stint, Wait, usual_effort, with_order
from tests.planner.schedule.workshop import chain, workload

ANN = Person("ann", (300,) * 5)
CUT = Stage("cut", "31", "cut", 60, ("ann",))


def test_a_stage_that_nobody_may_do_is_named():
    with pytest.raises(BadInput, match=r"stage cut .* of order 31") as fault:
        Stage("cut", "31", "cut", 60, ())
    assert fault.value.field == "people"


def test_a_stage_without_minutes_needs_nobody():
    assert Stage("yes", "31", "yes to cut", 0, ()).people == ()


REFUSED = {
    "people": lambda: workload([ANN, ANN], [CUT]),
    "stages": lambda: workload([ANN], [CUT, CUT]),
    "dues": lambda: workload([ANN], [CUT], dues=[Due("31", 3), Due("31", 4)]),
    "machines": lambda: workload([ANN], [CUT], machines=[Machine("frame"), Machine("frame")]),
    "days": lambda: workload([ANN], [CUT], days=0),
    "people[0].minutes": lambda: workload([ANN], [CUT], days=6),
    "stages[0].people": lambda: workload([ANN], [replace(CUT, people=("bea",))]),
    "stages[0].machine": lambda: workload([ANN], [replace(CUT, machine="frame")]),
    "stages[0].pin": lambda: workload([ANN], [replace(CUT, pin=5)]),
    "waits[0].after": lambda: workload([ANN], [CUT], waits=[Wait("cut", "sew")]),
    "waits[0].before": lambda: workload([ANN], [CUT], waits=[Wait("wash", "cut")]),
    "minutes": lambda: replace(CUT, minutes=-1),
    "ready": lambda: replace(CUT, ready=-1),
    "minutes[0]": lambda: Person("ann", (-1,)),
    "minutes[1]": lambda: Person("ann", (60, 1000), (0, 500)),
    "opens": lambda: Person("ann", (60, 60), (0,)),
    "units": lambda: Machine("frame", 0),
    "weight": lambda: Due("31", 3, weight=-1),
    "after": lambda: Wait("cut", "cut"),
    "start": lambda: Stint("cut", "ann", 0, -1, 5),
    "stages[0].order": lambda: NewOrder(Due("32", 4), (CUT,), ()),
    "new.due.order": lambda: with_order(workload([ANN], [CUT]), NewOrder(Due("31", 4), (CUT,), ())),
}


@pytest.mark.parametrize("field", REFUSED)
def test_senseless_input_cannot_be_built_and_its_field_is_named(field):
    with pytest.raises(BadInput) as fault:
        REFUSED[field]()
    assert fault.value.field == field


def test_stages_that_wait_in_a_circle_are_named_in_turn():
    stages, waits = chain("A", (10, 10, 10))
    with pytest.raises(BadInput, match=r"circle: (A0, A1, A2|A1, A2, A0|A2, A0, A1)"):
        workload([ANN], stages, waits=[*waits, Wait("A2", "A0")])


def test_the_same_wait_twice_is_no_circle():
    stages, waits = chain("A", (10, 10))
    assert len(workload([ANN], stages, waits=waits * 2).waits) == 2


def test_a_due_for_an_order_without_work_is_no_fault():
    assert workload([ANN], [CUT], dues=[Due("99", 3)]).dues[0].order == "99"


def test_the_more_orders_there_are_the_fewer_plans_a_promise_may_take():
    def shop(orders):
        stages = [Stage(str(n), str(n), "sew", 60, ("ann",)) for n in range(orders)]
        return workload([ANN], stages)

    efforts = [usual_effort(shop(orders)) for orders in (0, 10, 60, 200)]
    assert efforts == sorted(efforts, reverse=True)
    assert efforts[0] > efforts[2] > efforts[3] > 0

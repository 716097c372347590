"""Who does what when, the earliest day that can be promised, and proofs of what cannot be."""

from planner.schedule.back_test import BackTest, back_test
from planner.schedule.calendar import minutes_by_day
from planner.schedule.check import check_timetable
from planner.schedule.effect import what_if
from planner.schedule.latest import last_day_to_begin
from planner.schedule.meter import usual_effort
from planner.schedule.moves import stability
from planner.schedule.options import options
from planner.schedule.overtime import with_overtime
from planner.schedule.planning import feasible, make_timetable
from planner.schedule.promise import Promise, promise
from planner.schedule.proof import Proof
from planner.schedule.recount import check_proof
from planner.schedule.risk import risk
from planner.schedule.room import last_starts
from planner.schedule.timetable import Effect, Moves, Stint, Timetable
from planner.schedule.together import together
from planner.schedule.urgent_first import urgent_first
from planner.schedule.workload import Due, Machine, NewOrder, Person, Stage, Wait, Workload, with_order

__all__ = [
    "BackTest", "Due", "Effect", "Machine", "Moves", "NewOrder", "Person", "Promise", "Proof", "Stage",
    "Stint", "Timetable", "Wait", "Workload", "back_test", "check_proof", "check_timetable", "feasible",
    "last_day_to_begin", "last_starts", "make_timetable", "minutes_by_day", "options", "promise", "risk",
    "stability", "together", "urgent_first", "usual_effort", "what_if", "with_order", "with_overtime",
]  # fmt: skip

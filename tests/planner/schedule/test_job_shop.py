"""Job shops of the literature: every machine a person, one long day, never done in less than the optimum.

Fisher and Thompson 1963 (ft06); Lawrence 1984 (la). la03 and la04 are printed here from two copies of the
library file that agree; their optima, 597 and 590, are those of a published list of la01 to la40.
"""

import pytest

from planner.problems import Limit
from planner.schedule import (
    Person,
    Proof,
    Stage,
    Wait,
    check_proof,
    check_timetable,
    feasible,
    make_timetable,
)
from tests.planner.schedule.workshop import workload

LA03 = """10 5
1 23 2 45 0 82 4 84 3 38
2 21 1 29 0 18 4 41 3 50
2 38 3 54 4 16 0 52 1 52
4 37 0 54 2 74 1 62 3 57
4 57 0 81 1 61 3 68 2 30
4 81 0 79 1 89 2 89 3 11
3 33 2 20 0 91 4 20 1 66
4 24 1 84 0 32 2 55 3 8
4 56 0 7 3 54 2 64 1 39
4 40 1 83 0 19 2 8 3 7"""
LA04 = """10 5
0 12 2 94 3 92 4 91 1 7
1 19 3 11 4 66 2 21 0 87
1 14 0 75 3 13 4 16 2 20
2 95 4 66 0 7 3 7 1 77
1 45 3 6 4 89 0 15 2 34
3 77 2 20 0 76 4 88 1 53
2 74 1 88 0 52 3 27 4 9
1 88 3 69 0 62 4 98 2 52
2 61 4 9 0 62 1 52 3 90
2 54 4 5 3 59 1 15 0 88"""
PRINTED = {"la03": (LA03, 597), "la04": (LA04, 590)}


def published(check_data, name):
    """Return an instance and its optimum, from the folder of tables."""
    folder = check_data / "schedule" / "jobshop"
    table = (folder / "optima.csv").read_text().splitlines()
    return (folder / f"{name}.txt").read_text(), int(
        next(line.split(",")[3] for line in table if line.startswith(name))
    )


def job_shop(text, minutes):
    """Return a shop of one day in which every machine is a person, and each job its chain of stages."""
    rows = [[int(word) for word in line.split()] for line in text.splitlines()]
    jobs, machines = rows[0]
    stages, waits = [], []
    for j, row in enumerate(rows[1 : jobs + 1]):
        for n in range(machines):
            stages.append(Stage(f"{j}-{n}", str(j), "sew", row[2 * n + 1], (str(row[2 * n]),)))
            if n:
                waits.append(Wait(stages[-2].id, stages[-1].id))
    return workload([Person(str(m), (minutes,)) for m in range(machines)], stages, waits=waits)


def never_beaten_nor_ruled_out(text, optimum):
    work = job_shop(text, 1440)
    made = make_timetable(work, limit=Limit(effort=1))
    assert check_timetable(work, made) == ()
    assert max(stint.start + stint.minutes for stint in made.stints) >= optimum
    exact = job_shop(text, optimum)
    everything = dict.fromkeys(made.finish, 0)
    assert not isinstance(feasible(exact, everything, limit=Limit(effort=5)), Proof)
    busiest = max(sum(s.minutes for s in exact.stages if s.people == (p.id,)) for p in exact.people)
    crowded = job_shop(text, busiest - 1)
    proof = feasible(crowded, everything, limit=Limit(effort=5))
    assert isinstance(proof, Proof)
    assert check_proof(crowded, proof) == ()


@pytest.mark.parametrize("name", ["ft06", "la01", "la02", "la05", "la06", "la16"])
def test_a_job_shop_is_never_ruled_out_in_its_optimal_time_nor_done_in_less(check_data, name):
    """Within one day the dispatcher interrupts nothing."""
    never_beaten_nor_ruled_out(*published(check_data, name))


@pytest.mark.parametrize("name", PRINTED)
def test_a_printed_job_shop_is_never_ruled_out_in_its_optimal_time_nor_done_in_less(name):
    never_beaten_nor_ruled_out(*PRINTED[name])

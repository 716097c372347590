"""The order within a day: what is late or due tomorrow before what has time, where that can be worked."""

from dataclasses import replace
from datetime import date

from planner.problems import Limit
from planner.schedule import (
    Due,
    Person,
    Stage,
    Stint,
    Timetable,
    Wait,
    Workload,
    check_timetable,
    make_timetable,
    urgent_first,
)

ADA = Person("Ada", (300,) * 9, (540,) * 9)
BO = Person("Bo", (300,) * 9, (540,) * 9)


def work(*stages, dues, waits=(), people=(ADA, BO)):
    return Workload(date(2027, 3, 1), 9, people, (), tuple(dues), tuple(stages), tuple(waits))


def stage(order, kind, minutes, *people):
    return Stage(f"{order} {kind}", order, kind, minutes, people or ("Ada",))


def table(*stints, finish, late=()):
    return Timetable(tuple(stints), dict(finish), dict.fromkeys(finish, 0) | dict(late))


def order_of(made, day=0, person="Ada"):
    mine = sorted(
        (each.start, each.stage) for each in made.stints if (each.day, each.person) == (day, person)
    )
    return [name for _, name in mine]


LATE, CALM = stage("late", "bind", 99), stage("calm", "trim", 18)
SHOP = work(CALM, LATE, dues=(Due("late", -3), Due("calm", 8)))
CALM_FIRST = table(
    Stint("calm trim", "Ada", 0, 540, 18), Stint("late bind", "Ada", 0, 558, 99),
    finish={"calm": 0, "late": 0}, late={"late": 3},
)  # fmt: skip


def test_what_is_late_comes_before_what_has_time_and_nobodys_day_changes():
    made = urgent_first(SHOP, CALM_FIRST)
    assert order_of(CALM_FIRST) == ["calm trim", "late bind"]
    assert order_of(made) == ["late bind", "calm trim"]
    assert [each.start for each in made.stints] == [540, 639]
    assert (made.finish, made.late) == (CALM_FIRST.finish, CALM_FIRST.late)
    assert check_timetable(SHOP, made) == ()


def test_what_is_due_tomorrow_presses_today_and_what_is_due_after_that_does_not():
    for day, first in ((1, "late bind"), (2, "calm trim")):
        shop = replace(SHOP, dues=(Due("late", day), Due("calm", 8)))
        assert order_of(urgent_first(shop, replace(CALM_FIRST, late={"late": 0, "calm": 0})))[0] == first


def test_work_that_waits_for_another_person_is_not_put_before_it():
    """Bo trims until 10:40; put first, the late binding would start before that."""
    shop = work(
        stage("late", "trim", 100, "Bo"), LATE, stage("calm", "trim", 100),
        dues=(Due("late", -3), Due("calm", 8)), waits=(Wait("late trim", "late bind"),),
    )  # fmt: skip
    made = table(
        Stint("late trim", "Bo", 0, 540, 100), Stint("calm trim", "Ada", 0, 540, 100),
        Stint("late bind", "Ada", 0, 640, 99), finish={"calm": 0, "late": 0}, late={"late": 3},
    )  # fmt: skip
    assert check_timetable(shop, made) == ()
    assert urgent_first(shop, made) == made


def test_a_shop_with_nothing_pressing_keeps_its_timetable_as_it_is():
    shop = replace(SHOP, dues=(Due("late", 7), Due("calm", 8)))
    made = make_timetable(shop, limit=Limit(effort=3))
    assert urgent_first(shop, made) is made


def test_a_made_timetable_stays_sound_with_many_orders_late():
    stages, dues = [], []
    for number in range(12):
        order = f"o{number:02}"
        stages += [stage(order, "cut", 40 + number, "Ada", "Bo"), stage(order, "join", 50, "Ada")]
        dues.append(Due(order, -2 if number % 3 == 0 else 8))
    waits = [Wait(f"o{number:02} cut", f"o{number:02} join") for number in range(12)]
    shop = work(*stages, dues=dues, waits=waits)
    made = make_timetable(shop, limit=Limit(effort=3))
    turned = urgent_first(shop, made)
    assert check_timetable(shop, turned) == check_timetable(shop, made) == ()
    late = {due.order for due in dues if due.day < 0}
    days = {(each.day, each.person) for each in turned.stints if each.day < 2}
    before, after = (sum(_inversions(which, day, who, late) for day, who in days) for which in (made, turned))
    assert after <= before


def _inversions(made, day, person, late):
    """How often a calm stint stands before a late one in a day."""
    names = [name.split()[0] in late for name in order_of(made, day, person)]
    return sum(not one and other for at, one in enumerate(names) for other in names[at + 1 :])

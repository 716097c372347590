"""Figures of the proved cut plans: proofs and times, and what the rule of thumb would have bought.

Proved is proved at the till: what is bought, in the shop's step, is what every plan of its kind must buy.
Invented quilts of 4-8 x 4-7 blocks, 10-15 in wide and up to 3 in higher, sashing 1 1/2-3 in, border
3-6 in; cloth of 40 in usable, bought by the eighth of a yard. Run: make bench.
"""

from __future__ import annotations

import random
import sys
import time
from dataclasses import dataclass

from planner.layout.blocks import grid_quilt
from planner.materials import Allowances, Cloth, CutPiece, CutPlan, Item, check_cuts, parts, plan_cuts
from planner.problems import Limit
from planner.quilt import Binding, Border, Quilt, Sashing
from planner.units import INCH, YARD, Rate, Sides, Size

CLOTH = Cloth("cotton", "cotton", 40 * INCH, YARD // 8, Rate(1200, "USD", "yd"))
CLOTHS = (
    (60, ("sashing",)),
    (60, ("sashing", "cornerstone")),
    (60, ("sashing", "binding")),
    (40, ("sashing", "border", "binding")),
    (40, ("sashing", "cornerstone", "border", "binding")),
)
EFFORT = 200  # as a plan asks for it
SEED = 1


@dataclass(frozen=True)
class Case:
    """One cloth: the plan, how long it took, and what the rule of thumb buys."""

    plan: CutPlan
    seconds: float
    thumb: int


def random_quilt(chance: random.Random, *, cornerstones: bool) -> Quilt:
    """Invent a quilt."""
    width = chance.randint(20, 30) * INCH // 2
    height = width + chance.randint(0, 6) * INCH // 2
    return grid_quilt(
        chance.randint(4, 8),
        chance.randint(4, 7),
        Size(width, height),
        sashing=Sashing(chance.choice((3, 4, 5, 6)) * INCH // 2, True, cornerstones),
        borders=(Border(Sides.all_round(chance.randint(6, 12) * INCH // 2)),),
        binding=Binding(),
    )


def rule_of_thumb(items: tuple[Item, ...]) -> int:
    """Return the length by full strips per part, joins left out, rounded up once."""
    length = 0
    for item in items:
        if isinstance(item, CutPiece):
            length += -(-item.count // (CLOTH.usable // item.across)) * item.along
        else:
            length += -(-item.length // CLOTH.usable) * item.width
    return CLOTH.in_steps(length)


def cases(roles: tuple[str, ...], count: int, *, effort: int) -> list[Case]:
    """Plan that many invented cloths; every plan passes the independent check."""
    chance, found = random.Random(SEED), []
    for _ in range(count):
        given = parts(random_quilt(chance, cornerstones="cornerstone" in roles), allowances=Allowances())
        items = tuple(item for role in roles for item in given.get(role, ()))
        start = time.process_time()
        plan = plan_cuts(CLOTH, items, limit=Limit(effort=effort))
        seconds = time.process_time() - start
        assert isinstance(plan, CutPlan)
        assert check_cuts(CLOTH, items, plan) == ()
        found.append(Case(plan, seconds, rule_of_thumb(items)))
    return found


def line(name: str, found: list[Case]) -> str:
    """One line of the table."""
    times = sorted(case.seconds for case in found)
    proved = [case for case in found if case.plan.proved]
    within = [sum(case.seconds <= limit for case in proved) for limit in (1, 5)]
    ours, thumb = sum(case.plan.buy for case in found), sum(case.thumb for case in found)
    short = sum(case.thumb < case.plan.bound for case in found)
    return (
        f"{name:45} {len(found):3d} {ours / YARD / len(found):6.2f} {100 * (ours - thumb) / thumb:7.1f} "
        f"{short:6d} {len(proved):6d} {within[0]:4d} {within[1]:4d} "
        f"{times[len(times) // 2] * 1000:7.0f} {times[-1] * 1000:7.0f}"
    )


def money_saved(found: list[Case]) -> str:
    """What the plans save where the rule would have bought enough, how often it would not, what is open."""
    enough = [case for case in found if case.thumb >= case.plan.buy]
    saved = sum(case.thumb - case.plan.buy for case in enough) / YARD * 12 / max(1, len(enough))
    less = [case for case in found if case.thumb < case.plan.bound]
    missing = sum(case.plan.bound - case.thumb for case in less) / YARD / max(1, len(less))
    gaps = sorted((case.plan.buy - case.plan.bound) // CLOTH.step for case in found if not case.plan.proved)
    return (
        f"saved where the rule buys enough: ${saved:.2f} a cloth at $12 a yard\n"
        f"the rule buys too little for {len(less)} of {len(found)}, {missing:.2f} yd on the average\n"
        f"open gaps in eighths: {gaps}"
    )


def share(found: list[Case]) -> str:
    """How many of a hundred are proved within one second and within five."""
    within = [
        sum(case.plan.proved and case.seconds <= limit for case in found) / len(found) for limit in (1, 5)
    ]
    return f"proved at the till within 1 s: {within[0]:.1%}, within 5 s: {within[1]:.1%}"


def main() -> None:
    """Print one line per set of parts cut from one cloth, and the sums; a number takes one in so many."""
    every = int(sys.argv[1]) if len(sys.argv) > 1 else 1
    cases(CLOTHS[2][1], 1, effort=EFFORT)  # the engine is loaded once
    print(f"seed {SEED}, effort {EFFORT}; processor time; yd: bought a cloth; %: against the rule of thumb")
    head = f"{'parts on one cloth':45}   n     yd       %  short proved  <1s  <5s  med ms  max ms"
    print(head)
    together: list[Case] = []
    for count, roles in CLOTHS:
        found = cases(roles, count // every, effort=EFFORT)
        together += found
        print(line(" + ".join(roles), found), flush=True)
    print(line("all", together))
    print(share(together))
    print(money_saved(together))
    print("short: the rule of thumb (no joins) buys less than the least that any plan of strips needs")


if __name__ == "__main__":
    main()

"""Figures of the cut plans: yards against the rule of thumb, proofs and times. Run: make bench."""

from __future__ import annotations

import random
import time

from planner.layout.blocks import grid_quilt
from planner.materials import Allowances, Cloth, CutPiece, CutPlan, Item, parts, plan_cuts
from planner.problems import Limit
from planner.quilt import Binding, Border, Quilt, Sashing
from planner.units import INCH, YARD, Rate, Sides, Size

CLOTH = Cloth("cotton", "cotton", 40 * INCH, YARD // 8, Rate(1200, "USD", "yd"))
ON_ONE_CLOTH = (
    ("sashing",),
    ("sashing", "cornerstone"),
    ("sashing", "binding"),
    ("sashing", "border", "binding"),
    ("sashing", "cornerstone", "border", "binding"),
)
QUILTS = 60
SEED = 1


def random_quilt(chance: random.Random, *, cornerstones: bool) -> Quilt:
    """Invent a quilt of 4-8 x 4-7 blocks, 10-15 in wide, up to 3 in higher."""
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


def measure(roles: tuple[str, ...]) -> str:
    chance = random.Random(SEED)
    ours = thumb = bound = proved = short = 0
    slowest = 0.0
    for _ in range(QUILTS):
        found = parts(random_quilt(chance, cornerstones="cornerstone" in roles), allowances=Allowances())
        items = tuple(item for role in roles for item in found.get(role, ()))
        start = time.perf_counter()
        plan = plan_cuts(CLOTH, items, limit=Limit(effort=4))
        slowest = max(slowest, time.perf_counter() - start)
        assert isinstance(plan, CutPlan)
        ours, bound, proved = ours + plan.buy, bound + plan.bound, proved + plan.proved
        thumb, short = thumb + rule_of_thumb(items), short + (rule_of_thumb(items) < plan.buy)
    return (
        f"{' + '.join(roles):45} {ours / YARD / QUILTS:6.2f} {bound / YARD / QUILTS:6.2f} "
        f"{thumb / YARD / QUILTS:6.2f} {proved:4d} {short:6d} {slowest * 1000:8.1f}"
    )


def main() -> None:
    """Print one line per set of parts cut from one cloth."""
    print(f"{QUILTS} invented quilts a line, seed {SEED}; yards a quilt, bought by the eighth, 40 in usable")
    print(f"{'parts on one cloth':45} {'ours':>6} {'bound':>6} {'thumb':>6} proved short slowest ms")
    for roles in ON_ONE_CLOTH:
        print(measure(roles))
    print("thumb: full strips per part without joins; short: how often that buys less than our plan")


if __name__ == "__main__":
    main()

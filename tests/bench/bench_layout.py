"""Figures of the layouts: even grids, and mixed layouts to the first one and to the proof. Run: make bench.

With a number as argument so many seeds of each size are tried instead of ten. Seconds are those of the
processor, of which a search uses one, so that a busy machine plays no part.
"""

from __future__ import annotations

import math
import sys
import time
from dataclasses import dataclass

from planner.layout import Layout, Wish, grid_options, mixed_layout
from planner.layout.mixing.demands import wanted_of
from planner.layout.mixing.places import Chooser, Module
from planner.problems import Impossible, Limit
from planner.quilt import Bag, Border, Sashing
from planner.units import INCH, Sides, Size
from tests.planner.layout.quilts import random_bag

STEP, MARGIN, SEAM = 3 * INCH, 3 * INCH // 4, INCH // 4
SECONDS, FIRST, EFFORT = 30, 2, 450
HALF = INCH // 2
SHIRTS = (12, 16, 20, 24, 30, 36, 48)


@dataclass(frozen=True)
class Run:
    """One search: seconds to the first layout or the end, seconds in all, whether settled, and the gap."""

    first: float
    total: float
    settled: bool
    gap: float
    kind: str


def target(bag: Bag) -> Size:
    """Return 4 by 5 modules of about 1.15 times the area of every shirt's cheapest size."""
    wanted = wanted_of(bag, Chooser(Module(STEP), MARGIN, SEAM))
    least = sum(
        min(across * down for across, down in each.costs) * len(each.pieces)
        for each in wanted.demands
        if each.required
    )
    area = 1.15 * least
    across = round(math.sqrt(area * 4 / 5))
    return Size(across * STEP, round(area / across) * STEP)


def run(shirts: int, seed: int) -> Run:
    bag = random_bag(shirts, seed)
    wish = Wish(target(bag), 0, (Size(INCH, INCH),), margin=MARGIN, style="mixed")
    start, heard = time.process_time(), []

    def watch(best: Layout) -> bool:
        heard.append(time.process_time() - start)
        return True

    answer = mixed_layout(bag, wish, module=STEP, limit=Limit(effort=EFFORT, watch=watch))
    total = time.process_time() - start
    first = heard[0] if heard else total
    if isinstance(answer, Layout):
        gap = 100 * (answer.cost - answer.bound) / answer.cost if answer.cost else 0.0
        return Run(first, total, answer.proved and total <= SECONDS, gap, "layout")
    settled = isinstance(answer, Impossible) and total <= SECONDS
    return Run(first, total, settled, 0.0, type(answer).__name__.lower())


def mixed(seeds: int) -> None:
    print(f"mixed layouts, both ways, {seeds} seeds a size, settled within {SECONDS} s")
    print(
        f"{'shirts':>6}  settled  first <= {FIRST} s  first max  to the end: middle, max   gap max  layouts"
    )
    for shirts in SHIRTS:
        runs = [run(shirts, seed) for seed in range(seeds)]
        totals, firsts = sorted(each.total for each in runs), [each.first for each in runs]
        print(
            f"{shirts:>6}  {sum(each.settled for each in runs):>4}/{seeds}"
            f"  {sum(first <= FIRST for first in firsts):>8}/{seeds}  {max(firsts):>8.1f} s"
            f"  {totals[len(totals) // 2]:>12.1f} s {totals[-1]:>6.1f} s"
            f"  {max(each.gap for each in runs):>7.1f} %  {sum(each.kind == 'layout' for each in runs):>5}",
            flush=True,
        )


def grids() -> None:
    """Time the question a maker can ask (eight sizes, with and without sashing), and a far wider one."""
    usual = tuple(Size(side * INCH, side * INCH) for side in (9, 10, 11, 12, 13, 14, 15, 16))
    every = tuple(Size(a * HALF, (a + d) * HALF) for a in range(18, 37, 2) for d in (0, 2, 4, 6))
    strips = (None, *(Sashing(w * HALF, outer) for w in (2, 3, 4, 5, 6) for outer in (False, True)))
    rings = (None, *(Border(Sides.all_round(w * HALF)) for w in (4, 6, 8, 10, 12)))
    questions = {"usual": (usual, (Sashing(2 * INCH), None), (None,)), "every": (every, strips, rings)}
    for name, (blocks, sashings, borders) in questions.items():
        times = []
        for shirts in (12, 24, 36, 60):
            bag = random_bag(shirts, 1)
            for width, height in ((60, 75), (70, 90), (90, 100)):
                wish = Wish(Size(width * INCH, height * INCH), 3 * INCH, blocks, sashings, borders)
                start = time.process_time()
                grid_options(bag, wish)
                times.append(1000 * (time.process_time() - start))
        number, middle = len(blocks) * len(sashings) * len(borders), sorted(times)[len(times) // 2]
        print(
            f"even grids, {name}: {number} choices, {len(times)} questions, "
            f"{middle:.0f} ms in the middle, {max(times):.0f} ms at most"
        )


if __name__ == "__main__":
    grids()
    mixed(int(sys.argv[1]) if len(sys.argv) > 1 else 10)

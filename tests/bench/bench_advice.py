"""How long advice takes for a large pile and a large shelf: 60 shirts, 300 cloths, 5 roles.

Run: .venv/bin/python -m tests.bench.bench_advice
"""

from __future__ import annotations

import time

import numpy as np

from planner.colour import FabricLook, Palette, Swatch, advise
from planner.colour.beside import _beside

ROLES = ("sashing", "cornerstone", "border", "binding", "backing")
ROUNDS = 7


def palette(rng: np.random.Generator, colors: int) -> Palette:
    shares = rng.dirichlet([4.0] + [1.0] * (colors - 1))
    labs = np.column_stack([rng.uniform(10, 95, colors), rng.uniform(-50, 50, (colors, 2))])
    swatches = [Swatch(tuple(map(float, lab)), float(share)) for lab, share in zip(labs, shares, strict=True)]
    ground, *prints = swatches
    rest = 1.0 - sum(each.share for each in prints)
    return Palette(Swatch(ground.lab, rest), tuple(prints))


def main() -> None:
    rng = np.random.default_rng(5)
    shirts = {f"{number:02d}": palette(rng, 4) for number in range(60)}
    kinds = ("solid", "mottled", "blender", "multi")
    shelf = {
        f"cloth {number:03d}": FabricLook(palette(rng, number % 4 + 1), 0.5, 0.3, 1, kinds[number % 4])
        for number in range(300)
    }
    spent, worked = [], []
    for _ in range(ROUNDS):
        _beside.cache_clear()
        start, busy = time.perf_counter(), time.process_time()
        for role in ROLES:
            advise(shirts, shelf, role)
        spent.append((time.perf_counter() - start) * 1000)
        worked.append((time.process_time() - busy) * 1000)
    print("advice, 60 shirts × 300 cloths × 5 roles:", end=" ")
    print(f"median {np.median(spent):.0f}, most {max(spent):.0f} ms by the clock;", end=" ")
    print(f"median {np.median(worked):.0f}, most {max(worked):.0f} ms of work")


if __name__ == "__main__":
    main()

"""Figures: arranging quilts of 30 and 56 blocks, and known optima of other grids. Run: make bench.

A gap is a share of the way from the mean of 100 random arrangements to the best of a run of 30 s.
"""

from __future__ import annotations

import csv
import os
from decimal import Decimal
from pathlib import Path
from time import perf_counter

import numpy as np

from planner.colour import Palette, Swatch
from planner.layout import Layout, arrange, assign, grid_quilt
from planner.layout.arranging.board import Board, Wishes
from planner.layout.arranging.moods import seating_for
from planner.problems import Impossible, Limit
from planner.quilt import Bag, Garment, Piece, Sashing
from planner.units import INCH, Sides, Size

COLORS = 6
SHARES = (0.35, 0.2, 0.15, 0.1, 0.1, 0.1)
SEEDS = range(5)


def bag_of(count: int, seed: int) -> Bag:
    """Return invented shirts in six colors, the first of them one in three, each a little off."""
    rng = np.random.default_rng(seed)
    centers = np.stack([rng.uniform(15, 90, COLORS), *rng.uniform(-50, 50, (2, COLORS))], axis=1)
    labs = centers[rng.choice(COLORS, count, p=SHARES)] + rng.normal(0, 3, (count, 3))
    labs[:, 0] = labs[:, 0].clip(5, 95)
    names = [f"{number:02d}" for number in range(1, count + 1)]
    garments = (
        Garment(n, "tee", {"cotton": Decimal(100)}, thickness="thick" if k % 11 == 3 else "medium")
        for k, n in enumerate(names)
    )
    pieces = (
        Piece(
            f"{name}F",
            name,
            "front",
            Size(9 * INCH, 10 * INCH),
            Sides.all_round(5 * INCH),
            print_kind="vinyl" if k % 7 == 0 else "plastisol",
            palette=Palette(Swatch((float(lab[0]), float(lab[1]), float(lab[2])))),
        )
        for k, (name, lab) in enumerate(zip(names, labs, strict=True))
    )
    return Bag(tuple(garments), tuple(pieces))


def random_mean(layout: Layout, bag: Bag, mood: str) -> float:
    """Return what 100 random arrangements cost on the average."""
    board, size = Board(layout.quilt, bag), len(layout.quilt.cells)
    seating = seating_for(board, Wishes(mood=mood), np.ones((size, size), dtype=bool))
    rng = np.random.default_rng(100)
    return float(seating.cost(np.array([rng.permutation(size) for _ in range(100)])).mean())


def cost_of(layout: Layout, bag: Bag, mood: str, *, limit: Limit, seed: int) -> tuple[int, int]:
    found = arrange(layout, bag, keep={}, mood=mood, limit=limit, seed=seed)
    assert not isinstance(found, Impossible)
    return found.cost, found.agree


def quilts() -> None:
    """Print how near one and three seconds come to the best of half a minute."""
    for columns, rows in ((5, 6), (6, 7), (7, 8)):
        for mood in ("calm", "lively"):
            bag = bag_of(columns * rows, seed=columns)
            quilt = grid_quilt(
                columns,
                rows,
                Size(14 * INCH, 14 * INCH),
                pieces=[piece.id for piece in bag.pieces],
                sashing=Sashing(2 * INCH),
            )
            layout = Layout(quilt)
            start, best = (
                random_mean(layout, bag, mood),
                cost_of(layout, bag, mood, limit=Limit(seconds=30), seed=99)[0],
            )
            for seconds in (1, 3):
                found = [
                    cost_of(layout, bag, mood, limit=Limit(seconds=seconds), seed=seed) for seed in SEEDS
                ]
                gaps = [100 * (cost - best) / (start - best) for cost, _ in found]
                agree = "/".join(str(each) for _, each in found)
                print(
                    f"{columns * rows:3} blocks, {mood:6} {seconds} s: gap {np.mean(gaps):5.2f} % mean, "
                    f"{max(gaps):5.2f} % worst of {len(gaps)} seeds; starts that agree {agree}"
                )


def speed() -> None:
    """Print how long one step takes, and what a small quilt takes whole."""
    for columns, rows in ((3, 4), (5, 6), (7, 8)):
        bag = bag_of(columns * rows, seed=1)
        layout = Layout(
            grid_quilt(columns, rows, Size(14 * INCH, 14 * INCH), pieces=[p.id for p in bag.pieces])
        )
        began = perf_counter()
        cost_of(layout, bag, "calm", limit=Limit(effort=20_000), seed=0)
        took = perf_counter() - began
        print(f"{columns * rows:3} blocks: 20,000 steps in {took:.2f} s, {took / 20_000 * 1e6:.1f} µs a step")


def known_optima() -> None:
    """Print how often nug30 comes to its optimum in one second and in three, from ten seeds."""
    folder = Path(os.environ.get("CHECK_DATA", "../shared/data")) / "qaplib"
    if not folder.is_dir():
        print("nug30 left out: CHECK_DATA names no folder.")
        return
    n, *numbers = (int(each) for each in (folder / "nug30.dat").read_text().split())
    flow, distance = np.array(numbers[: 2 * n * n]).reshape(2, n, n)
    with (folder / "optima.csv").open(encoding="utf-8") as file:
        optimum = next(int(row["optimum"]) for row in csv.DictReader(file) if row["instance"] == "nug30")
    for seconds in (1, 3):
        costs = [assign(flow, distance, limit=Limit(seconds=seconds), seed=s).cost for s in range(10)]
        hits, worst = sum(cost == optimum for cost in costs), 100 * (max(costs) / optimum - 1)
        print(f"nug30 in {seconds} s: {optimum} from {hits} of 10 seeds, worst {worst:.3f} % over")


if __name__ == "__main__":
    speed()
    known_optima()
    quilts()

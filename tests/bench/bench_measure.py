"""SIMULATION: how well prints are measured from made-up pictures; see tests/planner/measure/pictures.py.

python -m tests.bench.bench_measure
"""

from __future__ import annotations

import time

import numpy as np

from planner.measure import edges_near, grid_near, measure
from planner.units import INCH
from tests.planner.measure.drawn_pictures import drawn
from tests.planner.measure.pictures import FOCAL, MIDDLE, picture

SCENES = ("mat", "sheet on the print", "sheet beside it", "card on the shirt", "card beside it")
KNOWN = {
    "lens and middle": {"focal_px": FOCAL, "middle_px": MIDDLE},
    "middle only": {"middle_px": MIDDLE},
    "nothing": {},
}
PICTURES = 400
DRAWN = 60


def main() -> None:
    """Print a line for each scene and what is known of the camera."""
    print(f"{PICTURES} made-up pictures a line, tilt up to 15 degrees, taps off by 1.5 px; inches")
    for scene in SCENES:
        for what, known in KNOWN.items():
            print(f"{scene:20s} {what:16s} {line(scene, known)}")
    print(f"{DRAWN} drawn pictures a line, in which the edges of the thing of known size are found")
    for scene in SCENES:
        print(f"{scene:20s} {drawn_line(scene)}")


def drawn_line(scene: str) -> str:
    """The same where the edges of what was tapped are found in a drawn picture."""
    rng = np.random.default_rng(20_270_401)
    off, printed = [], []
    for _ in range(DRAWN):
        made = picture(rng, scene)
        tapped, print_px = made.tapped(rng)
        light = drawn(made, rng, line=3.0 if scene == "mat" else None)
        edges = (grid_near if scene == "mat" else edges_near)(light, tapped, sigma=1.5)
        said = measure(made.reference, tapped, print_px, edges=edges, **KNOWN["lens and middle"])
        off.append([abs(said.width / INCH - made.size[0]), abs(said.height / INCH - made.size[1])])
        printed.append(said.plus_minus / INCH)
    error, bars = np.array(off), np.array(printed)
    inside = (error <= bars[:, None]).mean()
    return f"plus-or-minus median {np.median(bars):.3f} most {bars.max():.3f}  sides inside {inside:.3f}"


def line(scene: str, known: dict[str, object]) -> str:
    rng = np.random.default_rng(20_270_401)
    off, printed = [], []
    began = time.process_time()
    for _ in range(PICTURES):
        made = picture(rng, scene)
        said = measure(made.reference, *made.tapped(rng), **known)
        off.append([abs(said.width / INCH - made.size[0]), abs(said.height / INCH - made.size[1])])
        printed.append(said.plus_minus / INCH)
    spent = (time.process_time() - began) / PICTURES
    error, bars = np.array(off), np.array(printed)
    sides, both = (error <= bars[:, None]).mean(), (error.max(axis=1) <= bars).mean()
    return (
        f"error p95 {np.percentile(error, 95):.3f}  plus-or-minus median {np.median(bars):.3f} "
        f"p95 {np.percentile(bars, 95):.3f} most {bars.max():.3f}  "
        f"sides inside {sides:.3f}  both {both:.3f}  {1000 * spent:.0f} ms"
    )


if __name__ == "__main__":
    main()

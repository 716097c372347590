"""Which of the photographs of real T-shirts are read into a color group that nobody would say.

The photographs and their labels are those that CHECK_DATA names. Run: make bench.
"""

from __future__ import annotations

import csv
import os
from pathlib import Path

import numpy as np
from PIL import Image

from planner.colour import family, find_shirt, read_palette

ROOT = Path(__file__).parents[2]


def main() -> None:
    """Print how many are right, and each that is not: what was read, how sure, and what is right."""
    folder = ROOT / os.environ.get("CHECK_DATA", "../shared/data") / "shirts"
    if not folder.is_dir():
        print("Not looked at: CHECK_DATA names no folder with photographs of shirts.")
        return
    with (folder / "labels.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    wrong, sure = [], []
    for row in rows:
        with Image.open(folder / row["file"]) as picture:
            image = np.asarray(picture.convert("RGB"))
        palette = read_palette(image, outline=find_shirt(image))
        name, right = family(palette.ground.lab).name, row["ground_families"].split("|")
        sure.append(palette.confidence)
        if name not in right:
            lab = ", ".join(f"{each:.0f}" for each in palette.ground.lab)
            wrong.append(
                f"  {row['file']}: read as {name} (Lab {lab}; {palette.confidence:.2f} sure), "
                f"right would be {' or '.join(right)}"
            )
    print(f"{len(rows) - len(wrong)} of {len(rows)} real shirts in a group that a person could say")
    print(f"  half are read {np.median(sure):.2f} sure or less, of 1")
    print("\n".join(wrong))


if __name__ == "__main__":
    main()

"""Times of one photo, after decoding: outline and palette, on drawn photographs. Run: make bench."""

from __future__ import annotations

import time
from collections.abc import Callable

import numpy as np

from planner.colour import find_shirt, read_palette
from planner.colour.picture import vision
from tests.planner.colour.studio import GARMENTS, HARD_CAST, photograph

SIZES = {"a phone's 12 million pixels": (3232, 4000), "the 1600-pixel rendition": (1293, 1600)}
GOAL, MOST = 150, 250


def spent(work: Callable[[], object]) -> tuple[float, object]:
    """Return the milliseconds of processor time, of one thread, and what the work gave."""
    start = time.process_time()
    given = work()
    return 1000 * (time.process_time() - start), given


def main() -> None:
    """Print the median and the longest of outline, palette and both, for each size of picture."""
    cv2 = vision()
    for name, size in SIZES.items():
        outlines, palettes = [], []
        for seed, color in enumerate(GARMENTS.values()):
            small = photograph(color, HARD_CAST, seed).image
            image = cv2.resize(small, size, interpolation=cv2.INTER_LINEAR)
            took, outline = spent(lambda image=image: find_shirt(image))
            outlines.append(took)
            palettes.append(
                spent(lambda image=image, outline=outline: read_palette(image, outline=outline))[0]
            )
        both = np.array(outlines) + np.array(palettes)
        print(
            f"{name}: outline {np.median(outlines):.0f} ms, palette {np.median(palettes):.0f} ms, "
            f"together median {np.median(both):.0f}, longest {both.max():.0f} (goal {GOAL}, at most {MOST})"
        )


if __name__ == "__main__":
    main()

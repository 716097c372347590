"""CPU of a photo: three renditions of a 12-megapixel JPEG against its bare decode. Run: make bench."""

from __future__ import annotations

import io
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
from PIL import Image

from orders.background.darkroom import QUALITY_WHOLE, shrink

WIDE, HIGH = 4000, 3000
TIMES = 5
SIZES = (1600, 800, 320)  # those of orders.models.photo, which wants a whole site


def main() -> None:
    """Print the CPU time of both, and how many times one is the other."""
    with tempfile.TemporaryDirectory() as folder:
        whole = Path(folder) / "whole.jpg"
        whole.write_bytes(drawn())
        decode = cpu(lambda: bare_decode(whole))
        renditions = cpu(lambda: shrink(whole, {size: Path(folder) / f"{size}.jpg" for size in SIZES}))
        megabytes = whole.stat().st_size / 1e6
    print(f"12 megapixels, {megabytes:.1f} MB, best of {TIMES}")
    print(f"bare decode      {decode * 1000:6.0f} ms of CPU")
    print(f"three renditions {renditions * 1000:6.0f} ms of CPU, {renditions / decode:.2f} times as much")


def drawn() -> bytes:
    """Return a picture with the detail of cloth: smooth shades, a weave, and grain."""
    rng = np.random.default_rng(7)
    y, x = np.mgrid[0:HIGH, 0:WIDE].astype(np.float32)
    shade = 120 + 60 * np.sin(x / 700) * np.cos(y / 500)
    weave = 8 * np.sin(x / 2.3) * np.sin(y / 2.3)
    planes = [shade * tone + weave + rng.normal(0, 4, (HIGH, WIDE)) for tone in (1.0, 0.9, 0.7)]
    picture = Image.fromarray(np.clip(np.stack(planes, axis=-1), 0, 255).astype(np.uint8))
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=QUALITY_WHOLE)
    return out.getvalue()


def bare_decode(whole: Path) -> None:
    with Image.open(whole) as image:
        image.load()


def cpu(of: Callable[[], object]) -> float:
    """Return the least CPU seconds of a few runs, all threads together."""
    spent = []
    for _ in range(TIMES):
        began = time.process_time()
        of()
        spent.append(time.process_time() - began)
    return min(spent)


if __name__ == "__main__":
    main()

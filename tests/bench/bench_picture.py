"""Figures of a picture of 42 photographs: what a page loads above the fold, and how large its files are.

Run: python -m tests.bench.bench_picture
"""

from __future__ import annotations

import gzip
import os
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.settings")
django.setup()

import numpy as np  # noqa: E402
from django.conf import settings  # noqa: E402
from PIL import Image  # noqa: E402

from orders.models.photo import SIZES, photo_file  # noqa: E402
from orders.papers import press  # noqa: E402
from orders.quilt import picture_in_words, quilt_picture, quilt_print  # noqa: E402
from orders.quilt.panel_photos import Panel, jpeg_of  # noqa: E402
from planner.quilt import Cell, Quilt, Sashing  # noqa: E402
from planner.units import INCH, Rect, Size  # noqa: E402

ACROSS, DOWN, BLOCK, STRIP = 6, 7, 12, 2


def photograph(number: int) -> Image.Image:
    """Return a drawn photograph of a shirt: folds, weave and a print, as busy as a telephone’s."""
    rng = np.random.default_rng(number)
    wide, high = 1200, 1600
    folds = np.zeros((high, wide))
    for scale in (8, 24, 80):
        small = rng.normal(0, 1, (high // scale + 2, wide // scale + 2))
        grown = Image.fromarray(small.astype(np.float32)).resize((wide, high), Image.Resampling.BICUBIC)
        folds += np.asarray(grown) * scale / 6
    color = rng.integers(40, 220, 3)
    pixels = color + folds[..., None] + rng.normal(0, 4, (high, wide, 1))
    for _ in range(60):
        x, y = rng.integers(350, 850), rng.integers(400, 1000)
        pixels[y : y + rng.integers(10, 90), x : x + rng.integers(10, 90)] = rng.integers(0, 255, 3)
    return Image.fromarray(np.clip(pixels, 0, 255).astype(np.uint8))


def quilt_of_42() -> Quilt:
    """Return six across and seven down, sashed all round."""
    side, strip = BLOCK * INCH, STRIP * INCH
    places = [(column, row) for row in range(DOWN) for column in range(ACROSS)]
    cells = tuple(
        Cell(
            f"{number:02d}",
            Rect(strip + column * (side + strip), strip + row * (side + strip), side, side),
            piece=f"{number:02d}F",
        )
        for number, (column, row) in enumerate(places, start=1)
    )
    size = Size(strip + ACROSS * (side + strip), strip + DOWN * (side + strip))
    return Quilt(size, cells, Sashing(strip, outer=True))


def panels_of(quilt: Quilt) -> dict[str, Panel]:
    """Keep a photograph of each shirt on the disk and return its panel as it was measured."""
    quad, cloth = (1500, 1500, 8500, 1500, 8500, 8500, 1500, 8500), (19 * INCH, 21 * INCH)
    window = (3 * INCH, 3 * INCH, BLOCK * INCH, BLOCK * INCH)
    panels = {}
    for number, cell in enumerate(quilt.cells, start=1):
        sha256, picture = f"{number:064x}", photograph(number)
        for size in SIZES:
            small = picture.copy()
            small.thumbnail((size, size))
            photo_file(sha256, size).parent.mkdir(parents=True, exist_ok=True)
            small.save(photo_file(sha256, size), "JPEG", quality=80)
        panels[cell.piece or ""] = Panel("#336699", number, sha256, quad, cloth, window)
    return panels


def timed(words: str, make: Callable[[], Any]) -> Any:
    """Do it, print how long it took, and return what came of it."""
    start = time.perf_counter()
    made = make()
    print(f"{words}: {time.perf_counter() - start:.2f} s")
    return made


def on_the_page(quilt: Quilt, view: quilt_picture.View, panels: dict[str, Panel]) -> None:
    """Print what a picture costs a page, and what whole photos would."""
    quilt_picture.draw(quilt, view)  # the addresses are read once
    drawn = timed("drawn as SVG", lambda: quilt_picture.draw(quilt, view))
    size = quilt_picture.pixels_for(quilt)
    sent = timed("42 panels laid flat", lambda: [
        len(jpeg_of(each.sha256, each.quad, size) or b"") for each in panels.values()
    ])  # fmt: skip
    whole = sum(photo_file(each.sha256, 320).stat().st_size for each in panels.values())
    packed = len(gzip.compress(drawn.encode()))
    print(f"SVG {len(drawn.encode()) / 1000:.0f} KB, {packed / 1000:.0f} KB packed")
    print(f"42 panels of {size} px {sum(sent) / 1000:.0f} KB; whole photos of 320 px {whole / 1000:.0f} KB")


def as_files(quilt: Quilt, view: quilt_picture.View) -> None:
    """Print how large the file for a text message and the paper are."""
    jpeg = timed("drawn as JPEG", lambda: quilt_print.jpeg_of(quilt, view, caption="No. 1, picture 1."))
    facts = {
        "picture": 1, "version": 1, "order": 1, "title": "Forty-two", "on": "today",
        "size": "86 × 100 in", "blocks": 42, "approver": "An aunt", "left_out": [["43F", "a stain"]],
        "compromises": ["04F lies upside down."], "cloth": [["Sashing", "Forest"]], "asks_to_move": True,
        "words": picture_in_words.sentence(quilt),
    }  # fmt: skip
    about = {"number": 1, "kind": "The quilt picture", "maker": "The workroom"}
    pdf = timed("set as PDF", lambda: press.set_paper("picture", facts, about, size="letter", picture=jpeg))
    print(f"JPEG {len(jpeg) / 1000:.0f} KB, PDF {len(pdf) / 1000:.0f} KB")


def main() -> None:
    """Print bytes and seconds."""
    with tempfile.TemporaryDirectory() as folder:
        settings.DATA_DIR = Path(folder)
        quilt = quilt_of_42()
        panels = panels_of(quilt)
        view = quilt_picture.View(panels=panels)
        on_the_page(quilt, view, panels)
        as_files(quilt, view)


if __name__ == "__main__":
    main()

"""Light on cloth: relief turned into shade, grain that is made once, soft shadows, a camera's cast."""

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray
from PIL import Image

CELL = 4
WHITE = 255.0
WRAP = 130

Field = NDArray[np.float32]


@dataclass(frozen=True)
class Sun:
    """Where the light comes from: a direction over the picture and how steeply it falls."""

    x: float
    y: float
    height: float

    @classmethod
    def somewhere(cls, rng: np.random.Generator) -> "Sun":
        angle = np.radians(rng.uniform(200, 262))
        return cls(float(np.cos(angle)), float(np.sin(angle)), float(rng.uniform(0.9, 1.25)))


def shade(relief: Field, *, inch: float, sun: Sun, depth: float = 1) -> Field:
    """Return how bright each cell of the relief is; flat cloth is 1, hollows are darker."""
    down, right = np.gradient(relief * np.float32(inch / CELL))
    facing = (sun.height - right * sun.x - down * sun.y) / np.sqrt(1 + right**2 + down**2)
    hollow = np.clip((soft(relief, 7) - relief) * 1.1, -0.05, 0.22)
    return np.clip(1 + depth * (facing / sun.height - 1) * 0.85 - hollow, 0.35, 1.25).astype(np.float32)


def soft(field: Field, reach: int) -> Field:
    """Return the field blurred, `reach` cells each way."""
    out = field
    for _ in range(2):
        for axis in (0, 1):
            out = box_mean(out, reach, axis)
    return out


def box_mean(field: Field, reach: int, axis: int) -> Field:
    pad = [(0, 0), (0, 0)]
    pad[axis] = (reach + 1, reach)
    sums = np.cumsum(np.pad(field, pad, mode="edge"), axis=axis, dtype=np.float32)
    high = np.take(sums, range(2 * reach + 1, sums.shape[axis]), axis=axis)
    low = np.take(sums, range(sums.shape[axis] - 2 * reach - 1), axis=axis)
    return (high - low) / np.float32(2 * reach + 1)


def enlarged(field: Field, size: tuple[int, int]) -> Field:
    """Return the field stretched smoothly to a size in pixels."""
    return np.array(Image.fromarray(field.astype(np.float32)).resize(size, Image.Resampling.BICUBIC))


def clouds(rng: np.random.Generator, size: tuple[int, int], *, lump: tuple[float, float]) -> Field:
    """Return smooth noise about 0, with lumps so many cells wide and tall."""
    wide, tall = (max(2, round(side / one)) + 2 for side, one in zip(size, lump, strict=True))
    return enlarged(rng.standard_normal((tall, wide)).astype(np.float32), size)


@cache
def grain(kind: str) -> Field:
    """Return a sheet of fine texture about 0, larger than any picture: knit, heather, weave, wood or film.

    It is one piece four times over: noise this fine does not show that it repeats.
    """
    rng = np.random.default_rng(sum(kind.encode()))
    tall, wide = 1100, 850
    fine = np.pad(rng.standard_normal((tall, wide)).astype(np.float32), WRAP, mode="wrap")
    if kind == "knit":
        sheet = box_mean(fine, 1, 0) + 0.5 * np.roll(fine, 1, axis=1)
    elif kind == "heather":
        sheet = box_mean(box_mean(fine, 9, 1), 1, 0) + 0.5 * box_mean(box_mean(np.roll(fine, 99), 4, 1), 1, 0)
    elif kind == "weave":
        sheet = box_mean(box_mean(fine, 12, 1), 1, 0) + box_mean(box_mean(np.roll(fine, 77), 12, 0), 1, 1)
    elif kind == "wood":
        sheet = box_mean(box_mean(fine, 60, 0), 1, 1) + 0.5 * box_mean(fine, 14, 0)
    else:
        sheet = box_mean(box_mean(fine, 1, 0), 1, 1)
    sheet = sheet[WRAP:-WRAP, WRAP:-WRAP]
    return np.tile((sheet / sheet.std()).astype(np.float32), (2, 2))


def patch(kind: str, rng: np.random.Generator, size: tuple[int, int]) -> Field:
    """Return a piece of the texture, from a place of its own."""
    sheet = grain(kind)
    top, left = rng.integers(sheet.shape[0] - size[1] + 1), rng.integers(sheet.shape[1] - size[0] + 1)
    return sheet[top : top + size[1], left : left + size[0]]


def shadow(mask: Field, *, inch: float, sun: Sun, lift: float = 0.3) -> Field:
    """Return how much light the table keeps beside a thing that lies on it, the thing given in cells."""
    step = inch / CELL * lift
    near = soft(mask, max(1, round(inch / CELL * 0.16)))
    far = soft(shifted(mask, -sun.x * step * 1.6, -sun.y * step * 1.6), max(2, round(inch / CELL * 0.55)))
    return ((1 - 0.42 * near) * (1 - 0.36 * far)).astype(np.float32)


def shifted(field: Field, right: float, down: float) -> Field:
    return np.roll(field, (round(down), round(right)), axis=(0, 1))


def photographed(scene: Field, rng: np.random.Generator) -> Image.Image:
    """Return the scene (three planes, 0 to 255) as a camera sees it: uneven light, a cast, noise."""
    tall, wide = scene.shape[1:]
    x, y = np.linspace(-1, 1, wide, dtype=np.float32), np.linspace(-1, 1, tall, dtype=np.float32)[:, None]
    lean_x, lean_y = rng.uniform(-0.09, 0.03), rng.uniform(-0.1, 0.0)
    fall = np.float32(rng.uniform(0.04, 0.09))
    light = 1 + np.float32(lean_x) * x + np.float32(lean_y) * y - fall * (x**2 + y**2)
    warm = rng.uniform(-0.025, 0.04)
    noise = patch("film", rng, (wide, tall)) * np.float32(0.7)
    planes = []
    for plane, cast in zip(scene, (1.015 + warm, 1.01, 1.0 - warm), strict=True):
        plane *= light * np.float32(cast)
        plane += noise
        np.clip(plane, 0, WHITE, out=plane)
        planes.append(Image.fromarray(plane.astype(np.uint8)))
    return Image.merge("RGB", planes)


def columned(color: tuple[int, int, int]) -> Field:
    """Return a color so that it spreads over three planes."""
    return np.array(color, dtype=np.float32)[:, None, None]

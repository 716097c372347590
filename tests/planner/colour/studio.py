"""SIMULATION: drawn photographs of shirts whose colors, areas and outline are known exactly.

They stand in for what no real photograph tells: the true color. Folds, light, camera and table are simple
models, so a result on them is a lower limit of the error, never a promise about real photographs.
"""

from __future__ import annotations

import io
from dataclasses import dataclass

import numpy as np
from PIL import Image, ImageDraw

from planner.colour import Neutral, difference, srgb_to_lab
from planner.colour.convert import srgb_to_linear

WIDTH, HEIGHT = 420, 520
PAPER = 0.85  # reflectance of the white paper beside the shirt

GARMENTS = {
    "white": "f2f2ee",
    "black": "26262a",
    "grey": "9a9b9d",
    "charcoal": "4a4b4f",
    "navy": "1f2a4d",
    "royal": "2350b0",
    "sky": "9cc3e6",
    "red": "c0202e",
    "maroon": "6b1f2e",
    "orange": "e8762c",
    "gold": "eab52c",
    "lemon": "f2e36a",
    "kelly": "1f8a4c",
    "forest": "24452f",
    "teal": "1d8089",
    "purple": "5b3a86",
    "pink": "f0a8c0",
    "sand": "c9b48f",
}
INKS = ("f5f3ea", "1c1c20", "d8232f", "f0c419", "2459a8", "2c9a58", "e77fa4", "7c4fa0", "e06a1f", "8fc9dd")
TABLES = ("e9e7e2", "a57f57", "4f4238", "b9a88d", "6d7d92", "cfd3d2")


@dataclass(frozen=True)
class Shot:
    """A drawn photograph and the truth about it."""

    image: np.ndarray
    mask: np.ndarray
    ground: np.ndarray
    prints: tuple[tuple[np.ndarray, float], ...]
    neutral: Neutral


@dataclass(frozen=True)
class Light:
    """How the shirt is lit: a hard shadow takes 42 %; the cast is the largest gain or loss of a channel."""

    shadow: bool = False
    cast: float = 0.0
    dimmest: float = 1.0
    paper: bool = True


SOFT, HARD = Light(), Light(shadow=True)
SOFT_CAST, HARD_CAST = Light(cast=0.15, dimmest=0.75), Light(shadow=True, cast=0.15, dimmest=0.75)


def lab_of(hex_: str) -> np.ndarray:
    return srgb_to_lab(tuple(bytes.fromhex(hex_)))


def linear_of(hex_: str) -> np.ndarray:
    return srgb_to_linear(tuple(bytes.fromhex(hex_)))


def photograph(
    hex_: str,
    light: Light,
    seed: int,
    *,
    yarn: str = "",
    heather: float = 0.0,
    tables: tuple[str, ...] = TABLES,
) -> Shot:
    """Draw a shirt of one color with one to three print colors; `heather` is the share of a second yarn."""
    rng = np.random.default_rng((seed, int(hex_, 16)))
    mask = _garment(rng)
    albedo = np.empty((HEIGHT, WIDTH, 3))
    albedo[:] = linear_of(_unlike(hex_, tables, rng, 14)) * (
        1 + 0.05 * rng.standard_normal((HEIGHT, WIDTH, 1))
    )
    ground = linear_of(hex_)
    albedo[mask] = ground
    if heather:
        flecks = mask & (_fleck(rng) < heather)
        albedo[flecks] = linear_of(yarn)
        ground = (1 - heather) * ground + heather * linear_of(yarn)
    prints = _print(albedo, mask, hex_, rng)
    paper = 24, 30
    shade = _shade(mask, light, rng)
    if light.paper:
        albedo[12:36, 14:46] = PAPER
        shade[12:36, 14:46] = 1.0
    picture = _camera(albedo * shade[..., None], light, rng)
    lab = lab_of(hex_) if not heather else srgb_to_lab(_coded(ground))
    return Shot(picture, mask, lab, prints, Neutral(paper[1], paper[0], 9, PAPER))


def _garment(rng: np.random.Generator) -> np.ndarray:
    """Return the mask of a T-shirt: a body and two sleeves, a little different each time."""
    a = rng.uniform(-0.02, 0.02, 12)
    corners = [
        (0.36 + a[0], 0.13), (0.44, 0.17 + a[1]), (0.56, 0.17 + a[1]), (0.64 + a[2], 0.13),
        (0.90 + a[3], 0.26 + a[4]), (0.83 + a[5], 0.42), (0.74, 0.37 + a[6]), (0.75 + a[7], 0.90 + a[8]),
        (0.25 + a[9], 0.90 + a[10]), (0.26, 0.37 + a[6]), (0.17 + a[11], 0.42), (0.10 - a[3], 0.26 + a[4]),
    ]  # fmt: skip
    drawn = Image.new("1", (WIDTH, HEIGHT))
    ImageDraw.Draw(drawn).polygon([(x * WIDTH, y * HEIGHT) for x, y in corners], fill=1)
    return np.asarray(drawn, dtype=bool)


def _fleck(rng: np.random.Generator) -> np.ndarray:
    """Return noise in short upright streaks, as the yarns of a heather knit lie.

    They are two pixels wide, as JPEG halves the resolution of color: flecks of one pixel would lose theirs.
    """
    noise = rng.random((HEIGHT // 4 + 1, WIDTH // 2 + 1))
    return noise.repeat(4, axis=0).repeat(2, axis=1)[:HEIGHT, :WIDTH]


def _unlike(hex_: str, choice: tuple[str, ...], rng: np.random.Generator, apart: float) -> str:
    far = [each for each in choice if difference(lab_of(each), lab_of(hex_)) > apart] or list(choice)
    return far[int(rng.integers(len(far)))]


def _print(albedo: np.ndarray, mask: np.ndarray, hex_: str, rng: np.random.Generator) -> tuple:
    """Draw one to three blocks of ink, each 18 CIEDE2000 from all else; return their colors and shares."""
    y, x = np.mgrid[:HEIGHT, :WIDTH]
    taken, owner = [hex_], np.zeros((HEIGHT, WIDTH), int)
    for number in range(1, int(rng.integers(1, 4)) + 1):
        far = [ink for ink in INKS if all(difference(lab_of(ink), lab_of(each)) > 18 for each in taken)]
        taken.append(far[int(rng.integers(len(far)))])
        middle_x, middle_y = rng.uniform(0.38, 0.62) * WIDTH, rng.uniform(0.35, 0.7) * HEIGHT
        half_x, half_y = rng.uniform(0.05, 0.13) * WIDTH, rng.uniform(0.04, 0.11) * HEIGHT
        power = (2.0, 8.0)[int(rng.integers(2))]
        inside = (np.abs((x - middle_x) / half_x) ** power + np.abs((y - middle_y) / half_y) ** power) < 1
        owner[inside & mask] = number
        albedo[inside & mask] = linear_of(taken[-1])
    shares = [
        (lab_of(taken[number]), float((owner[mask] == number).mean())) for number in range(1, len(taken))
    ]
    return tuple(shares)


def _shade(mask: np.ndarray, light: Light, rng: np.random.Generator) -> np.ndarray:
    """Return folds, a light from one side (30 % either way) and perhaps a hard shadow on part of it."""
    y, x = np.mgrid[:HEIGHT, :WIDTH]
    across, down = x / WIDTH - 0.5, y / HEIGHT - 0.5
    turn = rng.uniform(0, 2 * np.pi)
    shade = 1 + 0.6 * 0.5 * (np.cos(turn) * across + np.sin(turn) * down) * 2 * 0.7
    for _ in range(5):
        way, wave = rng.uniform(0, np.pi), rng.uniform(30, 90)
        phase = rng.uniform(0, 2 * np.pi)
        shade *= 1 + 0.025 * np.sin(2 * np.pi * (np.cos(way) * x + np.sin(way) * y) / wave + phase) * mask
    if light.shadow:
        turn = rng.uniform(0, 2 * np.pi)
        along = np.cos(turn) * across + np.sin(turn) * down
        edge = np.quantile(along[mask], rng.uniform(0.2, 0.45))
        shade *= 1 - 0.42 / (1 + np.exp((along - edge) * 250))
    return shade / np.median(shade[mask]) if not light.shadow else shade


def _camera(scene: np.ndarray, light: Light, rng: np.random.Generator) -> np.ndarray:
    """Return what a phone makes of it: cast and exposure, noise, 8 bits, JPEG of quality 85."""
    gain = rng.uniform(1 - light.cast, 1 + light.cast, 3) if light.cast else np.ones(3)
    exposure = rng.uniform(light.dimmest, 1.0)
    seen = np.clip(scene * gain * exposure + 0.004 * rng.standard_normal(scene.shape), 0, 1)
    file = io.BytesIO()
    Image.fromarray((_coded(seen) * 255 + 0.5).astype(np.uint8)).save(file, "JPEG", quality=85)
    return np.asarray(Image.open(file).convert("RGB"))


def _coded(linear: np.ndarray) -> np.ndarray:
    linear = np.clip(linear, 0, 1)
    return np.where(linear <= 0.0031308, linear * 12.92, 1.055 * linear ** (1 / 2.4) - 0.055)

"""What light fell on the shirt: from a tapped neutral, or judged from the whole picture."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.problems import BadInput

from .convert import Array, difference, linear_to_lab, linear_to_oklab
from .look import Neutral
from .picture import Mask, Pixels, linear_light

NOT_IN_PICTURE = "must lie within the picture."
TOO_BRIGHT = "is too bright to measure: the camera made plain white of it. Tap a spot that is less lit."
TOO_DARK = "is too dark to measure. Tap white paper or a gray card that lies in the light."
MIXED = "covers more than one color. Tap in the middle of the card or paper."
COLORED = "is a color, not white or gray. Tap a gray card, white paper or a white line of the mat."

_LUMINANCE = np.array([0.2126, 0.7152, 0.0722])
_MOST_TINT = 0.08  # chroma over lightness in OKLab: a bulb's yellow is about 0.07, a tan shirt more
_MOST_PALE_TINT = 0.06  # the same around the shirt, where nobody said that it is white
_PAPER = 0.965  # OKLab lightness of white things in good light
_PALE = (0.6, 0.85)  # lightness of the shirt over that of the brightest: from here on, all of it
_HUELESS = (0.03, 0.08)  # chroma over lightness: a shirt of more color may be the brightest in good light
_MOST_GAIN = 1.18  # of lightness: a room dimmer than this is not told from a dark scene
_LEAST_WHITE, _ENOUGH_WHITE = 0.80, 0.01  # lightness, and share of what lies around
_WHITE_SHIRT = (0.84, 0.92)  # lightness from which a shirt may be white, and from which it most likely is
_NEARLY_WHITE = (0.02, 0.04)  # chroma over lightness: cream has 0.035
EXPOSURE, CAST = 0.8, 0.6  # how much of what is judged is put right; the rest may be a pale sheet's own
_EXPOSURE_OF_ALL = 0.5  # the same for a shirt that is not pale, where something white lies around
_DOUBT = 0.18  # share that a channel may be off by, with nothing known,
_DOUBT_BESIDE_WHITE, _DOUBT_NEUTRAL = 0.08, 0.02  # beside something white, and with a neutral
_HALVING = 9.0  # CIEDE2000 that take the confidence to 1/e
_LEAST_AROUND = 0.08  # share of the picture that must lie around the shirt to judge from it


@dataclass(frozen=True)
class Light:
    """The gain of each linear channel that puts the light right, and by what share it may be off."""

    gain: tuple[float, float, float] = (1.0, 1.0, 1.0)
    doubt: float = _DOUBT

    def sureness(self, linear: Array) -> float:
        """Say how little a color, in linear light, would move if the light were off by the doubt; 0 to 1."""
        off = np.array([(1, 0, 0), (0, 1, 0), (0, 0, 1), (1, 1, 1)]) * self.doubt
        seen = np.clip(linear * np.concatenate([1 + off, 1 - off]), 0, None)
        moved = difference(linear_to_lab(linear), linear_to_lab(seen))
        return float(np.exp(-np.sqrt((moved**2).mean()) / _HALVING))


def light_of_neutral(image: Pixels, neutral: Neutral) -> Light:
    """Return the light under which the tapped spot has its known reflectance; a spot of color is refused."""
    patch = linear_light(_around(image, neutral), 64).reshape(-1, 3)
    mean = patch.mean(axis=0)
    lightness, a, b = linear_to_oklab(mean)
    if np.median(patch, axis=0).max() >= 0.99:
        raise BadInput("neutral", TOO_BRIGHT)
    if lightness < 0.2:
        raise BadInput("neutral", TOO_DARK)
    if np.hypot(a, b) / lightness > _MOST_TINT:
        raise BadInput("neutral", COLORED)
    if linear_to_oklab(patch)[:, 0].std() > 0.06:
        raise BadInput("neutral", MIXED)
    red, green, blue = neutral.reflectance / mean
    return Light((float(red), float(green), float(blue)), _DOUBT_NEUTRAL)


def _around(image: Pixels, neutral: Neutral) -> Pixels:
    height, width = image.shape[:2]
    if not (0 <= neutral.x < width and 0 <= neutral.y < height):
        raise BadInput("neutral", NOT_IN_PICTURE)
    reach = max(1.0, 0.7 * neutral.radius)  # the square within the circle
    left, top = max(0, int(neutral.x - reach)), max(0, int(neutral.y - reach))
    right, bottom = min(width, int(neutral.x + reach) + 1), min(height, int(neutral.y + reach) + 1)
    return image[top:bottom, left:right]


def light_of_scene(linear: Array, shirt: Mask) -> Light:
    """Judge exposure from the brightest of the picture, cast from pale things, the shirt among them.

    A pale shirt that is about the brightest thing in a dim picture is lifted; one of color, or a dark one,
    only as far as something white lies around. What then is nearly white is taken to be so, in part.
    """
    if (~shirt).mean() < _LEAST_AROUND:
        return Light()
    oklab = linear_to_oklab(linear)
    tint, support = _tint(linear[~shirt], oklab[~shirt])
    lift = _lift(oklab, shirt, support)
    tint = tint * _own_tint(np.median(linear[shirt], axis=0) * lift**3 / tint)
    red, green, blue = lift**3 / tint
    doubt = _DOUBT + (_DOUBT_BESIDE_WHITE - _DOUBT) * support
    return Light(
        (float(red), float(green), float(blue)), doubt + 0.5 * float(np.abs(tint - 1).max()) + (lift - 1)
    )


def _lift(oklab: Array, shirt: Mask, support: float) -> float:
    """Return by how much lightness is lifted, so that what is brightest is more nearly as light as paper."""
    lightness = oklab[..., 0]
    brightest = float(lightness[lightness >= np.quantile(lightness, 0.993)].mean())
    middle = np.median(oklab[shirt], axis=0)
    hueless = np.interp(_strength(middle), _HUELESS, (1, 0))
    pale = np.interp(middle[0] / brightest, _PALE, (0, 1)) * hueless
    sure = max(EXPOSURE * float(pale), _EXPOSURE_OF_ALL * support)
    return float(np.clip(_PAPER / brightest, 1, _MOST_GAIN) ** sure)


def _own_tint(color: Array) -> Array:
    """Return the color of the light (luminance 1) that a shirt shows which is most likely white."""
    oklab = linear_to_oklab(color)
    hueless = np.interp(_strength(oklab), _NEARLY_WHITE, (1, 0))
    white = np.interp(oklab[0], _WHITE_SHIRT, (0, 1)) * hueless
    return np.asarray((color / max(float(color @ _LUMINANCE), 1e-6)) ** (CAST * white))


def _strength(oklab: Array) -> float:
    """Return chroma over lightness: more or less light does not move it."""
    return float(np.hypot(oklab[1], oklab[2])) / max(float(oklab[0]), 1e-6)


def _tint(linear: Array, oklab: Array) -> tuple[Array, float]:
    """Return the color of the light (luminance 1) that pale things show, and how far to trust it, 0 to 1."""
    lightness = oklab[:, 0]
    chroma = np.hypot(oklab[:, 1], oklab[:, 2]) / np.maximum(lightness, 1e-6)
    bright = lightness > max(_LEAST_WHITE, 0.95 * float(np.quantile(lightness, 0.995)))
    pale = bright & (chroma < _MOST_PALE_TINT)
    support = min(1.0, float(pale.mean()) / _ENOUGH_WHITE)
    if support < 0.1:
        return np.ones(3), 0.0
    color = linear[pale].mean(axis=0)
    color = color / (color @ _LUMINANCE)
    return np.asarray(color ** (CAST * support)), support

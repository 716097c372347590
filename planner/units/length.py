"""Lengths: whole ticks inside, the shop's words outside.

A tick is 1/320 mm, the largest unit in which 1/64 in (127 ticks) and 0.1 mm (32 ticks) are both
whole. The inch is 25.4 mm exactly (international yard and pound agreement, 1959).
"""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction
from typing import Annotated

from planner.problems import BadInput

MM = 320
INCH = 8128
YARD = 36 * INCH
METRE = 1000 * MM

Length = Annotated[int, "length"]
Area = Annotated[int, "area"]

UNITS = {"in": INCH, "ft": 12 * INCH, "yd": YARD, "mm": MM, "cm": 10 * MM, "m": METRE}
_METRIC = {"mm", "cm", "m"}
_NAMES = {
    '"': "in", "″": "in", "”": "in", "inch": "in", "inches": "in",
    "'": "ft", "′": "ft", "foot": "ft", "feet": "ft",
    "yard": "yd", "yards": "yd", "yds": "yd",
}  # fmt: skip
_GRID = {"inch": INCH // 64, "metric": MM // 10}
_FINEST = 64

_NUMBER = re.compile(r"(?:(\d+)\s+)?(\d+)/(\d+)|(\d+(?:\.\d+)?|\.\d+)")
_LENGTH = re.compile(rf"(?P<number>{_NUMBER.pattern})\s*(?P<unit>[a-z\"'″”′]*)\.?")


def parse_length(text: str, *, unit: str) -> int:
    """Return the ticks of a typed length such as `12 3/8`, `12⅜"`, `12.375` or `31.4 cm`.

    A bare number is in `unit` (in ft yd mm cm m). A length off the grid, 1/64 in or 0.1 mm,
    is refused with both neighbours named, never rounded.
    """
    if unit not in UNITS:
        raise BadInput("unit", f"“{unit}” is not a unit of length; use one of {', '.join(UNITS)}.")
    match = _LENGTH.fullmatch(_plain(text))
    if match is None:
        raise BadInput("length", f"“{text}” is not a length; write it like 12 3/8, 12.375 in or 31.4 cm.")
    written = match["unit"] or unit
    name = _NAMES.get(written, written)
    if name not in UNITS:
        raise BadInput("length", f"“{written}” is not a unit of length; use one of {', '.join(UNITS)}.")
    return _on_grid(_number(match, text) * UNITS[name], name, text)


def show_length(ticks: int, *, unit: str, step: int | None = None, rounding: str = "exact") -> str:
    """Return a length in words: inches, feet and yards as fractions, metric with a decimal point.

    `rounding` is exact, up or nearest, the latter two to `step` ticks (1/8 of an inch or yard,
    0.1 cm, 1 mm or 0.01 m when not given). Anything that is not exactly the length says "about".
    """
    if unit not in UNITS:
        raise BadInput("unit", f"“{unit}” is not a unit of length; use one of {', '.join(UNITS)}.")
    if rounding not in ("exact", "up", "nearest"):
        raise BadInput("rounding", "must be exact, up or nearest.")
    if step is not None and step < 1:
        raise BadInput("step", "must be at least 1 tick.")
    step = step or _usual_step(unit)
    if rounding == "up":
        shown = -(-ticks // step) * step
    elif rounding == "nearest" or not _is_shown_exactly(ticks, unit):
        step = step if rounding == "nearest" else _finer_step(unit)
        shown = (2 * ticks + step) // (2 * step) * step
    else:
        shown = ticks
    about = "" if shown == ticks and _is_shown_exactly(shown, unit) else "about "
    return about + _words(shown, unit)


def _plain(text: str) -> str:
    """Give `12⅜"` a space before its fraction and ordinary slashes, in lower case."""
    spaced = "".join(f" {c}" if unicodedata.category(c) == "No" else c for c in str(text))
    plain = unicodedata.normalize("NFKC", spaced).replace("\u2044", "/")
    plain = re.sub("''|\u2032\u2032", '"', plain)
    plain = re.sub(r"(?<=\d),(?=\d{1,2}(?!\d))", ".", plain)
    return re.sub(r"(?<=\d)\s*-\s*(?=\d+/)", " ", plain).strip().lower()


def _number(match: re.Match[str], text: str) -> Fraction:
    whole, over, under, decimal = match[2], match[3], match[4], match[5]
    if decimal is not None:
        return Fraction(decimal)
    if int(under) == 0:
        raise BadInput("length", f"“{text}” divides by nothing; write the fraction like 3/8.")
    return int(whole or 0) + Fraction(int(over), int(under))


def _on_grid(exact: Fraction, name: str, text: str) -> int:
    grid = _GRID["metric" if name in _METRIC else "inch"]
    if exact % grid == 0:
        return int(exact)
    below = int(exact // grid) * grid
    near = " or ".join(_words(ticks, name if name in _METRIC else "in") for ticks in (below, below + grid))
    finest = "0.1 mm" if name in _METRIC else "1/64 in"
    raise BadInput("length", f"“{text}” is finer than {finest}; write {near}.")


def _usual_step(unit: str) -> int:
    return {"in": INCH // 8, "ft": INCH, "yd": YARD // 8, "mm": MM, "cm": MM, "m": 10 * MM}[unit]


def _finer_step(unit: str) -> int:
    return {"in": INCH // 16, "ft": INCH, "yd": YARD // 8, "mm": MM // 10, "cm": MM // 10, "m": MM}[unit]


def _is_shown_exactly(ticks: int, unit: str) -> bool:
    if unit in _METRIC:
        return ticks % _GRID["metric"] == 0
    return _FINEST % Fraction(ticks, UNITS[unit]).denominator == 0


def _words(ticks: int, unit: str) -> str:
    value = Fraction(ticks, UNITS[unit])
    if unit in _METRIC:
        digits = {"mm": 1, "cm": 2, "m": 4}[unit]
        scaled = abs(value) * 10**digits
        whole, rest = divmod(int(scaled), 10**digits)
        decimals = f"{rest:0{digits}d}".rstrip("0")
        return f"{'-' if value < 0 else ''}{whole}{'.' + decimals if decimals else ''} {unit}"
    whole, part = divmod(abs(value), 1)
    fraction = f"{part.numerator}/{part.denominator}" if part else ""
    number = " ".join(filter(None, [str(whole) if whole or not fraction else "", fraction]))
    return f"{'-' if value < 0 else ''}{number} {unit}"

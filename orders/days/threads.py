"""Where the points of the thread pictures lie; a thread is time, left to right.

Places are hundredths of the picture's width, to one decimal, so that threads keep their thickness at any
width. Days may be fractions: they are only drawn.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

START, END = 2.0, 97.0
COST = 72.0
SHORTEST = 3.0


@dataclass(frozen=True)
class Gauge:
    """`work` is where the thread of work ends, `knot` where the day lies; `late` when it runs past."""

    work: float
    knot: float
    late: bool


def gauge(work: float, left: float) -> Gauge:
    """Return the gauge for `work` bench days still to do and `left` days until the day."""
    if 0 < left >= work:
        return Gauge(max(_place(work, of=left), START + SHORTEST), END, late=False)
    return Gauge(END, max(_place(max(left, 0), of=max(work, 1)), START + 2 * SHORTEST), late=True)


def _place(part: float, *, of: float) -> float:
    return round(START + (END - START) * part / of, 1)


@dataclass(frozen=True)
class Slack:
    """`now` is where today lies, `cost` where waiting begins to cost a day."""

    now: float
    cost: float


def slack(waited: int, room: int) -> Slack:
    """Return the thread of a wait: days waited, days of room; below 0 it has cost that many days."""
    step = (COST - START) / max(waited, waited + room, 1)
    return Slack(round(START + step * waited, 1), round(START + step * max(waited + room, 0), 1))


@dataclass(frozen=True)
class DateBar:
    """The points of a date bar; `fits` or `promised` is None where no such day is known."""

    start: float
    not_before: float
    fits: float | None
    promised: float | None
    needed: float
    late: bool

    @property
    def free_from(self) -> float:
        """Where the solid thread begins."""
        return self.needed if self.fits is None else self.fits

    @property
    def free_to(self) -> float:
        """Where the solid thread ends."""
        return self.needed if self.promised is None else max(self.promised, self.free_from)


def date_bar(
    today: date, *, not_before: date, fits: date | None, promised: date | None, needed: date
) -> DateBar:
    """Return the bar from today to the last of the days, in proportion."""
    days = [day for day in (not_before, fits, promised, needed) if day]
    whole = max((max(days) - today).days, 1)

    def at(day: date) -> float:
        return _place(min(max((day - today).days, 0), whole), of=whole)

    return DateBar(
        start=START,
        not_before=at(not_before),
        fits=at(fits) if fits else None,
        promised=at(promised) if promised else None,
        needed=at(needed),
        late=fits is not None and fits > needed,
    )


KNOT_APART, ODD, EVEN = 90, 39, 95


@dataclass(frozen=True)
class Way:
    """The customer's thread: its width, the pieces of thread, the knots, the needle and her day."""

    width: int
    past: str
    ahead: str
    knots: tuple[str, ...]
    needle: tuple[int, int]
    day: tuple[int, int]


def way(steps: int, *, done: int) -> Way:
    """Return the thread through `steps` points, of which `done` are knots and the last is her day."""
    points = [(KNOT_APART * n, ODD if n % 2 else EVEN) for n in range(1, steps + 1)]
    knots = points[:done]
    starts = [(6, 70), *((x + 17, y) for x, y in knots)]
    past = [_swing(a, (x - 17, y)) for a, (x, y) in zip(starts, knots, strict=False)]
    needle = points[min(done, steps - 1)]
    if done < steps:
        past.append(_swing(starts[-1], (needle[0] - 22, needle[1])))
    ahead = [
        _swing((x + 24, y), (z - 14, v))
        for (x, y), (z, v) in zip(points[done:], points[done + 1 :], strict=False)
    ]
    loops = tuple(_loop(x, y) for x, y in knots)
    return Way(KNOT_APART * (steps + 1), " ".join(past), " ".join(ahead), loops, needle, points[-1])


def _swing(a: tuple[int, int], b: tuple[int, int]) -> str:
    half = (a[0] + b[0]) // 2
    return f"M{a[0]} {a[1]}C{half} {a[1]} {half} {b[1]} {b[0]} {b[1]}"


def _loop(x: int, y: int) -> str:
    return (
        f"M{x - 17} {y}C{x - 4} {y} {x + 10} {y - 8} {x + 10} {y - 16}"
        f"a10 10 0 0 0-20 0C{x - 10} {y - 8} {x + 4} {y} {x + 17} {y}"
    )

"""The setting of the shop's own heat tool that stays at or under a limit, or why there is none.

An iron is turned to dots: the most a care label's dots allow is 110, 150 and 200 °C (ISO 3758:2012;
the 2023 edition was not seen, so these are the cautious limits), whole in °F. A press is set in degrees,
less what it runs hotter than it says. Thermostats swing, so a corner that will be cut away comes first.
"""

from __future__ import annotations

from dataclasses import dataclass

from planner.problems import BadInput, Impossible, Problem

from .heat import NO_HEAT, show_heat

IRON, PRESS = "iron", "press"
ISO_DOTS = (230, 302, 392)
SHORT_OF = 5
"""A limit at most so many °F below a dot is kept by turning to just short of it."""
_COUNT = ("no", "one", "two", "three", "four")
COLD = "Sew the interfacing in, cold: no heat touches the piece."
BY_THE_BACK = (
    "From the back through a thick dry cloth, three seconds at a time, after a try on a corner "
    "that will be cut away; stop at the first change."
)
STAY_STITCH = "Hold the edge with a line of stitches and leave the interfacing out."


@dataclass(frozen=True)
class Tool:
    """An iron with dots, or a press with degrees.

    `hotter` is by how many degrees of its own `unit` it runs hotter than it says, less than 0 where it
    runs cooler; `least`, `most` and `step` are what a press can be set to; `dots` the °F of an iron's dots.
    """

    name: str
    kind: str = IRON
    unit: str = "F"
    hotter: int = 0
    least: int = 0
    most: int = 0
    step: int = 1
    dots: tuple[int, ...] = ISO_DOTS

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise BadInput("name", "must say what the tool is called.")
        if self.kind not in (IRON, PRESS):
            raise BadInput("kind", f"“{self.kind}” is neither {IRON} nor {PRESS}.")
        if self.unit not in ("F", "C"):
            raise BadInput("unit", f"“{self.unit}” is neither F nor C.")
        if not -100 <= self.hotter <= 100:
            raise BadInput("hotter", "a tool that far off is broken; have it looked at.")
        if self.kind == PRESS:
            self._check_degrees()
        elif not self.dots or list(self.dots) != sorted(set(self.dots)) or self.dots[0] <= 0:
            raise BadInput("dots", "each dot must be hotter than the one before.")

    def _check_degrees(self) -> None:
        if self.step < 1:
            raise BadInput("step", "must be at least 1 degree.")
        if not 0 < self.least <= self.most:
            raise BadInput("least", "the lowest setting must be more than 0 and not above the highest.")

    def real_dots(self) -> tuple[int, ...]:
        """Return how hot each dot may be in °F, with what the iron runs hotter rounded up."""
        return tuple(dot + _fahrenheit_degrees(self.hotter, self.unit) for dot in self.dots)


@dataclass(frozen=True)
class Setting:
    """Where a tool is set for a limit.

    `dots` is the dot of an iron to turn to, `short` to just short of it; `degrees` what a press shows.
    `heat` is the most it may reach, in °F. Where `bonds` is false the interfacing will hardly hold at
    this heat, and `ways` are two ways out.
    """

    tool: str
    limit: int
    heat: int
    words: str
    dots: int = 0
    short: bool = False
    degrees: int = 0
    bonds: bool = True
    ways: tuple[str, ...] = ()


def setting(
    tool: Tool, limit: int, *, bonds_at: int = 0, others: tuple[Tool, ...] = ()
) -> Setting | Impossible:
    """Return the hottest setting of a tool that stays at or under a limit (°F, 0 = no heat at all).

    `bonds_at` is what the interfacing needs, 0 for none. A tool that cannot hold the limit is refused
    with two ways out, another tool of the shop among them where one can.
    """
    found = _hottest(tool, limit)
    if found is None:
        ways = ways_out(limit, bonds_at=bonds_at, others=tuple(each for each in others if each != tool))
        return Impossible((Problem(_why(tool, limit), (tool.name,), " Or: ".join(ways)),))
    dots, short, degrees, heat = found
    words = _iron_words(dots, short) if tool.kind == IRON else f"Set {degrees} °{tool.unit}"
    if heat >= bonds_at:
        return Setting(tool.name, limit, heat, words, dots, short, degrees)
    better = tuple(each for each in others if each != tool)
    ways = _ways_to_bond(limit, bonds_at, better, unit=tool.unit)
    return Setting(tool.name, limit, heat, words, dots, short, degrees, bonds=False, ways=ways)


def ways_out(limit: int, *, bonds_at: int = 0, others: tuple[Tool, ...] = ()) -> tuple[str, str]:
    """Return two ways out where a tool cannot hold a limit: another tool or the back first, then cold."""
    if limit == NO_HEAT:
        return COLD, STAY_STITCH
    other = _other_that_can(limit, bonds_at, others) or _other_that_can(limit, 0, others)
    return other or BY_THE_BACK, COLD


def _ways_to_bond(limit: int, bonds_at: int, others: tuple[Tool, ...], *, unit: str) -> tuple[str, str]:
    longer = (
        f"Hold it longer, up to the limit of {show_heat(limit, unit=unit)} and never past it, "
        "and try on a corner that will be cut away."
    )
    return _other_that_can(limit, bonds_at, others) or longer, COLD


def _other_that_can(limit: int, bonds_at: int, others: tuple[Tool, ...]) -> str:
    for other in sorted(others, key=lambda each: each.name):
        found = _hottest(other, limit)
        if found is not None and found[3] >= bonds_at:
            dots, short, degrees, _ = found
            words = _iron_words(dots, short) if other.kind == IRON else f"Set {degrees} °{other.unit}"
            return f"Take the {other.name} instead. {words}."
    return ""


def _hottest(tool: Tool, limit: int) -> tuple[int, bool, int, int] | None:
    """Dots, whether just short of them, degrees, and the most heat in °F; None where it cannot hold it."""
    if limit == NO_HEAT:
        return None
    return _of_an_iron(tool, limit) if tool.kind == IRON else _of_a_press(tool, limit)


def _of_an_iron(tool: Tool, limit: int) -> tuple[int, bool, int, int] | None:
    dots = tool.real_dots()
    below = [number for number, heat in enumerate(dots, 1) if heat <= limit]
    following = below[-1] + 1 if below else 1
    if below and following <= len(dots) and dots[following - 1] - limit <= SHORT_OF:
        return following, True, 0, limit
    return (below[-1], False, 0, dots[below[-1] - 1]) if below else None


def _of_a_press(tool: Tool, limit: int) -> tuple[int, bool, int, int] | None:
    own = limit if tool.unit == "F" else (limit - 32) * 5 // 9
    shown = min((own - tool.hotter) // tool.step * tool.step, tool.most // tool.step * tool.step)
    if shown < tool.least:
        return None
    real = shown + tool.hotter
    return 0, False, shown, real if tool.unit == "F" else real * 9 // 5 + 32


def _why(tool: Tool, limit: int) -> str:
    if limit == NO_HEAT:
        return f"No heat may touch this piece, so the {tool.name} stays off."
    shown = show_heat(limit, unit=tool.unit)
    if tool.kind == IRON:
        coolest = show_heat(tool.real_dots()[0], unit=tool.unit)
        return f"The {tool.name} is too hot: one dot may be {coolest}, and the limit is {shown}."
    lowest = f"{tool.least} °{tool.unit}"
    hot = f" and runs {tool.hotter} hotter than it says" if tool.hotter > 0 else ""
    return f"The {tool.name} is too hot: it cannot be set below {lowest}{hot}; the limit is {shown}."


def _iron_words(dots: int, short: bool) -> str:
    count = f"{_COUNT[dots] if dots < len(_COUNT) else dots} dot{'' if dots == 1 else 's'}"
    return f"Turn to just short of {count}" if short else f"Turn to {count}"


def _fahrenheit_degrees(degrees: int, unit: str) -> int:
    return degrees if unit == "F" else -(-degrees * 9 // 5)

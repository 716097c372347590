"""Bad news, said the same way everywhere: what is wrong, where, and what would help."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any


class BadInput(ValueError):
    """Input that makes no sense; `field` names it, as a path such as `bag.garments[2].fibres`."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(f"{field}: {message}" if field else message)
        self.field = field
        self.message = message

    def within(self, outer: str) -> BadInput:
        """Return the same fault with its field named from one level further out."""
        joined = self.field if not outer else f"{outer}.{self.field}" if self.field else outer
        return BadInput(joined.replace(".[", "["), self.message)


@dataclass(frozen=True)
class Problem:
    """One thing that stands in the way, as a sentence.

    `where` holds the ids it is about, `change` says what would help,
    `figures` the numbers of the sentence for whoever draws a picture of them.
    """

    what: str
    where: tuple[str, ...] = ()
    change: str = ""
    figures: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True)
class Impossible:
    """It cannot be done, and this is why; `proof` is for whoever wants to re-add it."""

    problems: tuple[Problem, ...]
    proof: Any = None


@dataclass(frozen=True)
class Undecided:
    """The search stopped before it knew; `bound` is the best answer still possible."""

    problems: tuple[Problem, ...]
    bound: Any = None


@dataclass(frozen=True)
class Limit:
    """How long a search may go on.

    `seconds` is wall-clock time; `effort` is the engine's own count of steps, which gives
    the same answer on any machine. `watch(best)` hears of each better answer and stops the
    search, keeping it, by returning False. `tell(words)` hears how far a search is that has nothing yet.
    """

    seconds: float | None = None
    effort: int | None = None
    watch: Callable[[Any], bool] | None = None
    tell: Callable[[str], None] | None = None

    def __post_init__(self) -> None:
        if self.seconds is None and self.effort is None:
            raise BadInput("limit", "give seconds, effort or both.")
        if self.seconds is not None and self.seconds <= 0:
            raise BadInput("seconds", "must be more than 0.")
        if self.effort is not None and self.effort < 1:
            raise BadInput("effort", "must be at least 1.")

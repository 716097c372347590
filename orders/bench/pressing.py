"""What stands at the iron for one batch: the setting of the tool in hand, or why it is refused."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict, dataclass
from typing import Any

from orders.bench.bench import Batch, Cutting, Item
from orders.bench.iron import Dial, dial
from orders.models import Cloth, HeatTool
from planner.care import BONDS_AT, IRON, Setting, Tool, setting, show_heat


@dataclass(frozen=True)
class Pressing:
    """A batch and the tool in hand; `refused` says why it cannot be pressed with it, `ways` what can be done.

    `rolls` are the interfacings of the shelf that bond under the limit, with the heat each wants.
    """

    batch: Batch
    tool: Tool
    set: Setting | None
    refused: str
    ways: tuple[str, ...]
    rolls: tuple[str, ...]

    @property
    def is_iron(self) -> bool:
        return self.tool.kind == IRON

    @property
    def dial(self) -> Dial:
        """Where the hand of the iron goes."""
        return dial(self.batch.heat, self.tool)

    @property
    def cooler(self) -> int:
        """By how many degrees the tool runs cooler than it says."""
        return -self.tool.hotter

    @property
    def dots(self) -> str:
        """The dots to turn to, as they stand on the iron."""
        return "●" * (self.set.dots if self.set else 0)

    @property
    def between(self) -> tuple[str, str] | None:
        """The two dots the limit lies between, where the iron is turned to the cooler one."""
        dots = self.tool.real_dots()
        if self.set is None or self.set.short or not self.is_iron or self.set.dots >= len(dots):
            return None
        lies_on_it = dots[self.set.dots - 1] == self.batch.heat
        return None if lies_on_it else ("●" * self.set.dots, "●" * (self.set.dots + 1))


def pressing_of(batch: Batch, tools: Iterable[HeatTool], *, wanted: str = "") -> Pressing:
    """Return how a batch is pressed; `wanted` is the number of the tool that was taken in hand."""
    ready = list(tools)
    at_hand = {str(each.pk): each.as_tool() for each in ready}
    tool = at_hand.get(wanted) or next(iter(at_hand.values()), Tool("iron"))
    wants = wanted_bonds()
    kinds = {each.care.interfacing for item in batch.items for each in item.cuttings}
    bonds_at = max((wants.get(kind, 0) for kind in kinds), default=0)
    found = setting(tool, batch.heat, bonds_at=bonds_at, others=tuple(at_hand.values()))
    rolls = tuple(_rolls_under(batch.heat, tool.unit)) if bonds_at else ()
    if isinstance(found, Setting):
        return Pressing(batch, tool, found, "", found.ways, rolls)
    problem = found.problems[0]
    return Pressing(batch, tool, None, problem.what, tuple(problem.change.split(" Or: ")), rolls)


def wanted_bonds() -> dict[str, int]:
    """Return the heat each kind of interfacing wants: the shelf's own where its sheet was written down."""
    own = {cloth.kind: cloth.bonds_at for cloth in _rolls() if cloth.bonds_at}
    return BONDS_AT | own


def _rolls() -> Iterable[Cloth]:
    return Cloth.objects.filter(put_away_at=None, kind__in=list(BONDS_AT)).order_by("kind", "name")


def _rolls_under(limit: int, unit: str) -> Iterable[str]:
    for cloth in _rolls():
        wants = cloth.bonds_at or BONDS_AT[cloth.kind]
        if wants <= limit:
            yield f"{cloth.name}, {show_heat(wants, unit=unit)}"


def as_record(item: Item | None, cutting: Cutting | None, pressing: Pressing | None) -> dict[str, Any]:
    """Return what was shown at the iron, to be kept with an incident."""
    care = cutting.care if cutting else next((each.care for each in item.cuttings), None) if item else None
    told: dict[str, Any] = (
        {} if care is None else {name: asdict(care)[name] for name in ("heat", "seconds", "cover")}
    )
    if pressing is not None:
        told |= {
            "tool": pressing.tool.name,
            "words": pressing.set.words if pressing.set else pressing.refused,
        }
    return told

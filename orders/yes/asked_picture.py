"""A picture as it was asked about, drawn and told from what was kept of it then."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from django.utils.safestring import SafeString

from orders.cloth.cloth_needs import ROLES
from orders.cloth.swatch_tiles import Swatch
from orders.models import DesignVersion
from orders.quilt import picture_in_words, quilt_picture
from orders.quilt.panel_photos import Panel
from orders.quilt.quilt_picture import View
from planner.quilt import Quilt, Role

PARTS: tuple[Role, ...] = ("sashing", "cornerstone", "border", "binding", "frame", "filler", "backing")


@dataclass(frozen=True)
class Asked:
    """What was shown: the quilt, its panels and cloth, what was left out, and the compromises."""

    number: int
    quilt: Quilt
    shown: Mapping[str, Any]
    answer_by: date | None = None

    @property
    def left_out(self) -> list[tuple[str, str]]:
        """Names and reasons."""
        return [(name, why) for name, why in self.shown.get("left_out", [])]

    @property
    def compromises(self) -> list[str]:
        """Sentences."""
        return list(self.shown.get("compromises", []))

    @property
    def cloth(self) -> list[tuple[str, str]]:
        """The parts of the quilt and the name of the cloth of each."""
        named = ((ROLES.get(role, role), self.quilt.cloth.get(role, "")) for role in PARTS)
        return [(part, name) for part, name in named if name]

    @property
    def words(self) -> str:
        """Say the picture row by row."""
        return picture_in_words.sentence(self.quilt)

    def view(self, *, chalked: Collection[str] = (), whole: str = "") -> View:
        """Return how it is drawn: photos and cloth as they were then, in chalk what is pointed out.

        `whole` is where one photo of all of it is; the cloth and the panels are then fetched with it.
        """
        return View(
            panels=self._panels,
            cloth=self.shown.get("colors", {}),
            swatches={} if whole else self._swatches,
            chalked=chalked,
            named="asked",
            whole=whole,
        )

    @property
    def _panels(self) -> dict[str, Panel]:
        return {name: panel_from(kept) for name, kept in self.shown.get("panels", {}).items()}

    @property
    def _swatches(self) -> dict[str, Swatch]:
        return {role: Swatch(**kept) for role, kept in self.shown.get("swatches", {}).items()}

    @property
    def has_photos(self) -> bool:
        """Say whether there is a photo of a shirt or of a cloth in it."""
        panels = (*self._panels.values(), *(each.panel for each in self._swatches.values()))
        return any(each.is_on_disk for each in panels)

    def drawn(self, *, chalked: Collection[str] = (), whole: str = "") -> SafeString:
        """Draw it."""
        return quilt_picture.draw(self.quilt, self.view(chalked=chalked, whole=whole))

    def with_blocks_as(self, quilt: Quilt) -> Asked:
        """Return the same picture with its blocks where they lie now."""
        return replace(self, quilt=quilt)


def asked_of(version: DesignVersion) -> Asked:
    """Return a version with what was kept of it; of an old one only the layout was."""
    kept: Any = getattr(version, "picture", None)
    return Asked(version.number, version.as_quilt(), kept.shown if kept else {}, version.answer_by)


def panel_from(kept: Mapping[str, Any]) -> Panel:
    """Return a panel that was kept."""
    lists = {name: tuple(kept[name]) for name in ("quad", "sides", "window")}
    return Panel(**{**kept, **lists})

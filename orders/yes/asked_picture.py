"""A picture as it was asked about, drawn and told from what was kept of it then."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from django.utils.safestring import SafeString

from orders.cloth.cloth_needs import ROLES
from orders.cloth.swatch_tiles import Address, Swatch
from orders.models import DesignVersion
from orders.quilt import quilt_picture
from orders.quilt.panel_photos import Panel
from orders.quilt.quilt_picture import View, for_the_shop
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
        return quilt_picture.sentence(self.quilt)

    def view(self, *, chalked: Collection[str] = (), address: Address = for_the_shop) -> View:
        """Return how it is drawn: photos and cloth as they were then, in chalk what is pointed out."""
        return View(
            panels={name: panel_from(kept) for name, kept in self.shown.get("panels", {}).items()},
            cloth=self.shown.get("colors", {}),
            swatches={role: Swatch(**kept) for role, kept in self.shown.get("swatches", {}).items()},
            chalked=chalked,
            address=address,
            named="asked",
        )

    def drawn(self, *, chalked: Collection[str] = (), address: Address = for_the_shop) -> SafeString:
        """Draw it."""
        return quilt_picture.draw(self.quilt, self.view(chalked=chalked, address=address))

    def with_blocks_as(self, quilt: Quilt) -> Asked:
        """Return the same picture with its blocks where they lie now."""
        return replace(self, quilt=quilt)

    def shows(self, photo: int) -> str:
        """Return the hash of a photo that is in the picture, or nothing."""
        kept = (*self.shown.get("panels", {}).values(), *self.shown.get("swatches", {}).values())
        return next((each["sha256"] for each in kept if each["photo"] == photo), "")


def asked_of(version: DesignVersion) -> Asked:
    """Return a version with what was kept of it; of an old one only the layout was."""
    kept: Any = getattr(version, "picture", None)
    return Asked(version.number, version.as_quilt(), kept.shown if kept else {}, version.answer_by)


def panel_from(kept: Mapping[str, Any]) -> Panel:
    """Return a panel that was kept."""
    lists = {name: tuple(kept[name]) for name in ("quad", "sides", "window")}
    return Panel(**{**kept, **lists})

"""What kind of cloth lies behind a quilt."""

from __future__ import annotations

from planner.brief import Brief
from planner.quilt import Quilt


def back_kind(quilt: Quilt, brief: Brief) -> str:
    """Return the kind of cloth chosen for the back; nothing while none is chosen."""
    chosen = quilt.cloth.get("backing")
    return next((cloth.kind for cloth in brief.shelf if cloth.id == chosen), "")

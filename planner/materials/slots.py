"""Room for the ends of joined lengths in the strips, and the ends that are cut from it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, order=True)
class Slot:
    """Room for ends in one strip; a lengthwise one holds a single end."""

    room: int
    lengthwise: bool


@dataclass(frozen=True)
class End:
    """An end cut out of the slot of that number for one ribbon, `length` long."""

    slot: int
    ribbon: int
    length: int

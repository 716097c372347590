"""An answer written as JSON: ticks, minor units and minutes as whole numbers, days as ISO dates."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from planner.units import Money, Rate


def as_json(value: Any) -> Any:
    """Return `value` as what `json.dumps` takes.

    Money becomes its minor units and a rate its decimal minor units with what they are for: the
    currency stands once, at the top of the answer.
    """
    if isinstance(value, Money):
        return value.minor
    if isinstance(value, Rate):
        return {"minor": str(value.minor), "per": value.per}
    if isinstance(value, Decimal):
        return str(value)
    if isinstance(value, date):
        return value.isoformat()
    if is_dataclass(value) and not isinstance(value, type):
        return {each.name: as_json(getattr(value, each.name)) for each in fields(value)}
    if isinstance(value, Mapping):
        return {str(key): as_json(each) for key, each in value.items()}
    if isinstance(value, frozenset | set):
        return sorted(as_json(each) for each in value)
    if isinstance(value, tuple | list):
        return [as_json(each) for each in value]
    return value

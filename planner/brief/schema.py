"""The JSON schema of a brief (draft 2020-12), made from the types it is read into."""

from __future__ import annotations

import types
from collections.abc import Mapping
from dataclasses import MISSING, fields, is_dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from planner.schedule import Person
from planner.units import Money, Rate, currencies
from planner.units.money import PER

from .calendar import Week, field_kinds
from .question import UNITS, Brief

DIALECT = "https://json-schema.org/draft/2020-12/schema"
_PLAIN = {
    "length": {"$ref": "#/$defs/length"},
    "colour": {"$ref": "#/$defs/color"},
    "day": {"$ref": "#/$defs/day"},
    Money: {"$ref": "#/$defs/money"},
    Rate: {"$ref": "#/$defs/rate"},
    Decimal: {"$ref": "#/$defs/decimal"},
    float: {"$ref": "#/$defs/decimal"},
    date: {"type": "string", "format": "date"},
    str: {"type": "string"},
    bool: {"type": "boolean"},
    int: {"type": "integer"},
}
_WORDS: dict[str, dict[str, Any]] = {
    "length": {
        "type": "string",
        "description": "12 3/8, 12.375 or 31.4 cm; a bare number is in the brief's unit.",
    },
    "color": {"type": "string", "pattern": "^#[0-9a-fA-F]{6}$"},
    "day": {
        "anyOf": [{"type": "string", "format": "date"}, {"type": "integer"}],
        "description": "A date, or days after work.origin.",
    },
    "money": {"type": "string", "pattern": r"^-?[0-9]+(\.[0-9]+)?$"},
    "decimal": {"anyOf": [{"type": "string", "pattern": r"^-?[0-9]+(\.[0-9]+)?$"}, {"type": "integer"}]},
    "rate": {
        "anyOf": [
            {"$ref": "#/$defs/decimal"},
            {
                "type": "object",
                "properties": {"rate": {"$ref": "#/$defs/decimal"}, "per": {"enum": list(PER)}},
                "required": ["rate", "per"],
                "additionalProperties": False,
            },
        ]
    },
}


def brief_schema() -> dict[str, Any]:
    """Return the JSON schema that every brief fits.

    What only the whole can show, such as fibers that do not make 100, `read_brief` finds.
    """
    found = dict(_WORDS)
    root = _record(Brief, found)
    root["properties"]["unit"] = {"enum": list(UNITS)}
    root["properties"]["currency"] = {"enum": list(currencies())}
    del found["Brief"]
    return {"$schema": DIALECT, "title": "Brief", **root, "$defs": found}


def _record(kind: Any, found: dict[str, dict[str, Any]]) -> dict[str, Any]:
    found[kind.__name__] = {}
    kinds = field_kinds(kind)
    required = [
        each.name for each in fields(kind) if each.default is MISSING and each.default_factory is MISSING
    ]
    written = {
        "type": "object",
        "description": (kind.__doc__ or "").split("\n")[0],
        "properties": {each.name: _of(kinds[each.name], found) for each in fields(kind)},
        "required": required,
        "additionalProperties": False,
    }
    found[kind.__name__] = {"anyOf": [written, _of(Week, found)]} if kind is Person else written
    return written


def _of(kind: Any, found: dict[str, dict[str, Any]]) -> dict[str, Any]:
    origin, inner = get_origin(kind), get_args(kind)
    if origin is Annotated:
        return dict(_PLAIN.get(inner[1]) or _of(inner[0], found))
    if origin in (Union, types.UnionType):
        return {"anyOf": [{"type": "null"} if each is types.NoneType else _of(each, found) for each in inner]}
    if origin is Literal:
        return {"enum": list(inner)}
    if origin in (tuple, frozenset):
        return {"type": "array", "items": _of(inner[0], found)}
    if origin is Mapping:
        return {
            "type": "object",
            "propertyNames": _of(inner[0], found),
            "additionalProperties": _of(inner[1], found),
        }
    if is_dataclass(kind) and kind not in _PLAIN:
        name = str(getattr(kind, "__name__", ""))
        if name not in found:
            _record(kind, found)
        return {"$ref": f"#/$defs/{name}"}
    return dict(_PLAIN[kind])

"""The JSON schema of a brief (draft 2020-12), made from the types it is read into."""

from __future__ import annotations

import types
from collections.abc import Mapping
from dataclasses import MISSING, fields, is_dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

from planner.schedule import Person
from planner.units import Money, Rate

from .question import Brief

DIALECT = "https://json-schema.org/draft/2020-12/schema"
_PLAIN = {
    "length": {"$ref": "#/$defs/length"},
    "colour": {"$ref": "#/$defs/color"},
    Money: {"$ref": "#/$defs/money"},
    Rate: {"$ref": "#/$defs/rate"},
    Decimal: {"$ref": "#/$defs/decimal"},
    float: {"$ref": "#/$defs/decimal"},
    date: {"type": "string", "format": "date"},
    str: {"type": "string"},
    bool: {"type": "boolean"},
    int: {"type": "integer"},
}
_DAY = {"anyOf": [{"type": "integer", "minimum": 0}, {"type": "string", "format": "date"}]}
_DAYS: dict[str, dict[str, Any]] = {
    **dict.fromkeys(("day", "ready"), _DAY),
    **{name: {"anyOf": [*_DAY["anyOf"], {"type": "null"}]} for name in ("pin", "target")},
    "closed": {"type": "array", "items": _DAY},
}


def brief_schema() -> dict[str, Any]:
    """Return the JSON schema that every brief fits."""
    found: dict[str, Any] = {
        "length": {
            "type": "string",
            "description": "12 3/8, 12.375 or 31.4 cm; a bare number is in the brief's unit.",
        },
        "color": {"type": "string", "pattern": "^#[0-9a-fA-F]{6}$"},
        "money": {"type": "string", "pattern": r"^-?\d+(\.\d+)?$"},
        "decimal": {"anyOf": [{"type": "string", "pattern": r"^-?\d+(\.\d+)?$"}, {"type": "integer"}]},
        "rate": {
            "anyOf": [
                {"$ref": "#/$defs/decimal"},
                {
                    "type": "object",
                    "properties": {"rate": {"$ref": "#/$defs/decimal"}, "per": {"type": "string"}},
                    "required": ["rate", "per"],
                    "additionalProperties": False,
                },
            ]
        },
    }
    root = _record(Brief, found)
    del found["Brief"]
    return {
        "$schema": DIALECT,
        "title": "Brief",
        **root,
        "$defs": found,
    }


def _record(kind: Any, found: dict[str, Any]) -> dict[str, Any]:
    found[kind.__name__] = {}
    hints = get_type_hints(kind, include_extras=True)
    days = _DAYS if kind.__module__.startswith("planner.schedule") else {}
    properties = {each.name: days.get(each.name) or _of(hints[each.name], found) for each in fields(kind)}
    required = [
        each.name for each in fields(kind) if each.default is MISSING and each.default_factory is MISSING
    ]
    written = {
        "type": "object",
        "description": (kind.__doc__ or "").split("\n")[0],
        "properties": properties,
        "required": required,
        "additionalProperties": False,
    }
    found[kind.__name__] = {"anyOf": [written, _week()]} if kind is Person else written
    return written


def _week() -> dict[str, Any]:
    days = {"type": "array", "items": {"type": "string", "format": "date"}}
    return {
        "type": "object",
        "description": "A person by weekday minutes, Monday first, until a last day.",
        "properties": {
            "id": {"type": "string"},
            "week": {"type": "array", "items": {"type": "integer"}, "minItems": 7, "maxItems": 7},
            "until": {"type": "string", "format": "date"},
            "closed": days,
            "extra": {"type": "object", "additionalProperties": {"type": "integer"}},
            "opens": {"type": "integer", "minimum": 0},
        },
        "required": ["id", "week", "until"],
        "additionalProperties": False,
    }


def _of(kind: Any, found: dict[str, Any]) -> dict[str, Any]:
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
        return {"type": "object", "additionalProperties": _of(inner[1], found)}
    if is_dataclass(kind) and kind not in _PLAIN:
        name = str(getattr(kind, "__name__", ""))
        if name not in found:
            _record(kind, found)
        return {"$ref": f"#/$defs/{name}"}
    return dict(_PLAIN[kind])

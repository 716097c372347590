"""A brief written as JSON, read by the types it is made of.

A length is text ("12 3/8", "31.4 cm"; bare = the brief's unit), money a decimal text in the
brief's currency, a rate {"rate": "0.0032", "per": "in2"} or a bare amount for each, a day an ISO
date, a color "#rrggbb", any other decimal a text. A JSON float is refused everywhere, and so is
what no shop has: lengths over 1,000 m, whole numbers over 10¹², text with control characters.
"""

from __future__ import annotations

import re
import types
import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import MISSING, dataclass, fields, is_dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from planner.colour import srgb_to_lab
from planner.problems import BadInput
from planner.schedule import Person
from planner.units import METRE, Money, Rate, decimals, parse_length, parse_money

from .calendar import Week, day_index, field_kinds
from .question import UNITS, Brief

LONGEST_LENGTH = 1000 * METRE
LARGEST_WHOLE = 10**12
LONGEST_NUMBER = 60
DEEPEST = 20
_DECIMAL = re.compile(r"-?[0-9]+(\.[0-9]+)?")
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_NO_TEXT = {"Cc", "Cs"}


def read_brief(written: object) -> Brief:
    """Return the brief written as parsed JSON; BadInput names the field by its path."""
    if not isinstance(written, Mapping):
        raise BadInput("", "a brief is a JSON object; see the schema in the docs.")
    for name in ("unit", "currency", "work"):
        if name not in written:
            raise BadInput(name, "is missing.")
    unit, currency = _text(str, written["unit"], "unit"), _text(str, written["currency"], "currency")
    if unit not in UNITS:
        raise BadInput("unit", f"must be {' or '.join(UNITS)}.")
    decimals(currency)
    brief = Reader(unit=unit, currency=currency, origin=_origin(written["work"])).read(Brief, written, "")
    assert isinstance(brief, Brief)
    return brief


def _origin(work: object) -> date:
    if not isinstance(work, Mapping) or "origin" not in work:
        raise BadInput("work", "must be an object with an origin, the calendar's first day.")
    return _date(date, work["origin"], "work.origin")


@dataclass(frozen=True)
class Reader:
    """Reads JSON values into types, knowing the brief's unit, currency and first day."""

    unit: str
    currency: str
    origin: date

    def read(self, kind: Any, value: Any, path: str) -> Any:
        """Return `value` read as `kind`; every fault names its path."""
        if isinstance(value, float):
            raise BadInput(path, 'is a JSON number with a point; write it as text, like "12.5".')
        if path.count("[") > DEEPEST:
            raise BadInput(path, "is nested too deeply.")
        origin = get_origin(kind)
        if origin in (Union, types.UnionType):
            return self._either(kind, value, path)
        reading = self._readers().get(_marker(kind) or origin or kind)
        if reading is not None:
            return reading(kind, value, path)
        if is_dataclass(kind):
            return self._record(kind, value, path)
        raise TypeError(f"no reading for {kind}")

    def _readers(self) -> Mapping[Any, Callable[[Any, Any, str], Any]]:
        return {
            "length": self._length,
            "day": self._day,
            "colour": _colour,
            Literal: _literal,
            tuple: self._tuple,
            frozenset: self._set,
            Mapping: self._mapping,
            Money: self._money,
            Rate: self._rate,
            Decimal: _decimal,
            float: lambda kind, value, path: float(_decimal(kind, value, path)),
            date: _date,
            str: _text,
            int: _whole,
            bool: _yes_or_no,
        }

    def _either(self, kind: Any, value: Any, path: str) -> Any:
        if value is None and types.NoneType in get_args(kind):
            return None
        wanted = [each for each in get_args(kind) if each is not types.NoneType]
        return self.read(wanted[0], value, path)

    def _record(self, kind: Any, value: Any, path: str) -> Any:
        if not isinstance(value, Mapping):
            raise BadInput(path, "must be an object with named fields.")
        if kind is Person and "week" in value:
            return _built(path, self._record(Week, value, path).person, self.origin)
        kinds = field_kinds(kind)
        for name in value:
            if name not in kinds:
                raise BadInput(_join(path, name), f"is not known here; expected {', '.join(kinds)}.")
        given = {}
        for each in fields(kind):
            if each.name in value:
                given[each.name] = self.read(kinds[each.name], value[each.name], _join(path, each.name))
            elif each.default is MISSING and each.default_factory is MISSING:
                raise BadInput(_join(path, each.name), "is missing.")
        return _built(path, kind, **given)

    def _day(self, kind: Any, value: Any, path: str) -> int:
        if isinstance(value, str):
            return int(_built(path, day_index, _date(date, value, path), self.origin))
        return _whole(int, value, path)

    def _length(self, kind: Any, value: Any, path: str) -> int:
        if not isinstance(value, str):
            raise BadInput(path, 'is a length; write it as text, like "12 3/8" or "31.4 cm".')
        length = int(_built(path, parse_length, _short(value, path), unit=self.unit))
        if length > LONGEST_LENGTH:
            raise BadInput(path, f"“{value}” is more than 1,000 m; look at its unit.")
        return length

    def _money(self, kind: Any, value: Any, path: str) -> Money:
        if not isinstance(value, str):
            raise BadInput(path, 'is money; write it as text, like "36.00".')
        money = _built(path, parse_money, _short(value, path), self.currency)
        assert isinstance(money, Money)
        return money

    def _rate(self, kind: Any, value: Any, path: str) -> Rate:
        written = value if isinstance(value, Mapping) else {"rate": value, "per": "each"}
        if set(written) != {"rate", "per"}:
            raise BadInput(path, 'is a rate; write it like {"rate": "0.0032", "per": "in2"}.')
        major = _decimal(Decimal, written["rate"], _join(path, "rate"))
        per = _text(str, written["per"], _join(path, "per"))
        rate = _built(path, Rate, major.scaleb(decimals(self.currency)), self.currency, per)
        assert isinstance(rate, Rate)
        return rate

    def _tuple(self, kind: Any, value: Any, path: str) -> tuple[Any, ...]:
        if not isinstance(value, list):
            raise BadInput(path, "must be a list.")
        inner = get_args(kind)[0]
        return tuple(self.read(inner, each, f"{path}[{number}]") for number, each in enumerate(value))

    def _set(self, kind: Any, value: Any, path: str) -> frozenset[Any]:
        return frozenset(self._tuple(kind, value, path))

    def _mapping(self, kind: Any, value: Any, path: str) -> dict[Any, Any]:
        if not isinstance(value, Mapping):
            raise BadInput(path, "must be an object.")
        key_kind, value_kind = get_args(kind)
        return {
            self.read(key_kind, key, _join(path, key)): self.read(value_kind, each, _join(path, key))
            for key, each in value.items()
        }


def _marker(kind: Any) -> str | None:
    if get_origin(kind) is Annotated:
        marker = get_args(kind)[1]
        return marker if isinstance(marker, str) else None
    return None


def _built(path: str, make: Callable[..., Any], *args: Any, **given: Any) -> Any:
    """Call `make`, naming the fault from the brief's root: a part's own field is kept when it has one."""
    try:
        return make(*args, **given)
    except BadInput as fault:
        inner = "" if fault.field in ("length", "money") else fault.field
        raise BadInput(inner, fault.message).within(path) from None


def _join(path: str, name: str) -> str:
    return f"{path}.{name}" if path else name


def _text(kind: Any, value: Any, path: str) -> str:
    if not isinstance(value, str):
        raise BadInput(path, "must be text.")
    if any(unicodedata.category(each) in _NO_TEXT for each in value):
        raise BadInput(path, "must be one line of plain text.")
    return value


def _short(value: str, path: str) -> str:
    if len(value) > LONGEST_NUMBER:
        raise BadInput(path, f"is too long for a number: {len(value)} characters.")
    return value


def _whole(kind: Any, value: Any, path: str) -> int:
    if not isinstance(value, int) or isinstance(value, bool):
        raise BadInput(path, "must be a whole number.")
    if abs(value) > LARGEST_WHOLE:
        raise BadInput(path, "is far too large.")
    return value


def _yes_or_no(kind: Any, value: Any, path: str) -> bool:
    if not isinstance(value, bool):
        raise BadInput(path, "must be true or false.")
    return value


def _decimal(kind: Any, value: Any, path: str) -> Decimal:
    if isinstance(value, int) and not isinstance(value, bool):
        return Decimal(_whole(int, value, path))
    if not isinstance(value, str) or not _DECIMAL.fullmatch(value):
        raise BadInput(path, 'must be a decimal as text, like "0.07".')
    return Decimal(_short(value, path))


def _date(kind: Any, value: Any, path: str) -> date:
    try:
        if isinstance(value, str) and _DAY.fullmatch(value):
            return date.fromisoformat(value)
    except ValueError:
        pass
    raise BadInput(path, "must be a day like 2027-05-22.")


def _literal(kind: Any, value: Any, path: str) -> Any:
    if value not in get_args(kind):
        raise BadInput(path, f"must be one of {', '.join(get_args(kind))}.")
    return value


def _colour(kind: Any, value: Any, path: str) -> tuple[float, ...]:
    if not isinstance(value, str) or not re.fullmatch(r"#[0-9a-fA-F]{6}", value):
        raise BadInput(path, "must be a color like #2f4373.")
    rgb = [int(value[start : start + 2], 16) for start in (1, 3, 5)]
    return tuple(float(part) for part in srgb_to_lab(rgb))

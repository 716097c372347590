"""A question to the database that is put into words once.

To put a long question into SQL takes Django far longer than the database needs for its answer. The words are
the same each time, so they are kept, and only what is looked for is filled in.
"""

from __future__ import annotations

import copy
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Any

from django.db import connections
from django.db.models import Model, QuerySet
from django.utils.dateparse import parse_date, parse_datetime

# What stands for something that is looked for while the words are made: no row has such. A number has to fit
# into the four bytes that PostgreSQL has for one, or Django says without asking that there is none.
STAND_INS: dict[type, Callable[[int], Any]] = {
    int: lambda turn: 2_147_310_000 + turn,
    date: lambda turn: date(1, 3, 1 + turn),
    datetime: lambda turn: datetime(1, 4, 1 + turn, tzinfo=UTC),
}


class Question:
    """A list whose words are kept; `sought` names what is filled in, each a number, a day or a moment.

    `make` is called once for each kind of database, so it must not look at the clock itself.
    """

    def __init__(self, make: Callable[..., QuerySet[Any]], **sought: type) -> None:
        self.make, self.sought = make, sought
        self._worded: dict[str, _Words] = {}

    def ask(self, **values: Any) -> list[Any]:
        """Return the records, with all that the list brings along; nothing sought is left out."""
        words = self._in_words()
        connection = connections[words.rows.db]
        compiler = copy.copy(words.compiler)
        compiler.connection = connection
        filled = words.sql, words.filled({name: _as_given(connection, values[name]) for name in self.sought})
        compiler.as_sql = lambda *args, **kwargs: filled
        asked = words.rows.all()
        asked.query.get_compiler = lambda *args, **kwargs: compiler  # type: ignore[method-assign]
        return list(asked)

    def _in_words(self) -> _Words:
        vendor = connections["default"].vendor
        if vendor not in self._worded:
            standing_in = {
                name: STAND_INS[kind](turn) for turn, (name, kind) in enumerate(self.sought.items())
            }
            rows = self.make(**standing_in)
            connection = connections[rows.db]
            compiler = rows.query.get_compiler(using=rows.db)
            sql, params = compiler.as_sql()
            places = [(name, _as_given(connection, each)) for name, each in standing_in.items()]
            told = tuple(_placed(each, places) for each in params)
            if any(_is_of_a_day(each) for each in told):
                raise ValueError("A question that is kept cannot have a day or a moment of its own.")
            self._worded[vendor] = _Words(rows, compiler, sql, told)
        return self._worded[vendor]


@dataclass(frozen=True)
class _Place:
    """Where among the values of a question something that is looked for stands; numbers have their width."""

    name: str
    kind: type

    def filled(self, given: dict[str, Any]) -> Any:
        value = given[self.name]
        return self.kind(value) if issubclass(self.kind, int) else value


@dataclass(frozen=True)
class _Words:
    """A question as one kind of database takes it."""

    rows: QuerySet[Any]
    compiler: Any
    sql: str
    params: tuple[Any, ...]

    def filled(self, given: dict[str, Any]) -> tuple[Any, ...]:
        return tuple(each.filled(given) if isinstance(each, _Place) else each for each in self.params)


def _placed(value: Any, places: list[tuple[str, Any]]) -> Any:
    """Return the place of what a value stands in for, or the value where it is one of the question's own."""
    name = next((name for name, stand_in in places if value == stand_in), None)
    return value if name is None else _Place(name, type(value))


def _as_given(connection: Any, value: Any) -> Any:
    """Return a value as the database takes it."""
    if isinstance(value, datetime):
        return connection.ops.adapt_datetimefield_value(value)
    return connection.ops.adapt_datefield_value(value) if isinstance(value, date) else value


def _is_of_a_day(value: Any) -> bool:
    if isinstance(value, str):
        return len(value) >= len("2027-03-01") and bool(parse_date(value[:10]) or parse_datetime(value))
    return isinstance(value, date)


def bring(records: Iterable[Model], name: str, rows: Iterable[Any], *, by: str = "order") -> None:
    """Give each order its rows of a relation, in their order; they can be read, not asked further.

    `by` is what a row calls the record that it hangs on, where that is no order.
    """
    found: dict[int, tuple[Model, list[Any]]] = {record.pk: (record, []) for record in records}
    for row in rows:
        whose = getattr(row, f"{by}_id")
        if whose in found:
            record, its = found[whose]
            its.append(_of(record, row, by))
    for record, its in found.values():
        vars(record).setdefault("_prefetched_objects_cache", {})[name] = its


def bring_to(record: Model, name: str, rows: Iterable[Any]) -> None:
    """Give one order its rows of a relation, which may be asked further."""
    related = getattr(record, name).get_queryset()
    related._result_cache, related._prefetch_done = [_of(record, row, "order") for row in rows], True
    vars(record).setdefault("_prefetched_objects_cache", {})[name] = related


def _of(record: Model, row: Any, by: str) -> Any:
    """Let a row know what it hangs on, so that it never asks for it."""
    if isinstance(row, Model):
        row._state.fields_cache[by] = record
    return row

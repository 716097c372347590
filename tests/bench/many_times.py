"""Rows once more and once more, by the database itself: a hundred thousand orders in a minute or two."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db import connection, models

from orders.models import Entry, Order

Spans = Mapping[type[models.Model], range]
# What counts on by itself beside the keys, and what tells one order's title from another's.
NUMBERS = ("number", "receipt_number")
NUMBERED = ("order", "paper", "entry")
HOURS = 5  # between one order and the next
MOMENTS = {"order": ("opened_at", "handed_over_at"), "stage": ("done_at",)}


def once_more(spans: Spans, links: Any, *, times: int) -> None:
    """Write the rows of these spans of keys again so many times, each time as other rows that hang together.

    For a file of SQLite alone; `links` is the table between orders and bags.
    """
    with connection.cursor() as cursor:
        for turn in range(1, times + 1):
            for kind, span in spans.items():
                if span:
                    cursor.execute(_again(kind, span, spans, turn))
            cursor.execute(_linked_again(links, spans, turn))


def _again(kind: type[models.Model], span: range, spans: Spans, turn: int) -> str:
    fields = kind._meta.concrete_fields
    columns = ", ".join(f'"{field.column}"' for field in fields)
    told = ", ".join(_told(kind, field, spans, turn) for field in fields)
    table, where = kind._meta.db_table, f"id BETWEEN {span.start} AND {span.stop - 1}"
    return f"INSERT INTO {table} ({columns}) SELECT {told} FROM {table} WHERE {where}"


def _told(kind: type[models.Model], field: Any, spans: Spans, turn: int) -> str:
    """What stands in a column the next time."""
    name, column = field.name, f'"{field.column}"'
    if field.primary_key:
        return f"{column} + {turn * len(spans[kind])}"
    if field.is_relation:
        return _moved(column, spans.get(field.related_model, range(0)), turn)
    if name in NUMBERS and kind._meta.model_name in NUMBERED:
        return f"{column} + {turn * _numbers(kind, name, spans[kind])}"
    if name in MOMENTS.get(str(kind._meta.model_name), ()):
        back = f"'-{turn * HOURS * len(spans[Order])} hours'"
        return f"strftime('%Y-%m-%d %H:%M:%f000', {column}, {back})"
    if kind is Order and name == "title":
        return f"{column} || ' {turn}'"
    return f"'copy ' || (id + {turn * len(spans[kind])})" if kind is Entry and name == "key" else column


def _numbers(kind: type[models.Model], name: str, span: range) -> int:
    """How many numbers one time takes."""
    rows = kind._base_manager.filter(pk__gte=span.start, pk__lt=span.stop)
    found = rows.aggregate(first=models.Min(name), last=models.Max(name))
    return 0 if found["first"] is None else int(found["last"] - found["first"] + 1)


def _moved(column: str, span: range, turn: int) -> str:
    if not span:
        return column
    inside = f"{column} BETWEEN {span.start} AND {span.stop - 1}"
    return f"CASE WHEN {inside} THEN {column} + {turn * len(span)} ELSE {column} END"


def _linked_again(links: Any, spans: Spans, turn: int) -> str:
    order, bag = (spans[kind] for kind in spans if kind._meta.model_name in ("order", "bag"))
    return (
        f"INSERT INTO {links._meta.db_table} (order_id, bag_id) "
        f"SELECT order_id + {turn * len(order)}, bag_id + {turn * len(bag)} FROM {links._meta.db_table} "
        f"WHERE order_id BETWEEN {order.start} AND {order.stop - 1}"
    )

"""Records as plain rows: what the shop takes along, and what is read back from it."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from datetime import UTC, date, datetime
from typing import Any

from django.apps import apps
from django.db import models

from orders.models import Errand, Pulse, SignIn, SignInFailure

Row = dict[str, Any]
NOT_TAKEN = (Errand, Pulse, SignIn, SignInFailure)  # of this machine alone
SECRET = {"orders_person": ("password", "last_login")}
AT_ONCE = 500


def kinds() -> list[type[models.Model]]:
    """Return every kind of record that is taken along, by name; which bag serves which order is one too."""
    found = apps.get_app_config("orders").get_models(include_auto_created=True)
    taken = (each for each in found if each not in NOT_TAKEN and not each._meta.proxy)
    return sorted(taken, key=name_of)


def name_of(kind: type[models.Model]) -> str:
    """Return the name its file has: the table without what the program calls itself."""
    return kind._meta.db_table.removeprefix("orders_")


def fields_of(kind: type[models.Model]) -> list[Any]:
    """Return the fields that are taken; no password, not even as its hash."""
    secret = SECRET.get(kind._meta.db_table, ())
    return [field for field in kind._meta.concrete_fields if field.name not in secret]


def rows_of(records: models.QuerySet[Any], *, without: Iterable[str] = ()) -> Iterator[Row]:
    """Yield records as plain values, in the order in which they were written."""
    names = [field.attname for field in fields_of(records.model) if field.name not in without]
    found = records.order_by("pk").values_list(*names)
    for values in found.iterator(chunk_size=AT_ONCE):
        yield {name: plain(value) for name, value in zip(names, values, strict=True)}


def all_rows(kind: type[models.Model]) -> Iterator[Row]:
    """Yield every record of a kind."""
    return rows_of(kind._base_manager.all())


def plain(value: Any) -> Any:
    """Return a value as JSON has it: an instant in UTC to the microsecond, a day as ISO 8601 writes it."""
    if isinstance(value, datetime):
        return value.astimezone(UTC).isoformat()
    if isinstance(value, date):
        return value.isoformat()
    return value if value is None or isinstance(value, bool | int | str | list | dict) else str(value)


def as_lines(rows: Iterable[Row]) -> Iterator[str]:
    """Yield a JSON array, one row a line and always the same for the same rows."""
    before = "[\n"
    for row in rows:
        yield before + json.dumps(row, sort_keys=True)
        before = ",\n"
    yield "[]\n" if before == "[\n" else "\n]\n"


def read_back(kind: type[models.Model], rows: Iterable[Row]) -> Iterator[models.Model]:
    """Yield records made of rows; nobody gets a password that way."""
    fields = fields_of(kind)
    for row in rows:
        record = kind(**{field.attname: _value(field, row[field.attname]) for field in fields})
        if kind._meta.db_table in SECRET:
            record.set_unusable_password()  # type: ignore[attr-defined]
        yield record


def _value(field: Any, value: Any) -> Any:
    of = field.target_field if field.is_relation else field
    return value if value is None or isinstance(of, models.JSONField) else of.to_python(value)

"""Two people at one record: what stands there now beside what was typed, field by field."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django import forms
from django.forms.boundfield import BoundField
from django.http import QueryDict


@dataclass(frozen=True)
class Difference:
    """One field that differs: what it is called, what stands there now, what was typed."""

    label: str
    now: str
    typed: str


def differences(typed: forms.Form, now: forms.Form) -> list[Difference]:
    """Compare a form that came in with the record as it stands, in the words of the page."""
    pairs = ((bound, now[bound.name]) for bound in typed if not bound.is_hidden)
    found = (Difference(str(mine.label), in_words(standing), in_words(mine)) for mine, standing in pairs)
    return [each for each in found if each.now != each.typed]


def with_version(typed: forms.Form, version: int) -> forms.Form:
    """Return the form as it was typed, to be sent once more over the record as it now stands."""
    data = QueryDict(mutable=True)
    data.update(typed.data)
    data[typed.add_prefix("version")] = str(version)
    typed.data = data
    return typed


def in_words(bound: BoundField) -> str:
    """Return a field's value as the page would show it."""
    value: Any = bound.value()
    choices = dict(getattr(bound.field, "choices", ()))
    if isinstance(value, list | tuple):
        return ", ".join(str(choices.get(each, each)) for each in sorted(map(str, value))) or "nothing"
    if isinstance(bound.field, forms.BooleanField):
        return "yes" if bound.field.to_python(value) else "no"
    return (
        str(choices.get(str(value), bound.field.prepare_value(value)))
        if value not in (None, "")
        else "nothing"
    )

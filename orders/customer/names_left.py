"""Where a name still stands in the records: looked for in every column that can hold words."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from django.db import models
from django.db.models import Q, TextField
from django.db.models.functions import Cast

from orders.customer.letting_go import Change
from orders.keep.rows import Row, kinds, name_of

SHORTEST = 4  # a shorter word is in too many others to be looked for
AROUND, MOST = 32, 3  # letters shown around a name, and places shown of one column
WHERE = {
    ("entry", "words"): "Ledger, sealed", ("entry", "method"): "Ledger, sealed",
    ("quote", "lines"): "Lines of a quote, as it was told", ("quote", "terms"): "Terms of a quote",
    ("quote", "together"): "A quote told together with others", ("extraline", "words"): "Line on an account",
    ("exemption", "words"): "Exemption from tax", ("exemption", "proof"): "Exemption from tax",
    ("paper", "made_of"): "Paper that was printed", ("event", "facts"): "What happened",
    ("order", "title"): "What an order is called", ("customer", "name"): "Another customer",
    ("customer", "notes"): "Notes about another customer", ("enquiry", "name"): "Another enquiry",
    ("stay", "words"): "Where a shirt was",
}  # fmt: skip


@dataclass(frozen=True)
class Place:
    """Where words stand that somebody is known by: how often, and some of what stands there."""

    where: str
    times: int
    words: tuple[str, ...]


def looked_for(name: str, ways_to_reach: Iterable[str]) -> tuple[str, ...]:
    """Return what is looked for: the whole name, its last word, and every way to reach them."""
    last = name.split()[-1] if len(name.split()) > 1 else ""
    words = [name, *([last] if len(last) >= SHORTEST else []), *ways_to_reach]
    return tuple(dict.fromkeys(each.strip() for each in words if len(each.strip()) > 1))


def places_of(words: Iterable[str], after: Iterable[Change] = ()) -> Iterator[Place]:
    """Yield every column of every record in which one of these words stands; one query a kind of record.

    With changes that are not made yet, it is told what would stand there after them.
    """
    sought, foreseen = tuple(words), tuple(after)
    for kind in kinds():
        columns = [field.name for field in kind._meta.concrete_fields if _holds_words(field)]
        if columns and sought:
            coming = [each for each in foreseen if each.records.model is kind]
            yield from _places_in(kind, _after(_hits(kind, columns, sought), coming), sought)


def _holds_words(field: Any) -> bool:
    return isinstance(field, models.CharField | models.TextField | models.JSONField) and not field.choices


def _hits(kind: type[models.Model], columns: list[str], sought: tuple[str, ...]) -> dict[Any, Row]:
    """Return the columns of words of every record with one of these letters in them, by its number."""
    texts = {f"{name}_text": Cast(name, TextField()) for name in columns}
    hits = Q(pk__in=())
    for text in texts:
        for word in {form for each in sought for form in (each, json.dumps(each)[1:-1])}:
            hits |= Q(**{f"{text}__icontains": word})
    rows = kind._base_manager.annotate(**texts).filter(hits).values("pk", *columns)
    return {row.pop("pk"): row for row in rows}


def _after(rows: dict[Any, Row], coming: Iterable[Change]) -> dict[Any, Row]:
    """Return the rows as they would stand after changes that are not made yet."""
    for change in coming:
        for pk in set(change.records.values_list("pk", flat=True)).intersection(rows):
            if change.become:
                rows[pk] = {name: change.of(name, old) for name, old in rows[pk].items()}
            else:
                del rows[pk]
    return rows


def _places_in(kind: type[models.Model], rows: dict[Any, Row], sought: tuple[str, ...]) -> Iterator[Place]:
    whole = re.compile(rf"(?<!\w)({'|'.join(re.escape(each) for each in sought)})s?(?!\w)", re.IGNORECASE)
    for name in next(iter(rows.values()), {}):
        found = [around for row in rows.values() if (around := _around(_leaves(row[name]), whole))]
        if found:
            of = name_of(kind)
            where = WHERE.get((of, name), f"{kind._meta.verbose_name}, {name.replace('_', ' ')}".capitalize())
            yield Place(where, len(found), tuple(dict.fromkeys(found))[:MOST])


def _leaves(value: Any) -> Iterator[str]:
    """Yield every text in a column, as a person reads it; in one of JSON wherever it stands."""
    left = [value]
    while left:
        value = left.pop()
        if isinstance(value, str):
            yield value
        elif isinstance(value, dict):
            left += [*value.values(), *value]
        elif isinstance(value, list):
            left += value


def _around(texts: Iterable[str], whole: re.Pattern[str]) -> str:
    """Return the first text with one of the words in it, cut to what stands around the word."""
    for text in texts:
        if hit := whole.search(text):
            start, end = max(0, hit.start() - AROUND), hit.end() + AROUND
            return f"{'…' if start else ''}{text[start:end].strip()}{'…' if end < len(text) else ''}"
    return ""

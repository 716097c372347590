"""Where a name still stands in the records: looked for in every column that can hold words."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from django.db import models
from django.db.models import Q, TextField
from django.db.models.functions import Cast

from orders.keep.rows import kinds, name_of

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


def places_of(words: Iterable[str]) -> Iterator[Place]:
    """Yield every column of every record in which one of these words stands; one query a kind of record."""
    sought = tuple(words)
    for kind in kinds():
        columns = [field.name for field in kind._meta.concrete_fields if _holds_words(field)]
        if columns and sought:
            yield from _places_in(kind, columns, sought)


def _holds_words(field: Any) -> bool:
    return isinstance(field, models.CharField | models.TextField | models.JSONField) and not field.choices


def _places_in(kind: type[models.Model], columns: list[str], sought: tuple[str, ...]) -> Iterator[Place]:
    texts = {f"{name}_text": Cast(name, TextField()) for name in columns}
    hits = Q(pk__in=())
    for text in texts:
        for word in {form for each in sought for form in (each, json.dumps(each)[1:-1])}:
            hits |= Q(**{f"{text}__icontains": word})
    rows = list(kind._base_manager.annotate(**texts).filter(hits).values(*texts))
    for name in columns:
        found = [around for row in rows if (around := _around(_read(row[f"{name}_text"]), sought))]
        if found:
            of = name_of(kind)
            where = WHERE.get((of, name), f"{kind._meta.verbose_name}, {name.replace('_', ' ')}".capitalize())
            yield Place(where, len(found), tuple(dict.fromkeys(found))[:MOST])


def _read(text: str | None) -> str:
    """Return a column as a person reads it: letters beyond ASCII are written otherwise in JSON."""
    text = text or ""
    return json.dumps(json.loads(text), ensure_ascii=False) if "\\u" in text else text


def _around(text: str, sought: tuple[str, ...]) -> str:
    folded = text.casefold()
    at = next((folded.find(each.casefold()) for each in sought if each.casefold() in folded), -1)
    if at < 0:
        return ""
    start, end = max(0, at - AROUND), at + AROUND * 2
    return f"{'…' if start else ''}{text[start:end].strip()}{'…' if end < len(text) else ''}"

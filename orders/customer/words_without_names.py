"""Take a name out of words that stay: what is drawn, added, wished or left out keeps its sense without it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from django.db.models import QuerySet

from orders.customer.hers import Hers
from orders.models import AskedPicture, Exemption, ExtraLine, Incident, Move, Stage, Trip


def take_names_out(hers: Hers, names: Mapping[str, str]) -> None:
    """Put what is said from now on in place of every name, in the words of her orders that are not sealed."""
    for records, fields in _words_that_stay(hers):
        for record in records:
            change = {name: without(getattr(record, name), names) for name in fields}
            if any(value != getattr(record, name) for name, value in change.items()):
                records.model._base_manager.filter(pk=record.pk).update(**change)


def _words_that_stay(hers: Hers) -> Iterator[tuple[QuerySet[Any], tuple[str, ...]]]:
    yield hers.orders, ("wish", "cloth", "top")
    yield hers.shirts, ("flaws", "smell")
    yield hers.pieces, ("why_out",)
    yield hers.of(ExtraLine), ("words",)
    yield hers.of(Exemption), ("words",)
    yield hers.of(Incident), ("stage", "setting", "turned_to", "stopped")
    yield hers.of(Trip), ("what",)
    yield hers.of(Stage), ("batch",)
    yield Move.objects.filter(design__order__customer=hers.customer), ("words", "asked", "wants")
    yield AskedPicture.objects.filter(version__order__customer=hers.customer), ("shown",)


def without(facts: Any, names: Mapping[str, str]) -> Any:
    """Return facts with every name replaced, longer ones first, and no photograph named."""
    if isinstance(facts, dict):
        return {key: without(value, names) for key, value in facts.items() if key != "photo"}
    if isinstance(facts, list):
        return [without(each, names) for each in facts]
    if isinstance(facts, str):
        for name in sorted(names, key=len, reverse=True):
            facts = facts.replace(name, names[name])
    return facts

"""Take a name out of words that stay: what is drawn, added, wished or left out keeps its sense without it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any


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

"""The receipt she went home with, held against the log: what differs, and which garments it is."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from orders.models import Bag, Paper, Shirt
from orders.papers.saying import in_words


def differences(bag: Bag) -> tuple[str, ...]:
    """Return a sentence for each way in which the newest receipt of a bag is not what its log says."""
    papers = [paper for paper in bag.papers.all() if paper.kind == Paper.Kind.INTAKE]
    if not papers:
        return ()
    said = max(papers, key=lambda each: each.number).made_of
    return (*_of_the_count(bag, said), *_of_the_lines(bag, said))


def _of_the_count(bag: Bag, said: dict[str, Any]) -> Iterator[str]:
    count, tally = said.get("count"), bag.tally()
    if count != bag.count:
        yield f"The receipt says {_number(count)}, the bag was counted again: {_number(bag.count)}."
    if tally.too_many:
        last = sorted((each for each in _lines(bag) if not each.guest), key=lambda each: each.logged_at)
        names = [f"{each} ({each.kind})" for each in last[-tally.too_many :]]
        yield f"Logged beyond the count, the last: {', '.join(names)}. Count again, or it is a guest."


def _of_the_lines(bag: Bag, said: dict[str, Any]) -> Iterator[str]:
    """Which lines came after a receipt that named any, and which it names that are out of the log."""
    printed = {item["number"] for item in said.get("items", ())}
    if not printed:
        return
    logged = {str(each): each for each in _lines(bag)}
    later = [f"{name} ({each.kind})" for name, each in logged.items() if name not in printed]
    if later:
        yield f"Logged after the receipt was made: {', '.join(later)}."
    gone = sorted(printed - logged.keys())
    if gone:
        yield f"On the receipt, and out of the log since: {', '.join(gone)}."


def _lines(bag: Bag) -> list[Shirt]:
    return [each for each in bag.shirts.all() if each.state != Shirt.State.STRUCK]


def _number(count: int | None) -> str:
    return "sealed, not counted" if count is None else in_words(count)

"""The sentences of a quote: its size, what its day depends on, and what is said of tax."""

from __future__ import annotations

from typing import TYPE_CHECKING

from orders.models import Exemption, ExtraLine, Order, Shop
from orders.templatetags.shop import fractions, hours, long_day
from orders.templatetags.shop import money as written
from planner.quilt import Quilt
from planner.units import show_length

if TYPE_CHECKING:
    from orders.account.quoting import Prospect
    from planner.price import Line

GAP = "[the maker’s own words on changes, on cancelling, and on keeping a finished quilt]"
UNIT_WORDS = {"in": "inches", "cm": "centimeters"}


def tax_words(order: Order) -> list[str]:
    """Return what a quote says about an exemption that somebody spoke of."""
    found = Exemption.objects.filter(order=order).first()
    if found is None:
        return []
    if found.proved_at is None:
        return [f"No tax is said to be due ({found.words}). It stays on the price until the proof is here."]
    return [f"No tax is on it: {found.words}. Proof seen: {found.proof}."]


def size_in_words(quilt: Quilt, shop: Shop) -> str:
    """Return a finished size as it is told: `50 across, 66 down, before the first wash, in inches`."""
    across, down = (_figure(side, shop.unit) for side in (quilt.size.width, quilt.size.height))
    return f"{across} across, {down} down, before the first wash, in {UNIT_WORDS[shop.unit]}"


def _figure(ticks: int, unit: str) -> str:
    figure = show_length(ticks, unit=unit, rounding="nearest").removeprefix("about ").removesuffix(f" {unit}")
    return fractions(figure)


def depends_on(now: Prospect, shop: Shop, *, deposit: int) -> str:
    """Return what the day planned for depends on, a sentence a line, none that was not reckoned.

    `deposit` is what is paid first, for all that is told together.
    """
    told = []
    if now.planned_for is None:
        told.append("The day is agreed once the shop has named one.")
    elif now.answer_by:
        told.append(f"Your yes: an answer by {long_day(now.answer_by)} keeps the date.")
    else:
        told.append("Your yes: the work waits for it.")
    if deposit:
        told.append(f"The deposit: {written(deposit, shop)} holds your spot.")
    if now.to_buy:
        told.append("Cloth that still has to be bought comes in time.")
    return plain("\n".join(told))


def hours_in_words(line: ExtraLine, shop: Shop) -> str:
    """Return a line by the hour as told: `Mending, 2 h 30 of work at $40.00 an hour, at most $80.00`."""
    limit = f", at most {written(line.most, shop)}" if line.most else ""
    told = f"{line.words}, {hours(line.minutes)} of work at {written(line.an_hour, shop)} an hour{limit}"
    return plain(told)


def pillow_in_words(line: Line, shop: Shop) -> str:
    """Return a line by the pillow as told: `Pillow, 16 × 16 in, 1 at $55.00`."""
    told = f"{line.words}, {line.count} at {written(line.each.on(1).minor, shop)}"
    return plain(told)


def plain(words: str) -> str:
    """Return the words as they are kept on a quote, without hard spaces."""
    return words.replace("\N{NO-BREAK SPACE}", " ")

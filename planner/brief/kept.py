"""Parts of a brief as a shop keeps them: its rules as they are typed, its quilts as they were answered."""

from __future__ import annotations

from datetime import date

from planner.layout import Layout
from planner.problems import BadInput
from planner.quilt import Quilt

from .reading import Reader
from .shop import ShopRules

NO_DAYS = date.min  # neither rules nor quilts hold a day


class TickReader(Reader):
    """Reads what `as_json` wrote: lengths are whole ticks."""

    def _length(self, kind: object, value: object, path: str) -> int:
        if not isinstance(value, int) or isinstance(value, bool):
            raise BadInput(path, "must be a whole number of ticks.")
        return value


def read_quilt(kept: object) -> Quilt:
    """Return a quilt from the JSON that `as_json` made of it."""
    quilt = TickReader(unit="in", currency="USD", origin=NO_DAYS).read(Quilt, kept, "")
    assert isinstance(quilt, Quilt)
    return quilt


def read_layout(kept: object) -> Layout:
    """Return a layout from the JSON that `as_json` made of it."""
    layout = TickReader(unit="in", currency="USD", origin=NO_DAYS).read(Layout, kept, "")
    assert isinstance(layout, Layout)
    return layout


def read_shop_rules(kept: object, *, unit: str, currency: str) -> ShopRules:
    """Return the shop's rules from the form they have in a brief."""
    rules = Reader(unit=unit, currency=currency, origin=NO_DAYS).read(ShopRules, kept, "")
    assert isinstance(rules, ShopRules)
    return rules

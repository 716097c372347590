"""Checks that every figure of a price passes, in the same words."""

from __future__ import annotations

from decimal import Decimal

from planner.problems import BadInput


def whole(name: str, value: int, least: int) -> None:
    """Refuse what is not a whole number, or is below `least`."""
    if not isinstance(value, int) or isinstance(value, bool) or value < least:
        raise BadInput(name, f"must be a whole number, at least {least}.")


def exact(name: str, value: int | Decimal) -> None:
    """Refuse what is neither a whole number nor an exact decimal."""
    if isinstance(value, bool) or not isinstance(value, int | Decimal) or not Decimal(value).is_finite():
        raise BadInput(name, "must be a whole number or an exact decimal, never a float.")


def share_of_one(name: str, share: Decimal) -> None:
    """Refuse a share that is not an exact decimal from 0 to 1."""
    exact(name, share)
    if not 0 <= share <= 1:
        raise BadInput(name, "must lie between 0 and 1; 7 % is 0.07.")

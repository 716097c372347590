"""Lengths in whole ticks, money in whole minor units, and the shapes made of them."""

from .currency import currencies, decimals
from .length import INCH, METRE, MM, YARD, Area, Length, parse_length, show_length
from .money import Money, Rate, parse_money, round_exactly, show_money, total
from .shape import Rect, Sides, Size

__all__ = [
    "INCH",
    "METRE",
    "MM",
    "YARD",
    "Area",
    "Length",
    "Money",
    "Rate",
    "Rect",
    "Sides",
    "Size",
    "currencies",
    "decimals",
    "parse_length",
    "parse_money",
    "round_exactly",
    "show_length",
    "show_money",
    "total",
]

"""The six places of the shop and the four rooms of an order, as far as the caller may open them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.conf import settings
from django.http import HttpRequest
from django.urls import NoReverseMatch, resolve, reverse

_callers: dict[tuple[str, str], tuple[str, ...]] = {}  # who may open a page, by its name


@dataclass(frozen=True)
class Place:
    """`words` stand in the names of the addresses that belong here; the first such word decides."""

    name: str
    label: str
    words: tuple[str, ...]


@dataclass(frozen=True)
class Way:
    """A link of a navigation, and whether the page lies there."""

    name: str
    label: str
    url: str
    current: bool
    within: str = ""


PLACES = (
    Place("today", "Today", ("today", "stage", "bench", "incident", "home")),
    Place(
        "quilts",
        "Quilts",
        ("quilts", "find", "order", "enquiry", "bag", "shirt", "customer", "quote", "paper"),
    ),
    Place("weeks", "Weeks", ("weeks", "visit")),
    Place("shelf", "Shelf", ("shelf", "cloth", "shopping")),
    Place("books", "Books", ("books", "payment", "ledger")),
    Place("workroom", "Workroom", ("workroom", "shop", "people", "person")),
)
ROOMS = (
    ("bag", "Bag", "shirts, count, receipts"),
    ("quilt", "Quilt", "cloth, layout, her yes"),
    ("bench", "Bench", "cutting, pressing, plan"),
    ("account", "Account", "quote, money, papers"),
)


def ways(request: HttpRequest, *, place: str = "") -> list[Way]:
    """Return the places this caller may open; the page itself lies in `place`, or where its name says."""
    here = place or _place_of(request)
    found = ((each, address_for(request, each.name)) for each in PLACES)
    return [Way(each.name, each.label, url, each.name == here) for each, url in found if url]


def rooms(request: HttpRequest, order: Any, *, room: str) -> list[Way]:
    """Return the rooms of the order that this caller may open."""
    found = ((each, address_for(request, f"order-{each[0]}", order.number)) for each in ROOMS)
    return [Way(name, label, url, name == room, within) for (name, label, within), url in found if url]


def address_for(request: HttpRequest, name: str, *args: Any) -> str:
    """Return the address of a page, or nothing where there is none that this caller may open."""
    try:
        url = reverse(name, args=args)
    except NoReverseMatch:
        return ""
    known = (settings.ROOT_URLCONF, name)
    if known not in _callers:
        _callers[known] = tuple(getattr(resolve(url).func, "callers", ()))
    callers = _callers[known]
    return url if "anyone" in callers or getattr(request.user, "role", None) in callers else ""


def _place_of(request: HttpRequest) -> str:
    match = request.resolver_match
    words = (match.url_name or "").split("-") if match else []
    return next((each.name for word in words for each in PLACES if word in each.words), "")

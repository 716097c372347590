"""Find any shirt by what stands on its tag: 31-09F is order, shirt, side; 31-09 the shirt, 31 the bag."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from urllib.parse import unquote, urlsplit

from orders.models import Order, Piece, Shirt

_CODE = re.compile(r"(?:no\.?\s*)?0*(\d{1,7})(?:\s*[-–—./\s]\s*0*(\d{1,4})\s*(-?[a-z][a-z0-9-]*)?)?", re.I)
_LOOKS_LIKE = re.compile(r"(?:no\.?\s*)?\d{1,7}\s*[-–—./]\s*\d{1,4}\s*(?:-?[a-z][a-z0-9-]*)?", re.I)


@dataclass(frozen=True)
class Found:
    """A shirt by its tag; `piece` is the side the tag names, where that side is kept."""

    order: Order
    shirt: Shirt
    piece: Piece | None = None
    note: str = ""

    @property
    def code(self) -> str:
        """The number as it stands on the tag."""
        return tag_of(self.order, self.piece or self.shirt)


@dataclass(frozen=True)
class FoundBag:
    """A bin label: the order whose bag it is."""

    order: Order


@dataclass(frozen=True)
class Unknown:
    """A code that finds nothing: why, what to do, and numbers that look like it."""

    code: str
    why: str
    helps: str
    like: tuple[str, ...] = ()
    order: Order | None = None


def tag_of(order: Order, of: Shirt | Piece) -> str:
    """Return the number on a tag: 31-09 for a shirt, 31-09F for a side of it."""
    return f"{order.number}-{of.name if isinstance(of, Piece) else of}"


def looks_like_a_tag(words: str) -> bool:
    """Say whether these words are a number off a tag rather than words to search for."""
    return _LOOKS_LIKE.fullmatch(words.strip()) is not None


def find(typed: str) -> Found | FoundBag | Unknown:
    """Return what a tag names, read off it or scanned; a whole address is read by its end."""
    code = _end_of_address(typed)
    read = _CODE.fullmatch(code.strip())
    if read is None:
        return Unknown(
            code.strip(),
            "It does not read like a tag of this shop.",
            "A tag reads like 31-09F. Type it again.",
        )
    number, shirt, side = read.groups()
    order = Order.objects.filter(number=int(number)).select_related("customer").first()
    if order is None:
        return _no_order(code, int(number))
    return FoundBag(order) if shirt is None else _shirt(order, int(shirt), side or "", code)


def _shirt(order: Order, number: int, side: str, code: str) -> Found | Unknown:
    shown = Shirt.objects.of_order(order.number).select_related("bag")
    shirt = shown.prefetch_related("pieces__photo", "photos").filter(number=number).first()
    if shirt is None:
        return _no_shirt(order, number, code)
    if not side:
        return Found(order, shirt)
    piece = next((each for each in shirt.pieces.all() if each.name.lower() == f"{shirt}{side}".lower()), None)
    note = "" if piece else f"No panel {side.upper()} of it is kept, so here is the whole shirt."
    return Found(order, shirt, piece, note)


def _no_order(code: str, number: int) -> Unknown:
    last = Order.objects.order_by("-number").first()
    why = f"No quilt here has the number {number}."
    if last is None:
        return Unknown(code, why, "No quilt was opened in this shop yet.")
    return Unknown(
        code, why,
        f"The last one is No. {last.number}. Look at the tag once more, or look for the quilt by its name.",
    )  # fmt: skip


def _no_shirt(order: Order, number: int, code: str) -> Unknown:
    numbers = sorted(Shirt.objects.of_order(order.number).values_list("number", flat=True))
    if not numbers:
        return Unknown(
            code, f"No shirt of No. {order.number} has its number yet.", "Log its shirts first.", (), order
        )
    why = f"No. {order.number} has no shirt {number:02d}: its numbers are {in_runs(numbers)}."
    like = tuple(f"{order.number}-{each:02d}" for each in numbers if _is_like(each, number))
    return Unknown(code, why, "Read the tag once more; a 1 looks like a 7, a 0 like an 8.", like[:4], order)


def in_runs(numbers: list[int]) -> str:
    """Return numbers in order with runs drawn together: 01 to 04, 07."""
    return ", ".join(
        f"{first:02d}" if first == last else f"{first:02d} to {last:02d}" for first, last in _runs(numbers)
    )


def _runs(numbers: list[int]) -> Iterator[tuple[int, int]]:
    start = before = numbers[0]
    for number in numbers[1:]:
        if number != before + 1:
            yield start, before
            start = number
        before = number
    yield start, before


def _is_like(one: int, other: int) -> bool:
    """Two numbers that differ in one figure, or have two figures turned round."""
    a, b = f"{one:02d}", f"{other:02d}"
    if len(a) != len(b):
        return False
    return sum(x != y for x, y in zip(a, b, strict=True)) == 1 or a == b[::-1]


def _end_of_address(typed: str) -> str:
    if "://" not in typed:
        return unquote(typed).strip().strip("/")
    path = urlsplit(typed.strip()).path.strip("/")
    return unquote(path.rsplit("/", 1)[-1])

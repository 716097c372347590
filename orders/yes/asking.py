"""What is asked about before the blade: each piece of an order with where its yes stands."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from orders.models import ApprovedPiece, AskedSingly, Consent, Design, Look, Order, Photo, Piece, Shirt
from orders.models.asked_singly import is_second
from orders.models.blade import Sizes, covers
from orders.models.people import fold_name
from orders.yes.yes_to_cut import is_single, looks_by_piece
from planner.quilt import Quilt
from planner.units import Size

# How a piece stands: its shape on the screen, as everywhere.
SHAPES = {"cut": "work", "yes": "done", "today": "done", "changed": "wait", "lapsed": "wait", "ask": "rest"}
IN_WORDS = {
    "cut": "cut",
    "yes": "yes",
    "today": "yes, today only",
    "changed": "changed since",
    "lapsed": "its day is over",
    "ask": "not asked",
}

TWO_LOOKS = "wants a second look"
KEPT_APART = "is kept apart"
WHY_NOT = {
    "ask": "has no yes to cut",
    "changed": "changed since the yes, so ask again",
    "lapsed": "had a yes for one day, and that day is over",
}


@dataclass(frozen=True)
class Asked:
    """One piece, and where its yes stands: cut, yes, today, changed, lapsed or ask."""

    piece: Piece
    stands: str
    yes: ApprovedPiece | None

    @property
    def is_open(self) -> bool:
        """Say whether a yes is still to be asked for."""
        return self.stands in ("changed", "lapsed", "ask")

    @property
    def photo(self) -> Photo | None:
        """The photo of the panel, else the first of its shirt."""
        return self.piece.photo or next(iter(self.piece.shirt.photos.all()), None)

    @property
    def words(self) -> str:
        return IN_WORDS[self.stands]

    @property
    def shape(self) -> str:
        return SHAPES[self.stands]


@dataclass(frozen=True)
class Single:
    """A piece asked about by itself: every name on its shirt with what that name said, if anything."""

    asked: Asked
    on_shirt: AskedSingly
    said: tuple[tuple[str, Consent | None], ...]

    @property
    def lacks(self) -> tuple[str, ...]:
        """Whose yes is still missing."""
        return tuple(name for name, yes in self.said if yes is None)

    @property
    def is_asked_of(self) -> tuple[str, ...]:
        """Whom to ask now: nobody once it is cut."""
        return () if self.asked.stands == "cut" else self.lacks


@dataclass(frozen=True)
class Asking:
    """All that is asked about in an order; `not_laid_out` pieces have no block and need no yes."""

    pile: tuple[Asked, ...]
    singles: tuple[Single, ...]
    not_laid_out: int
    said: tuple[Consent, ...]

    @property
    def to_ask(self) -> tuple[Asked, ...]:
        """The pieces of the pile that still need a yes."""
        return tuple(each for each in self.pile if each.is_open)

    @property
    def yeses(self) -> tuple[Asked, ...]:
        """The pieces of the pile that may be cut, or are."""
        return tuple(each for each in self.pile if not each.is_open)

    @property
    def changed(self) -> tuple[str, ...]:
        """What is another piece, crop or size than was said yes to."""
        all_of_them = [*self.pile, *(each.asked for each in self.singles)]
        return tuple(each.piece.name for each in all_of_them if each.stands == "changed")

    @property
    def total(self) -> int:
        return len(self.pile) + len(self.singles)

    @property
    def agreed(self) -> int:
        """How many pieces may be cut, or are."""
        every = [*self.pile, *(each.asked for each in self.singles)]
        return sum(not each.is_open for each in every)


@dataclass(frozen=True)
class Looked:
    """A piece that wants two looks before the blade, and who has looked so far."""

    piece: Piece
    looks: tuple[Look, ...]
    yes: ApprovedPiece | None
    size: Size | None

    @property
    def is_enough(self) -> bool:
        """Say whether it was looked at twice: by two, or by one with a night between."""
        return is_second(self.looks)

    @property
    def is_by_two(self) -> bool:
        return len({each.by_id for each in self.looks}) > 1


def asking_of(order: Order, quilt: Quilt | None) -> Asking:
    """Return what is asked about: the pieces of the layout, or all that are wanted before there is one."""
    every = pieces_to_ask(order)
    placed = {cell.piece for cell in quilt.with_pieces()} if quilt else {each.name for each in every}
    pieces = [each for each in every if each.name in placed]
    sizes = _sizes(quilt)
    found = asked_of(order, pieces, sizes)
    said = tuple(order.consents.filter(kind=Consent.Kind.CUT).select_related("piece__shirt", "photo"))
    return Asking(
        pile=tuple(each for each in found if not is_single(each.piece)),
        singles=tuple(_single(each, said, sizes) for each in found if is_single(each.piece)),
        not_laid_out=len(every) - len(pieces),
        said=tuple(each for each in said if each.withdrawn_at is None),
    )


def pieces_to_ask(order: Order) -> list[Piece]:
    """Return the pieces that may be cut for an order: wanted, here, and no other order’s.

    Where it keeps to what it was given she is asked about that alone.
    """
    here = Piece.objects.filter(
        shirt__bag__orders=order, shirt__state__in=[Shirt.State.IN_WORK, Shirt.State.USED]
    )
    found = here.exclude(wanted="out").select_related("shirt__asked_singly", "photo", "order")
    pieces = found.prefetch_related("shirt__photos").order_by("shirt__number", "side").distinct()
    free = [each for each in pieces if each.order_id in (None, order.pk)]
    given = [each for each in free if each.order_id == order.pk]
    return given if given and order.keeps_to_what_it_was_given else free


def asked_of(order: Order, pieces: Iterable[Piece], sizes: Sizes) -> list[Asked]:
    """Return where the yes to each piece stands."""
    unmarked = ApprovedPiece.objects.filter(order=order, withdrawn_at=None).select_related("cut", "consent")
    by_piece = {each.piece_id: each for each in unmarked}
    return [_asked(piece, by_piece.get(piece.pk), sizes) for piece in pieces]


def ready_for_the_blade(
    order: Order, pieces: Iterable[Piece], quilt: Quilt | None
) -> dict[int, tuple[ApprovedPiece | None, str]]:
    """Return the yes of each piece, and in a few words what keeps the blade away; empty when nothing does."""
    every, sizes = list(pieces), _sizes(quilt)
    alone = set(AskedSingly.objects.filter(shirt__bag__orders=order).values_list("shirt", flat=True))
    twice = {pk for pk, seen in looks_by_piece(order, every, alone=alone).items() if not is_second(seen)}
    found = {}
    for asked in asked_of(order, every, sizes):
        words = WHY_NOT.get(asked.stands, "")
        if not words and asked.stands != "cut" and asked.piece.pk in twice:
            words = TWO_LOOKS
        if asked.piece.shirt.apart and asked.stands != "cut":
            words = KEPT_APART
        found[asked.piece.pk] = (None if asked.is_open else asked.yes, words)
    return found


def to_look_at(order: Order, quilt: Quilt | None) -> list[Looked]:
    """Return the pieces of the layout that are not cut and want two looks, those that lack one first."""
    every = pieces_to_ask(order)
    placed = {cell.piece for cell in quilt.with_pieces()} if quilt else {each.name for each in every}
    sizes = _sizes(quilt)
    open_ones = {each.piece.pk: each for each in asked_of(order, every, sizes) if each.stands != "cut"}
    wanted = [each.piece for each in open_ones.values() if each.piece.name in placed]
    looks = looks_by_piece(order, wanted, alone={each.shirt_id for each in wanted if is_single(each)})
    found = [
        Looked(
            piece=open_ones[pk].piece,
            looks=tuple(seen),
            yes=None if open_ones[pk].is_open else open_ones[pk].yes,
            size=_size_of(open_ones[pk].piece, sizes),
        )
        for pk, seen in looks.items()
    ]
    return sorted(found, key=lambda each: each.is_enough)


def _sizes(quilt: Quilt | None) -> Sizes:
    return Design.sizes_in(quilt) if quilt else {}


def _asked(piece: Piece, yes: ApprovedPiece | None, sizes: Sizes) -> Asked:
    if yes is None:
        return Asked(piece, "ask", None)
    if hasattr(yes, "cut"):
        return Asked(piece, "cut", yes)
    if yes.is_lapsed:
        return Asked(piece, "lapsed", yes)
    if not covers(yes.facts, piece, sizes=sizes):
        return Asked(piece, "changed", yes)
    return Asked(piece, "today" if yes.until else "yes", yes)


def _single(asked: Asked, said: Iterable[Consent], sizes: Sizes) -> Single:
    on_shirt: AskedSingly = asked.piece.shirt.asked_singly
    heard = {
        fold_name(each.said_by): each
        for each in said
        if each.piece_id == asked.piece.pk
        and each.stands
        and covers(each.facts or {}, asked.piece, sizes=sizes)
    }
    return Single(asked, on_shirt, tuple((name, heard.get(fold_name(name))) for name in on_shirt.names))


def _size_of(piece: Piece, sizes: Sizes) -> Size | None:
    return Size(*sizes[piece.name]) if piece.name in sizes else None

"""Joined lengths and whole small plans by trying everything; shares nothing with the engine."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache


def can_be_joined(lengths: Sequence[int], rooms: Sequence[int], *, loss: int, least_end: int) -> bool:
    """Say whether ends of whole units out of the rooms, joined with that loss, make every length."""
    return _joined(tuple(sorted(lengths)), tuple(sorted(rooms)), loss, least_end)


def fewest_strips(
    pieces: Sequence[int], lengths: Sequence[int], *, width: int, loss: int, least_end: int
) -> int:
    """Return the fewest strips of one height that hold the pieces and give the lengths their ends."""
    strips = 0
    while not any(
        can_be_joined(lengths, rooms, loss=loss, least_end=least_end)
        for rooms in set(_rooms(tuple(pieces), (width,) * strips))
    ):
        strips += 1
    return strips


def _rooms(pieces: tuple[int, ...], free: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
    """Yield what is left of the strips, however the pieces are laid into them."""
    if not pieces:
        yield free
        return
    for place in range(len(free)):
        if free[place] >= pieces[0] and free[place] not in free[:place]:
            left = (*free[:place], free[place] - pieces[0], *free[place + 1 :])
            yield from _rooms(pieces[1:], tuple(sorted(left)))


@lru_cache(maxsize=200_000)
def _joined(lengths: tuple[int, ...], rooms: tuple[int, ...], loss: int, least_end: int) -> bool:
    if not lengths:
        return True
    return any(
        _joined(lengths[:-1], left, loss, least_end) for left in _made(lengths[-1], rooms, loss, least_end)
    )


def _made(length: int, rooms: tuple[int, ...], loss: int, least_end: int) -> set[tuple[int, ...]]:
    """Return what is left of the rooms by every way to make one length out of them."""
    found = set()
    for left, got, ends in _taken(rooms, least_end):
        if ends and got - (ends - 1) * loss >= length:
            found.add(tuple(sorted(left)))
    return {left for left in found if not any(_holds(other, left) for other in found if other != left)}


def _holds(more: tuple[int, ...], less: tuple[int, ...]) -> bool:
    return all(one >= other for one, other in zip(more, less, strict=True))


def _taken(rooms: tuple[int, ...], least_end: int) -> Iterator[tuple[tuple[int, ...], int, int]]:
    if not rooms:
        yield (), 0, 0
        return
    for left, got, ends in _taken(rooms[1:], least_end):
        yield (rooms[0], *left), got, ends
        for end in range(max(1, least_end), rooms[0] + 1):
            yield (rooms[0] - end, *left), got + end, ends + 1

"""Ties: lengths that share slots, and a proof that lengths cannot be joined out of some slots."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice, product
from math import gcd

from .fills import Group
from .programme import Programme, Row, solve
from .slots import Slot

MOST_TIED = 4
MOST_COVERS = 20_000
EFFORT = 10

Size = tuple[int, int]


@dataclass(frozen=True)
class Tie:
    """Lengths made together out of slots: how many of each size, how many slots of each kind.

    A tie loses a join for every slot but one, so each length more in a tie takes one more join off what
    there is to spare, and so does what it wastes; `lost` is both.
    """

    made: Mapping[Size, int]
    taken: Mapping[Slot, int]
    lost: int


def spare(group: Group, slots: Sequence[Slot]) -> int:
    """What the slots give more than the lengths take, each less a join; none gives less than nothing."""
    given = sum(max(0, slot.room - group.loss) for slot in slots)
    return given - sum(length - group.loss for length in group.lengths)


def cannot_be_joined(group: Group, slots: Sequence[Slot]) -> bool:
    """Say whether it is proved that the slots do not make the lengths.

    No end's least length is looked at but where a slot is too short for all of a tie.
    """
    kinds = Counter(slots)
    left = spare(group, slots)
    if left < 0:
        return True
    ties = needed_ties(group, kinds, left) if _most_tied(group, left) <= MOST_TIED else None
    if ties is None:
        return False
    rows = [
        Row({n: tie.made.get(size, 0) for n, tie in enumerate(ties)}, least=many, most=many)
        for size, many in Counter(group.sizes).items()
    ]
    rows += [
        Row({n: tie.taken.get(kind, 0) for n, tie in enumerate(ties)}, most=count)
        for kind, count in kinds.items()
    ]
    rows.append(Row({n: tie.lost for n, tie in enumerate(ties)}, most=left))
    answer = solve(Programme([0] * len(ties), [len(group.lengths)] * len(ties), rows), effort=EFFORT)
    return answer.settled and answer.uses is None


def needed_ties(group: Group, kinds: Mapping[Slot, int], most: int) -> list[Tie] | None:
    """Return the ties that lose no more than `most` and do not come apart into two; None when too many.

    `kinds` says how many slots of each kind there can be.
    """
    every = list(islice(_ties(group, kinds, most), MOST_COVERS + 1))
    if len(every) > MOST_COVERS:
        return None
    unit = gcd(group.loss, *group.lengths, *(slot.room for slot in kinds)) or 1
    return [tie for tie in every if tie.lost <= most and not _comes_apart(group, tie, unit)]


def _most_tied(group: Group, spare: int) -> int:
    return min(len(group.lengths), spare // group.loss + 1 if group.loss else len(group.lengths))


def _ties(group: Group, kinds: Mapping[Slot, int], spare: int) -> Iterator[Tie]:
    """Yield lengths tied together with slots that make them, none of those needless."""
    sizes, tied = Counter(group.sizes), _most_tied(group, spare)
    for many in product(*(range(min(count, tied) + 1) for count in sizes.values())):
        if not 1 <= sum(many) <= tied:
            continue
        made = {size: times for size, times in zip(sizes, many, strict=True) if times}
        least_end = max(group.loss + 1, min(least for _, least in made))
        usable = sorted((slot for slot in kinds if slot.room >= least_end), reverse=True)
        joins = (sum(many) - 1) * group.loss
        for taken, over in _covers(usable, kinds, group.loss, _wanted(group, made)):
            yield Tie(made, taken, over + joins)


def _wanted(group: Group, made: Mapping[Size, int]) -> int:
    """What a tie takes of the sum of its slots less a join each."""
    lengths = sum((length - group.loss) * times for (length, _), times in made.items())
    return lengths + (sum(made.values()) - 1) * group.loss


def _comes_apart(group: Group, tie: Tie, unit: int) -> bool:
    """Say whether some of the slots make some of the lengths and the others, all long enough, the rest."""
    shortest = min((slot.room for slot in tie.taken), default=0)
    gains = {slot: (slot.room - group.loss) // unit for slot in tie.taken}
    whole = sum(gains[slot] * many for slot, many in tie.taken.items())
    for many in product(*(range(times + 1) for times in tie.made.values())):
        part = {size: times for size, times in zip(tie.made, many, strict=True) if times}
        rest = {size: tie.made[size] - part.get(size, 0) for size in tie.made}
        rest = {size: times for size, times in rest.items() if times}
        if part and rest and shortest >= max(least for _, least in rest):
            longest = max(least for _, least in part)
            usable = {slot: many for slot, many in tie.taken.items() if slot.room >= longest}
            least, most = _wanted(group, part) // unit, whole - _wanted(group, rest) // unit
            if least <= most and _sums(usable, gains) >> least & ((1 << (most - least + 1)) - 1):
                return True
    return False


def _sums(usable: Mapping[Slot, int], gains: Mapping[Slot, int]) -> int:
    """Return the sums that some of the slots make: bit n stands for a sum of n."""
    sums = 1
    for slot, many in usable.items():
        for _ in range(many):
            sums |= sums << gains[slot]
    return sums


def _covers(
    usable: Sequence[Slot], kinds: Mapping[Slot, int], loss: int, wanted: int
) -> Iterator[tuple[dict[Slot, int], int]]:
    """Yield slots that make up what is wanted, none of them needless, and by how much too much."""
    if wanted <= 0:
        yield {}, -wanted
        return
    if not usable:
        return
    slot, gain = usable[0], usable[0].room - loss
    enough = -(-wanted // gain)
    fewest = 0 if usable[1:] else enough
    for many in range(min(kinds[slot], enough), fewest - 1, -1):
        for taken, over in _covers(usable[1:], kinds, loss, wanted - many * gain):
            yield ({slot: many, **taken} if many else taken), over

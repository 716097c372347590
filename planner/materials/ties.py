"""A proof that lengths cannot be joined out of some slots: what is tied together, and what that wastes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import islice, product

from .fills import Group
from .programme import Programme, Row, solve
from .slots import Slot

MOST_TIED = 4
MOST_TIES = 5_000
EFFORT = 10

Size = tuple[int, int]


def cannot_be_joined(group: Group, slots: Sequence[Slot]) -> bool:
    """Say whether it is proved that the slots do not make the lengths.

    Lengths that share slots are tied together. A tie loses a join for every slot but one, so each
    length more in a tie takes one more join off what there is to spare, and so does what it wastes.
    No end's least length is looked at but where a slot is too short for all of a tie.
    """
    spare = sum(slot.room - group.loss for slot in slots) - sum(
        length - group.loss for length in group.lengths
    )
    if spare < 0:
        return True
    tied = min(len(group.lengths), spare // group.loss + 1 if group.loss else len(group.lengths))
    if tied > MOST_TIED:
        return False
    kinds = Counter(slots)
    sizes = Counter(zip(group.lengths, group.least_ends, strict=True))
    ties = list(islice(_ties(group, sizes, kinds, (tied, spare)), MOST_TIES + 1))
    if len(ties) > MOST_TIES:
        return False
    rows = [
        Row({n: made.count(size) for n, (made, _, _) in enumerate(ties)}, least=count, most=count)
        for size, count in sizes.items()
    ]
    rows += [
        Row({n: taken.get(kind, 0) for n, (_, taken, _) in enumerate(ties)}, most=count)
        for kind, count in kinds.items()
    ]
    rows.append(Row({n: lost for n, (_, _, lost) in enumerate(ties)}, most=spare))
    answer = solve(Programme([0] * len(ties), [len(group.lengths)] * len(ties), rows), effort=EFFORT)
    return answer.settled and answer.uses is None


def _ties(
    group: Group, sizes: Counter[Size], kinds: Counter[Slot], tied_and_spare: tuple[int, int]
) -> Iterator[tuple[list[Size], dict[Slot, int], int]]:
    """Yield which lengths are tied, the slots that make them, and what is lost of what there is to spare."""
    tied, spare = tied_and_spare
    for many in product(*(range(min(count, tied) + 1) for count in sizes.values())):
        if not 1 <= sum(many) <= tied:
            continue
        made = [size for size, times in zip(sizes, many, strict=True) for _ in range(times)]
        least_end = max(group.loss + 1, min(least for _, least in made))
        joins = (sum(many) - 1) * group.loss
        wanted = sum(length - group.loss for length, _ in made) + joins
        usable = sorted((slot for slot in kinds if slot.room >= least_end), reverse=True)
        for taken, over in _covers(usable, kinds, group.loss, wanted):
            if over + joins <= spare:
                yield made, taken, over + joins


def _covers(
    usable: Sequence[Slot], kinds: Counter[Slot], loss: int, wanted: int
) -> Iterator[tuple[dict[Slot, int], int]]:
    """Yield slots that make up what is wanted, none of them needless, and by how much too much."""
    if wanted <= 0:
        yield {}, -wanted
        return
    if not usable:
        return
    slot, gain = usable[0], usable[0].room - loss
    for many in range(min(kinds[slot], -(-wanted // gain)), -1, -1):
        for taken, over in _covers(usable[1:], kinds, loss, wanted - many * gain):
            yield ({slot: many, **taken} if many else taken), over

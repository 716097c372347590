"""Which garments may share a load, and which must not be washed (trade handbook 3.6)."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from planner.quilt import Garment

LOAD = 25
DELICATE = frozenset({"wool", "silk", "cashmere", "acetate", "spandex", "elastane"})


@dataclass(frozen=True)
class Load:
    """Garments washed together, how, and what to mind."""

    garments: tuple[str, ...]
    programme: str
    cautions: tuple[str, ...] = ()


def wash_loads(garments: Iterable[Garment]) -> tuple[Load, ...]:
    """Return the loads to run, one after the other; a garment washed twice is in two of them.

    At most 25 garments a load (common practice for shirts in a household machine); alike ones under
    one tag stay together while they fit, and more than 25 of them are in several loads. Garments
    that are ready, never washed or sent to a professional cleaner are in none.
    """
    todo = sorted(garments, key=lambda each: (len(each.id), each.id))  # shirt 9 before shirt 10
    alone = [each for each in todo if runs_alone(each)]
    shared = [each for each in todo if each.wash in ("wash", "twice") and each not in alone]
    smoky = [each for each in shared if "smoke" in each.flags]
    plain = [each for each in shared if each not in smoky]
    loads = [load for each in alone for load in _filled([each], ("Alone: its dye may run.",))]
    for group in (plain, smoky):
        loads += _shared_loads(group)
        loads += _shared_loads([each for each in group if each.wash == "twice"])
    return tuple(loads)


@dataclass(frozen=True)
class KeptOut:
    """A garment that goes into no load of the shop's, and why."""

    garment: str
    why: str


_KEPT_OUT = {
    "never": "Never washed, as it was wished: keep it sealed, and say on the care card that the quilt "
    "cannot be washed.",
    "professional": "To a professional cleaner, not into the shop’s machine.",
    "ready": "Washed and ready.",
}


def kept_out(garments: Iterable[Garment]) -> tuple[KeptOut, ...]:
    """Return what goes into no load, those that must never be washed first."""
    order = list(_KEPT_OUT)
    found = [each for each in garments if each.wash in _KEPT_OUT]
    found.sort(key=lambda each: (order.index(each.wash), each.id))
    return tuple(KeptOut(each.id, _KEPT_OUT[each.wash]) for each in found)


def wash_partners(garment: Garment, garments: Iterable[Garment]) -> tuple[str, ...]:
    """Return which of the others may share a load with a garment, by id; none for one that runs alone."""
    loads = [load.garments for load in wash_loads((garment, *_others(garment, garments)))]
    mine = {each for load in loads if garment.id in load for each in load}
    return tuple(sorted(mine - {garment.id}))


def _others(garment: Garment, garments: Iterable[Garment]) -> Iterable[Garment]:
    return (each for each in garments if each.id != garment.id)


def runs_alone(garment: Garment) -> bool:
    """Say whether the garment is washed with nothing else: told so, or its dye runs."""
    washable = garment.wash in ("wash", "twice", "apart")
    return garment.wash == "apart" or (washable and "bleeds" in garment.flags)


def _shared_loads(garments: list[Garment]) -> list[Load]:
    return _filled(
        garments, ("No softener and no dryer sheet: they stop the glue. Use a dye-catching sheet.",)
    )


def _filled(garments: list[Garment], cautions: tuple[str, ...]) -> list[Load]:
    """Loads of at most 25 garments, in their order; a group larger than that has loads of its own."""
    piles: list[list[Garment]] = []
    room = 0
    for each in garments:
        if each.count > LOAD:
            piles += [[each]] * -(-each.count // LOAD)
            room = 0
        elif each.count > room:
            piles.append([each])
            room = LOAD - each.count
        else:
            piles[-1].append(each)
            room -= each.count
    return [_load(pile, cautions) for pile in piles]


def _load(pile: list[Garment], cautions: tuple[str, ...]) -> Load:
    parted = ("More than one load: wash them in parts, and count them in and out.",)
    is_parted = any(each.count > LOAD for each in pile)
    return Load(tuple(each.id for each in pile), _programme(pile), cautions + parted * is_parted)


def _programme(garments: list[Garment]) -> str:
    delicate = any(name.lower() in DELICATE for each in garments for name in each.fibres)
    return "cold, gentle" if delicate else "cold"

"""Cloth for a part of the quilt, in the order in which a maker would try it, with reasons in words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from orders.cloth.cloth_lengths import Lengths
from orders.cloth.cloth_looks import look_of
from orders.cloth.cloth_needs import set_aside_for_others
from orders.colors.looks import palette_of_color
from orders.models import Cloth, Order
from orders.planning import interfacing_behind
from planner.care.interfacing import INTERFACINGS
from planner.colour import Advice, FabricLook, Palette, Reason, advise, sort_out

NOT_FOR_TOPS = ("batting", *INTERFACINGS)
FOR_BACKS = ("backing", "plush")
SHOWN, BESIDE, FOLDED = 4, 2, 16  # of the first heap in sight, beside a chosen one, folded away
GOOD_REASONS, OBJECTIONS = 2, 3
AGAINST = -8.0
# Said of every calm cloth, so they come last where there is more to say.
BLAND = (
    "quiet_cloth_leaves_the_talking_to_the_shirts",
    "it_is_not_far_too_dark_or_light_against_the_set",
    "corner_squares_may_be_the_one_bright_spot",
)
# Plain colors any store has, to name one where the shelf has nothing.
STORE = {
    "white": "#f7f7f2", "cream": "#f1e8d0", "pale gray": "#c9cbcd", "gray": "#8e9196",
    "charcoal": "#4a4a4d", "black": "#181818", "navy": "#1f2a4d", "forest green": "#234a34",
    "maroon": "#5f1f2c", "gold": "#e2a71e", "royal blue": "#2350b0", "red": "#b3202c", "teal": "#147a7a",
    "purple": "#4d2a5a", "orange": "#e0782a",
}  # fmt: skip


@dataclass(frozen=True)
class Why:
    """One reason as a page shows it: its mark (done, wait or late) and the sentence."""

    mark: str
    words: str


@dataclass(frozen=True)
class Choice:
    """A cloth for the part that is open: what is free of it, what the part takes, and why (not)."""

    cloth: Cloth
    free: int
    needed: int | None
    reasons: tuple[Why, ...]
    is_chosen: bool
    gives: int = 0
    gives_first: bool = False
    buy: int = 0

    @property
    def is_short(self) -> bool:
        return self.needed is not None and self.free < self.needed


@dataclass(frozen=True)
class Heap:
    """Cloths under one heading: `choices` in sight, the `rest` folded away, `more` only counted.

    With none in sight the heading itself folds, and shows a few of its cloths.
    """

    title: str
    choices: tuple[Choice, ...]
    rest: tuple[Choice, ...] = ()
    more: int = 0

    @property
    def count(self) -> int:
        """How many cloths there are under the heading."""
        return len(self.choices) + len(self.rest) + self.more


def heaps_for(
    order: Order,
    cloths: Sequence[Cloth],
    palettes: Mapping[str, Palette],
    *,
    role: str,
    lengths: Lengths,
) -> tuple[Heap, ...]:
    """Return the cloth that can serve a part of the quilt in heaps, what is here first."""
    fit = {cloth.name: cloth for cloth in cloths if can_serve(cloth, role)}
    looks = {name: look for name, cloth in fit.items() if (look := look_of(cloth)) is not None}
    advice = advise(palettes, looks, role, theme_wanted=is_theme_wanted(order))
    sorted_out = sort_out(advice)
    told = {each.cloth for each in advice}
    narrow = "Only narrow" if role in ("sashing", "border", "filler", "frame") else "Better elsewhere"
    heaps = [
        ("Try first", sorted_out.try_first),
        ("Also good", sorted_out.also_good),
        (narrow, sorted_out.only_narrow),
    ]
    untold = [Advice(name, role, 0, ()) for name in sorted(fit) if name not in told]
    heaps.append(("No color known yet" if palettes else "On the shelf", tuple(untold)))
    in_sight = BESIDE if order.cloth.get(role) in fit else SHOWN
    told_of = [(title, advice) for title, advice in heaps if advice]
    return tuple(
        _heap(title, [_choice(fit[each.cloth], each, order, lengths) for each in advice], in_sight=most)
        for (title, advice), most in zip(told_of, (in_sight, *(0 for _ in told_of)), strict=False)
    )


def can_serve(cloth: Cloth, role: str) -> bool:
    """Say whether a cloth is of a kind for this part: wide backing and plush are for backs alone."""
    return cloth.kind not in NOT_FOR_TOPS and (role == "backing" or cloth.kind not in FOR_BACKS)


def is_theme_wanted(order: Order) -> bool:
    """Say whether the customer asked for a themed print."""
    return bool(order.wish.get("theme"))


def to_buy(palettes: Mapping[str, Palette], role: str, *, theme_wanted: bool = False) -> tuple[str, ...]:
    """Name up to three plain colors to look for in a store, the best first."""
    looks = {name: _plain(color) for name, color in STORE.items()}
    return tuple(each.cloth for each in advise(palettes, looks, role, theme_wanted=theme_wanted)[:3])


def _heap(title: str, choices: list[Choice], *, in_sight: int) -> Heap:
    """Return the heap with what is here in full first, else as it was advised; the chosen is in sight."""
    choices.sort(key=lambda choice: choice.is_short)
    chosen = [each for each in choices[in_sight:] if each.is_chosen]
    folded = [each for each in choices[in_sight:] if not each.is_chosen]
    return Heap(title, (*choices[:in_sight], *chosen), tuple(folded[:FOLDED]), len(folded[FOLDED:]))


def _choice(cloth: Cloth, advice: Advice, order: Order, lengths: Lengths) -> Choice:
    if cloth.garment is not None:
        return _garment(cloth, advice, order, lengths)
    free = max(cloth.on_hand - set_aside_for_others(cloth, order), 0)
    needed = lengths.of(cloth)
    reasons = (*_reasons(advice.reasons), *_of_length(cloth, free, needed, lengths))
    missing = max(0, (needed or 0) - free) if cloth.price_minor is not None else 0
    return Choice(
        cloth,
        free,
        needed,
        reasons,
        is_chosen=order.cloth.get(advice.role) == cloth.name,
        buy=lengths.to_buy(cloth, missing),
    )


def _garment(cloth: Cloth, advice: Advice, order: Order, lengths: Lengths) -> Choice:
    """A customer's garment: it gives so many pieces of the part, may need fusing, and waits for a yes."""
    assert cloth.garment is not None
    gives, whole = lengths.given_by(cloth, order)
    said = _reasons(advice.reasons)
    if whole:
        mark = "done" if gives == whole else "wait" if gives else "late"
        said.append(
            Why(
                mark, f"Gives {gives} of the {whole} pieces" if gives else "Gives no whole piece of this part"
            )
        )
    fuse = interfacing_behind(cloth.garment)
    if fuse != "none":
        said.append(Why("wait", f"Stretches or is thin: {fuse} goes behind it first"))
    if not cloth.may_be_cut:
        said.append(Why("late", "Her yes to cut it is missing"))
    return Choice(
        cloth=cloth,
        free=0,
        needed=None,
        reasons=tuple(said),
        is_chosen=order.cloth.get(advice.role) == cloth.name,
        gives=gives,
        gives_first=order.wish.get("gives", {}).get(advice.role) == cloth.name,
    )


def _reasons(reasons: Iterable[Reason]) -> list[Why]:
    """Return the few reasons that tell one cloth from another: good ones first, no objection hidden."""
    good = sorted(
        (each for each in reasons if each.points > 0),
        key=lambda each: (each.rule in BLAND, -each.points),
    )
    against = sorted((each for each in reasons if each.points <= 0), key=lambda each: each.points)
    said = [Why("done", each.words) for each in good[:GOOD_REASONS]]
    marks = [("late" if each.points <= AGAINST else "wait", each.words) for each in against[:OBJECTIONS]]
    return said + [Why(mark, words) for mark, words in marks]


def _of_length(cloth: Cloth, free: int, needed: int | None, lengths: Lengths) -> list[Why]:
    if lengths.cannot(cloth):
        return [Why("late", "Too narrow for this part")]
    if needed is None:
        return []
    if free < needed and cloth.price_minor is None:
        return [Why("late", "Not enough of it here, and no more to be had")]
    if free >= needed and free - needed < cloth.step:
        return [Why("wait", "Uses the whole length, nothing to spare")]
    return []


def _plain(color: str) -> FabricLook:
    palette = palette_of_color(color)
    return FabricLook(palette, palette.ground.lab[0] / 100, 0.0, 1, "solid")

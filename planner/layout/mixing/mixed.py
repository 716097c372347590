"""Mixed layouts: every piece in a block of its own size, no gaps, straight seams only.

Columns from edge to edge hold bands from edge to edge, each of a few blocks; rows are the same on
their side. Small questions are asked first, so that there is something to show early.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from planner.problems import BadInput, Impossible, Limit, Undecided
from planner.quilt import Bag

from ..options import Layout, Wish
from .bands import Reach
from .demands import Wanted, field_of, wanted_of
from .fields import Field, Packing, Settled
from .laying import SEAM, Ground, laid_out
from .nearby import Nearby
from .packing import pack
from .places import Chooser, Module
from .purse import Purse
from .refusals import ended_early, nothing_to_lay_out, off_the_module, piece_in_the_way, scope_of, words_of
from .sheets import Sheet, sheets_near, step_for

FIRST_BLOCKS, MOST_BLOCKS = 3, 4  # in one band, at first and at last
WIDER = 2
FIRST_WORK, SECOND_WORK = (0.5, 2.0), 4.0  # of the solver's deterministic time, for one question


def mixed_layout(
    bag: Bag, wish: Wish, *, module: int | None = None, limit: Limit, seed: int = 0, unit: str = "in"
) -> Layout | Impossible | Undecided:
    """Return the best layout of blocks of many sizes, in columns or in rows, or why there is none.

    Sides of blocks, with one strip of sashing each, come in steps of `module` ticks; None takes the
    usual step that suits the size. One piece of every garment is in, prints are whole with their
    margin, nothing is turned. `limit.watch` hears of each better layout; a step of effort is 1/20 of
    the solver's deterministic time. `unit`, in or cm, is what sentences are told in.
    """
    if module is not None and module <= 0:
        raise BadInput("module", "must be more than 0.")
    if not any(piece.wanted != "out" for piece in bag.pieces):
        return nothing_to_lay_out()
    step = module or step_for(wish, unit)
    sheets = sheets_near(wish, step)
    if not sheets:
        return off_the_module(wish, step, unit=unit)
    search = Search(bag, wish, unit, seed, Purse(limit))
    return piece_in_the_way(search.wanted(sheets[0].module), wish, sheets, unit) or search.best_on(sheets)


@dataclass(frozen=True)
class Asked:
    """A sheet to be filled in columns, or on its side: in rows."""

    sheet: Sheet
    on_its_side: bool


@dataclass
class Search:
    """One search for a bag and a wish: what it may still spend, and the best layout so far."""

    bag: Bag
    wish: Wish
    unit: str
    seed: int
    purse: Purse
    best: Layout | None = None
    _wanted: dict[Module, Wanted] = field(default_factory=dict)

    def best_on(self, sheets: tuple[Sheet, ...]) -> Layout | Impossible | Undecided:
        """Return the best layout on any of these sheets, or why there is none."""
        asked = [Asked(sheet, on_its_side) for sheet in sheets for on_its_side in (False, True)]
        scope = scope_of(self.wish, sheets[0].module, MOST_BLOCKS, unit=self.unit)
        none_of_few = self._there_is_none_of_few(asked)
        bounds = self._look_everywhere(asked)
        if self.best is not None:
            bound = min([self.best.cost, *bounds])
            return replace(self.best, bound=bound, proved=bound == self.best.cost, scope=scope)
        if bounds:
            return Undecided((ended_early(FIRST_BLOCKS if none_of_few else 0),), bound=min(bounds))
        around = Nearby(self.wish, self.wanted(sheets[0].module), sheets, self.unit)
        return Impossible((around.why_none(),), proof=scope)

    def wanted(self, module: Module) -> Wanted:
        """Return what the bag asks for on a module."""
        if module not in self._wanted:
            chooser = Chooser(module, self.wish.margin, SEAM, self.wish.blocks)
            self._wanted[module] = wanted_of(self.bag, chooser)
        return self._wanted[module]

    def field(self, sheet: Sheet) -> Field:
        """Return a sheet as the field that is to be filled."""
        return field_of(self.wanted(sheet.module), sheet.across, sheet.down, sheet.module)

    def _there_is_none_of_few(self, asked: list[Asked]) -> bool:
        """Look for any layout of few blocks in a band, the nearest size first; True where there is none."""
        waiting = list(asked)
        for work in FIRST_WORK:
            for each in list(waiting):
                if self.best is not None or self.purse.is_empty:
                    return False
                if self._ask(each, FIRST_BLOCKS, work).proved:
                    waiting.remove(each)
                self._tell(asked, waiting, FIRST_BLOCKS)
        return not waiting and self.best is None

    def _look_everywhere(self, asked: list[Asked]) -> list[int]:
        """Settle each question in full, the stubborn ones last; return the bounds of what stays open."""
        waiting = {each: each.sheet.error for each in asked}
        for work in (SECOND_WORK, None):
            for each in list(waiting):
                if self.best is not None and self.best.cost <= waiting[each]:
                    del waiting[each]
                elif not self.purse.is_empty:
                    settled = self._ask(each, MOST_BLOCKS, work)
                    waiting[each] = max(waiting[each], each.sheet.error + settled.bound)
                    if settled.proved:
                        del waiting[each]
                    self._tell(asked, list(waiting), MOST_BLOCKS)
        return list(waiting.values())

    def _tell(self, asked: list[Asked], waiting: list[Asked], blocks: int) -> None:
        """While there is no layout, say whether the nearest size has none, and how much is settled."""
        if self.best is not None:
            return
        nearest = asked[0].sheet.size
        is_open = any(each.sheet.size == nearest for each in waiting)
        none = f"None at {words_of(nearest, self.unit)} in parts of up to {blocks} blocks. "
        settled = f"{len(asked) - len(waiting)} of {len(asked)} sizes and directions settled."
        self.purse.tell(settled if is_open else none + settled)

    def _ask(self, asked: Asked, blocks: int, work: float | None) -> Settled:
        field = self.field(asked.sheet)
        if not field.may_be_filled():
            return Settled(None, 0, True)
        if asked.on_its_side:
            field = field.turned()
        under = self.best.cost - asked.sheet.error if self.best else None
        return pack(
            field,
            _reach(field, blocks),
            under=under,
            purse=self.purse,
            work=work,
            seed=self.seed,
            hear=lambda packing: self._hear(packing, asked),
        )

    def _hear(self, packing: Packing, asked: Asked) -> bool:
        ground = Ground(asked.sheet, self.bag, self.wish, self.wanted(asked.sheet.module), self.unit)
        layout = laid_out(packing, ground, on_its_side=asked.on_its_side)
        if self.best is None or layout.cost < self.best.cost:
            self.best = layout
            return self.purse.heard(layout)
        return not self.purse.stopped


def _reach(field: Field, blocks: int) -> Reach:
    """How wide columns may be: as the widest block, and when all is looked at a little wider."""
    return Reach(field.widest + (0 if blocks == FIRST_BLOCKS else WIDER), blocks)

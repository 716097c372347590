"""Where no mixed layout fits: the nearest size that works, and how many pieces the wished size takes."""

from __future__ import annotations

from dataclasses import dataclass, replace

from planner.problems import Limit, Problem
from planner.units import INCH

from ..options import Wish
from .bands import Reach
from .demands import Wanted, field_of
from .fields import Field
from .packing import pack
from .purse import Purse
from .refusals import words_of
from .sheets import Sheet, sheets_near

FARTHEST = 12 * INCH
MOST_LEFT_OUT = 4
BLOCKS = 3  # in a band
WORK = 0.1  # of the solver's deterministic time, for one question
EFFORT = 20  # for all of them


@dataclass(frozen=True)
class Nearby:
    """Looks round a wish that no layout fits."""

    wish: Wish
    wanted: Wanted
    sheets: tuple[Sheet, ...]
    unit: str

    def why_none(self) -> Problem:
        """Say that no layout fits, and what would: a number of pieces, a size."""
        count, target = self.wanted.required, words_of(self.wish.target, self.unit)
        purse = Purse(Limit(effort=EFFORT))
        fewer, sheet = self._fewer(purse), self._other_size(purse)
        changes = [f"leave {fewer} out" if fewer > 1 else "leave one out"] if fewer else []
        changes += [f"make it {words_of(sheet.size, self.unit)}"] if sheet else []
        change = ", or ".join(changes) or "wish for another size, a border, or more room in the size"
        figures = {"pieces": count} | ({"most": count - fewer} if fewer else {})
        figures |= {"width": sheet.size.width, "height": sheet.size.height} if sheet else {}
        return Problem(
            f"These {count} pieces do not fill {target} whole and in straight seams.",
            change=f"{change[0].upper()}{change[1:]}.",
            figures=figures,
        )

    def _fewer(self, purse: Purse) -> int:
        """The fewest pieces, up to four, that must stay out for the wished size to work; 0 if not found."""
        field = self._field(self.sheets[0])
        tries = range(1, min(MOST_LEFT_OUT, self.wanted.required - 1) + 1)
        return next((spare for spare in tries if works(replace(field, spare=spare), purse)), 0)

    def _other_size(self, purse: Purse) -> Sheet | None:
        step = self.sheets[0].module.step
        tried = {sheet.size for sheet in self.sheets}
        for sheet in sheets_near(self.wish, step, more=FARTHEST):
            if sheet.size not in tried and sheet.module == self.sheets[0].module:
                tried.add(sheet.size)
                if works(self._field(sheet), purse):
                    return sheet
        return None

    def _field(self, sheet: Sheet) -> Field:
        return field_of(self.wanted, sheet.across, sheet.down, sheet.module)


def works(field: Field, purse: Purse) -> bool:
    """Say whether a layout of a field is found at once, in columns or in rows."""
    if not field.may_be_filled():
        return False
    for way in (field, field.turned()):
        if purse.is_empty:
            return False
        reach = Reach(way.widest, BLOCKS)
        found = pack(way, reach, under=None, purse=purse, work=WORK, seed=0, hear=lambda packing: False)
        if found.packing is not None:
            return True
    return False

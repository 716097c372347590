"""What would help a piece that does not fit its block, and how it is said."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import KW_ONLY, dataclass, replace

from planner.quilt import Piece
from planner.units import INCH, MM, Sides, Size, show_length

from .options import Remedy
from .sharing import is_small, sharers
from .window import Window, keep, sure_margin

NEAT = {"in": INCH // 2, "cm": 10 * MM}


@dataclass(frozen=True)
class Misfit:
    """A piece that does not fit a finished block, and the unit its remedies are told in."""

    piece: Piece
    block: Size
    _: KW_ONLY
    margin: int
    seam: int
    unit: str
    others: tuple[Piece, ...] = ()

    def remedies(self, window: Window) -> tuple[Remedy, ...]:
        """Return what would help, beginning with what spoils least."""
        found: list[Remedy] = list(self._set_back())
        if window.frame and not window.loses_print(self.piece):
            found.append(Remedy("frame", window.frame, self.block, self._frame_words(window.frame)))
        if window.frame and is_small(self.piece, self.block):
            found.append(self._shared())
        found += self.taller()
        if window.frame:
            found += self.smaller()
        if not window.keeps_margin(self.piece, self.margin):
            found.append(Remedy("crop", window.frame, self.block, self._crop_words(window)))
        return tuple(found)

    def _set_back(self) -> Iterator[Remedy]:
        """A print that somebody moved off its middle may fit where it was."""
        middle = replace(self.piece, shift=Sides())
        window = keep(middle, self.block, seam=self.seam) if self.piece.shift else None
        if window is not None and not window.frame and window.keeps_margin(middle, self.margin):
            yield Remedy("crop", Sides(), self.block, "Set it back to its middle, and it fits.")

    def taller(self) -> tuple[Remedy, ...]:
        """A larger block for a print that is too large, if the garment has the cloth for it."""
        print_size, more = self.piece.print_size, 2 * sure_margin(self.piece, self.margin)
        width = max(self.block.width, self._up(print_size.width + more))
        height = max(self.block.height, self._up(print_size.height + more))
        return self._block_of("taller", Size(width, height))

    def smaller(self) -> tuple[Remedy, ...]:
        """A smaller block that the cloth fills without strips."""
        width = min(self.block.width, self._down(self.piece.cloth.width - 2 * self.seam))
        height = min(self.block.height, self._down(self.piece.cloth.height - 2 * self.seam))
        return self._block_of("smaller", Size(width, height)) if width > 0 < height else ()

    def _block_of(self, kind: str, size: Size) -> tuple[Remedy, ...]:
        window = keep(self.piece, size, seam=self.seam)
        fits = window is not None and not window.frame and window.keeps_margin(self.piece, self.margin)
        if size == self.block or not fits:
            return ()
        words = f"{self._short(size.width)} × {self._short(size.height)} {self.unit}"
        return (Remedy(kind, Sides(), size, f"Give it a block of {words}."),)

    def _shared(self) -> Remedy:
        names = sharers(self.piece, self.block, self.others, margin=self.margin, seam=self.seam)
        with_whom = listed(names) if names else "other small prints"
        return Remedy("composite", Sides(), self.block, f"Put it in one block with {with_whom}.", names)

    def _up(self, length: int) -> int:
        return -(-length // NEAT[self.unit]) * NEAT[self.unit]

    def _down(self, length: int) -> int:
        return length // NEAT[self.unit] * NEAT[self.unit]

    def _short(self, length: int) -> str:
        shown = show_length(length, unit=self.unit, rounding="nearest")
        return shown.removesuffix(f" {self.unit}")

    def _frame_words(self, frame: Sides) -> str:
        named = {"top": frame.top, "right": frame.right, "bottom": frame.bottom, "left": frame.left}
        widths = {width for width in named.values() if width}
        if len(widths) == 1:
            sides = [side for side, width in named.items() if width]
            where = "all round" if len(sides) == 4 else " and ".join(sides)
            return f"Add strips of {self._short(widths.pop())} {self.unit} {where}."
        strips = [f"{side} {self._short(width)} {self.unit}" for side, width in named.items() if width]
        return f"Add strips: {', '.join(strips)}."

    def _crop_words(self, window: Window) -> str:
        if not window.loses_print(self.piece):
            return self._near_words(window)
        whole = self.piece.print_size
        lost = {"width": whole.width - window.crop.width, "height": whole.height - window.crop.height}
        parts = [f"{self._short(by)} {self.unit} of its {side}" for side, by in lost.items() if by > 0]
        return f"Cut into the print: it loses {' and '.join(parts) or 'an edge'}. Ask first."

    def _near_words(self, window: Window) -> str:
        """Whole as it was measured: with less margin, or with a margin that is not sure."""
        wanted = f"{self._short(self.margin)} {self.unit}"
        if not self.piece.plus_minus or not window.keeps_margin(
            replace(self.piece, plus_minus=0), self.margin
        ):
            return f"Keep it whole with less than {wanted} to the seam. Ask first."
        off = show_length(self.piece.plus_minus, unit=self.unit, step=self._fine(), rounding="up")
        return (
            f"Measure it again: at ± {off.removeprefix('about ')} it may come nearer than {wanted} to the"
            " seam. Or keep it so, and ask first."
        )

    def _fine(self) -> int:
        return INCH // 16 if self.unit == "in" else MM


def listed(names: tuple[str, ...]) -> str:
    """Return names as they are said: 03F, 07P and 11F."""
    *most, last = names
    return f"{', '.join(most)} and {last}" if most else last

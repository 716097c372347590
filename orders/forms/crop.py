"""Where a block lies over a shirt, as numbers; with script they follow the handles."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms

from orders.bag.cropping import corners_of_box, is_measured_there, place_of_print
from orders.bag.keeping import kept_as
from orders.bag.measuring import WHOLE
from orders.forms.measuring import per_cent
from orders.forms.sizes import WayField
from orders.models import Piece
from planner.units import INCH, Size, show_length

BOX = {"x": "From the left", "y": "From the top", "width": "Across", "height": "Down"}
KEPT_AS = [
    ("print", "Print, whole"),
    ("plain", "Plain cloth"),
    ("feature", "Pocket, cuff or mark"),
    ("strip", "Strip"),
]


class CropForm(forms.Form):
    """The block, how far it is moved, what the piece is kept as, and where the print lies."""

    kept_as = forms.ChoiceField(
        label="Kept as",
        choices=KEPT_AS,
        widget=forms.RadioSelect,
        error_messages={"required": "Tap what it is kept as."},
    )
    version = forms.IntegerField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, piece: Piece, blocks: Sequence[Size], unit: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.piece, self.blocks = piece, blocks
        names = [(word_of(block), name_of(block, unit)) for block in blocks]
        self.fields["block"] = forms.ChoiceField(
            label="Finished block",
            choices=names,
            error_messages={"invalid_choice": "Pick one of the blocks."},
        )
        for name, label, hint in (
            ("shift_x", "Moved to the right", "With a minus, such as -1/2, to the left."),
            ("shift_y", "Moved down", "With a minus, up."),
        ):
            self.fields[name] = WayField(
                label=label, unit=unit, most=40 * INCH, required=False, help_text=hint
            )
        if not is_measured_there(piece):
            for axis, label in BOX.items():
                self.fields[f"print_{axis}"] = per_cent(label, True)

    @property
    def block(self) -> Size:
        """Return the block that was picked."""
        return next(each for each in self.blocks if word_of(each) == self.cleaned_data["block"])

    def clean(self) -> None:
        """The print lies on the photo, and has a size there."""
        said = self.cleaned_data
        for start, length in (("print_x", "print_width"), ("print_y", "print_height")):
            if {start, length} <= said.keys():
                if said[length] < 1:
                    self.add_error(length, "This must be 1 % or more.")
                elif said[start] + said[length] > 100:
                    self.add_error(length, "This goes beyond the photo: the two together are at most 100.")

    def facts(self) -> dict[str, Any]:
        """Return what was said as fields of a piece."""
        said = self.cleaned_data
        fields = {name: said[name] for name in ("kept_as", "shift_x", "shift_y")}
        if "print_x" not in self.fields:
            return fields
        box = [float(said[f"print_{axis}"]) for axis in BOX]
        kept = [[round(x), round(y)] for x, y in corners_of_box(*box)]
        return fields | {"taps": {"reference": "", "kept": kept}}

    def place(self) -> list[forms.BoundField]:
        """Return the number fields of the print’s place."""
        return [self[name] for name in self.fields if name.startswith("print_")]

    @classmethod
    def of(cls, piece: Piece, block: Size) -> dict[str, Any]:
        """Return a piece as the form shows it."""
        shown: dict[str, Any] = {name: getattr(piece, name) for name in ("shift_x", "shift_y", "version")}
        shown |= {"kept_as": kept_as(piece), "block": word_of(block)}
        corners = place_of_print(piece)
        left, right = (end(x for x, _ in corners) for end in (min, max))
        top, bottom = (end(y for _, y in corners) for end in (min, max))
        box = {"x": left, "y": top, "width": right - left, "height": bottom - top}
        return shown | {f"print_{axis}": round(value * 100 / WHOLE, 2) for axis, value in box.items()}


def word_of(block: Size) -> str:
    """Return a block as the form sends it: its sides in ticks."""
    return f"{block.width}x{block.height}"


def name_of(block: Size, unit: str) -> str:
    """Return a block as it is called: `14 × 14 in`."""
    across, down = (show_length(side, unit=unit, rounding="nearest") for side in (block.width, block.height))
    return f"{across.removeprefix('about ').removesuffix(f' {unit}')} × {down.removeprefix('about ')}"

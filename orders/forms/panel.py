"""One panel of a shirt."""

from __future__ import annotations

from typing import Any

from django import forms

from orders.forms.color import ColorField
from orders.forms.lengths import LengthField
from orders.forms.shirt_words import ALL_FEELS
from orders.models import Piece
from planner.units import INCH


class PanelForm(forms.Form):
    """Its print, the cloth beyond it, whether it is wanted, its color, its place on the photo."""

    SIZES = ("print_width", "print_height", "free_top", "free_right", "free_bottom", "free_left")
    BOX = ("x", "y", "width", "height")

    print_kind = forms.ChoiceField(label="How the print feels", choices=ALL_FEELS)
    wanted = forms.ChoiceField(
        label="In the quilt",
        choices=[("must", "Must be in"), ("may", "May be in"), ("out", "Leave out")],
        widget=forms.RadioSelect,
    )
    why_out = forms.CharField(label="Why it is left out", max_length=200, required=False)
    heavy = forms.BooleanField(label="Heavy or stiff", required=False)
    ground = ColorField(label="Main color")
    measured = forms.BooleanField(label="These sizes are measured", required=False)
    version = forms.IntegerField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, unit: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        words = ("Print, across", "Print, down", "Cloth above", "Cloth right", "Cloth below", "Cloth left")
        for name, label in zip(self.SIZES, words, strict=True):
            self.fields[name] = LengthField(
                label=label,
                unit=unit,
                most=80 * INCH,
                error_messages={"required": "Type 0 where there is none."},
            )
        labels = ("From the left", "From the top", "Across", "Down")
        for name, label in zip(self.BOX, labels, strict=True):
            self.fields[f"box_{name}"] = forms.IntegerField(
                label=label,
                required=False,
                min_value=0 if name in "xy" else 1,
                max_value=100,
                error_messages=dict.fromkeys(
                    ("invalid", "min_value", "max_value"), "Type whole per cent of the photo, 0 to 100."
                ),
            )

    def clean(self) -> None:
        """What cannot be so: a print with one side only, no cloth at all, a box beyond the photo."""
        said = self.cleaned_data
        if said.get("wanted") == "out" and not said.get("why_out"):
            self.add_error("why_out", "Say why, so that it can be told when she asks.")
        if {"print_width", "print_height"} <= said.keys() and bool(said["print_width"]) != bool(
            said["print_height"]
        ):
            self.add_error("print_height", "A print has both sizes; type 0 for both where there is none.")
        if set(self.SIZES) <= said.keys() and not self._has_cloth(said):
            self.add_error(
                "print_width", "There is no cloth at all. Measure the print, and what lies beyond it."
            )
        self._box_lies_on_the_photo(said)

    def _has_cloth(self, said: dict[str, Any]) -> bool:
        width = said["print_width"] + said["free_left"] + said["free_right"]
        return bool(width and said["print_height"] + said["free_top"] + said["free_bottom"])

    def _box_lies_on_the_photo(self, said: dict[str, Any]) -> None:
        for start, length in (("box_x", "box_width"), ("box_y", "box_height")):
            if (said.get(start) or 0) + (said.get(length) or 0) > 100:
                self.add_error(length, "This goes beyond the photo: the two together are at most 100.")

    @property
    def box(self) -> dict[str, int] | None:
        """Return where the panel lies on its photo, in per cent; None when not all four are there."""
        box = {name: self.cleaned_data[f"box_{name}"] for name in self.BOX}
        return None if None in box.values() else box

    def facts(self, piece: Piece) -> dict[str, Any]:
        """Return what was said as the fields of a piece; sizes left as they were are not measured by that."""
        said = self.cleaned_data
        plain = {
            name: said[name] for name in ("print_kind", "wanted", "why_out", "heavy", "ground", *self.SIZES)
        }
        same = all(said[name] == getattr(piece, name) for name in self.SIZES)
        return plain | {
            "why_out": said["why_out"] if said["wanted"] == "out" else "",
            "box": self.box,
            "sizes_are_usual": piece.sizes_are_usual and same and not said["measured"],
            "ground_is_about": piece.ground_is_about and said["ground"] == piece.ground,
            "plus_minus": piece.plus_minus if same else 0,
            "measured_how": piece.measured_how if same else "by hand",
        }

    @classmethod
    def of(cls, piece: Piece) -> dict[str, Any]:
        """Return a piece as the form shows it."""
        names = ("print_kind", "wanted", "why_out", "heavy", "ground", "version", *cls.SIZES)
        box = {f"box_{name}": (piece.box or {}).get(name) for name in cls.BOX}
        return {name: getattr(piece, name) for name in names} | box

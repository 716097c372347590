"""What the label of a block asks: strips round its shirt, another in its place; and a border."""

from __future__ import annotations

from typing import Any

from django import forms

from orders.forms.lengths import LengthField
from orders.quilt.block_fit import SIDES
from orders.quilt.block_strips import LEAST_STRIP
from planner.units import INCH, Sides, show_length

MOST_STRIP, MOST_BORDER = 12 * INCH, 24 * INCH
USUAL_STRIP = INCH


class BlockForm(forms.Form):
    """A block, and the move that the page was looking at."""

    seen = forms.IntegerField(min_value=0, widget=forms.HiddenInput)
    block = forms.CharField(max_length=20, widget=forms.HiddenInput)


class StripsForm(BlockForm):
    """Strips of one width on the sides that are ticked, or those its cloth needs, or none."""

    sides = forms.MultipleChoiceField(
        label="On which sides",
        choices=[(side, side.capitalize()) for side in SIDES],
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": "Tap at least one side."},
    )
    given = forms.ChoiceField(choices=[("", ""), ("needed", ""), ("none", "")], required=False)

    def __init__(self, *args: Any, unit: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["width"] = LengthField(
            unit=unit, least=LEAST_STRIP, most=MOST_STRIP, label="How wide, finished",
            error_messages={"required": "Give a width, such as 1."},
        )  # fmt: skip
        if self.data.get("given") in ("needed", "none"):
            for name in ("sides", "width"):
                del self.fields[name]

    @property
    def frame(self) -> Sides | None:
        """Return the strips that were asked for; None are those that the cloth needs."""
        said = self.cleaned_data
        if said["given"]:
            return None if said["given"] == "needed" else Sides()
        return Sides(**dict.fromkeys(said["sides"], said["width"]))

    @classmethod
    def standing(cls, frame: Sides) -> dict[str, Any]:
        """Return strips as the form shows them: an inch all round where there are none."""
        widths = {side: getattr(frame, side) for side in SIDES if getattr(frame, side)}
        if not widths:
            return {"sides": list(SIDES), "width": USUAL_STRIP}
        return {"sides": list(widths), "width": max(widths.values())}


class PanelForm(BlockForm):
    """The piece that is shown in a block from now on."""

    piece = forms.IntegerField(error_messages=dict.fromkeys(("required", "invalid"), "Tap one of them."))


class BorderForm(forms.Form):
    """A border of one width at both sides, and of one at top and bottom; empty is none."""

    seen = forms.IntegerField(min_value=0, widget=forms.HiddenInput)

    def __init__(self, *args: Any, unit: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name, label in (("across", "At both sides"), ("down", "At top and bottom")):
            self.fields[name] = LengthField(unit=unit, most=MOST_BORDER, label=label, required=False)
        self.unit = unit

    def clean(self) -> None:
        """A border is wide enough to be sewn, or is not there."""
        for name in ("across", "down"):
            width = self.cleaned_data.get(name)
            if width and width < LEAST_STRIP:
                least = show_length(LEAST_STRIP, unit=self.unit, rounding="up").removeprefix("about ")
                self.add_error(name, f"Make it {least} or wider, or leave it empty for none.")

    @property
    def widths(self) -> dict[str, int]:
        """Return both widths in ticks; 0 where there is none."""
        return {name: self.cleaned_data[name] or 0 for name in ("across", "down")}

"""What the Quilt room asks: the size wished, a reason to leave a piece out, a yes and who said it."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from django import forms

from orders.forms.lengths import LengthField, as_typed
from orders.models import Consent, Order
from orders.planning import wish_of
from planner.problems import BadInput
from planner.units import INCH, Size, parse_length

MOST = 160 * INCH  # wider than any bed: a slip of the hand
MOST_BLOCKS = 8


class BlockSizesField(forms.CharField):
    """Takes `12, 14, 14 × 16`; its value is a list of [width, height] in ticks."""

    def __init__(self, *, unit: str, **kwargs: Any) -> None:
        super().__init__(max_length=120, **kwargs)
        self.unit = unit

    def clean(self, value: Any) -> list[list[int]]:
        typed = super().clean(value)
        # a comma without a blank may be a decimal one, so only a comma with a blank parts two sizes
        parts = [part for part in re.split(r";|,\s+|,$", typed) if part.strip()]
        sizes = [self._size(part) for part in parts]
        if not sizes:
            raise forms.ValidationError("Give at least one size, such as 14.")
        if len(sizes) > MOST_BLOCKS:
            raise forms.ValidationError(f"Give at most {MOST_BLOCKS} sizes to choose from.")
        return sizes

    def prepare_value(self, value: Any) -> Any:
        if not isinstance(value, list):
            return value
        typed = ([as_typed(side, self.unit) for side in size] for size in value)
        return ", ".join(wide if wide == high else f"{wide} × {high}" for wide, high in typed)

    def _size(self, part: str) -> list[int]:
        sides = re.split(r"\s*[x×]\s*", part.strip(), maxsplit=1)
        try:
            wide, high = (parse_length(side, unit=self.unit) for side in (sides[0], sides[-1]))
        except BadInput as fault:
            raise forms.ValidationError(fault.message) from fault
        if not 0 < wide <= MOST or not 0 < high <= MOST:
            raise forms.ValidationError(f"“{part.strip()}” cannot be a block. Give its side, such as 14.")
        return [wide, high]


class WishForm(forms.Form):
    """Size, tolerance, blocks and sashing, in the shop's unit."""

    width = forms.Field()
    height = forms.Field()
    tolerance = forms.Field()
    blocks = forms.Field()
    sashing = forms.Field()
    cornerstones = forms.BooleanField(label="Cornerstones where the strips cross", required=False)
    outer = forms.BooleanField(label="Sashing round the outside too", required=False)
    without = forms.BooleanField(label="Try it without sashing too", required=False)
    version = forms.IntegerField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, unit: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["width"] = LengthField(
            unit=unit, least=INCH, most=MOST, label="Across",
            error_messages={"required": "Give the width, finished."},
        )  # fmt: skip
        self.fields["height"] = LengthField(
            unit=unit, least=INCH, most=MOST, label="Down",
            error_messages={"required": "Give the height, finished."},
        )  # fmt: skip
        self.fields["tolerance"] = LengthField(
            unit=unit, most=40 * INCH, label="Give or take",
            error_messages={"required": "Give 0 if it must be exact."},
        )  # fmt: skip
        self.fields["blocks"] = BlockSizesField(
            unit=unit, label="Blocks to choose from", help_text="Finished, with a comma and a blank between.",
            error_messages={"required": "Give at least one size, such as 14."},
        )  # fmt: skip
        self.fields["sashing"] = LengthField(unit=unit, most=20 * INCH, label="Sashing", required=False)

    def wishes(self) -> dict[str, Any]:
        """Return what an order keeps of it."""
        said = self.cleaned_data
        strip = (
            {"width": said["sashing"], "outer": said["outer"], "cornerstones": said["cornerstones"]}
            if said["sashing"]
            else None
        )
        sashings = [strip] if strip is None or not said["without"] else [strip, None]
        wish = {"tolerance": said["tolerance"], "blocks": said["blocks"], "sashings": sashings}
        return {"width": said["width"], "height": said["height"], "wish": wish}


def wish_form(order: Order, unit: str, *, size: Size | None = None) -> WishForm:
    """Return the form filled with what is wished now, or with the same at another size."""
    wish = wish_of(order)
    target = size or wish.target
    strips = [each for each in wish.sashings if each is not None]
    first = strips[0] if strips else None
    return WishForm(
        unit=unit,
        auto_id="id_%s" if size is None else False,
        initial={
            "width": target.width,
            "height": target.height,
            "tolerance": wish.tolerance,
            "blocks": [[size.width, size.height] for size in wish.blocks],
            "sashing": first.width if first else None,
            "cornerstones": first.cornerstones if first else True,
            "outer": first.outer if first else True,
            "without": first is not None and None in wish.sashings,
            "version": order.version,
        },
    )


class MoveForm(forms.Form):
    """A block, another one where two are meant, and the move that the page was looking at."""

    seen = forms.IntegerField(min_value=0, widget=forms.HiddenInput)
    block = forms.CharField(max_length=20)
    other = forms.CharField(max_length=20, required=False)


class LeaveOutForm(forms.Form):
    why = forms.CharField(
        label="Why is it left out?", max_length=200, help_text="She sees it beside the picture.",
        error_messages={"required": "Give the reason in a few words; it stands beside the picture."},
    )  # fmt: skip
    seen = forms.IntegerField(min_value=0, widget=forms.HiddenInput)
    block = forms.CharField(max_length=20, widget=forms.HiddenInput)


class SaidForm(forms.Form):
    """Who said yes, and how."""

    said_by = forms.CharField(
        label="Who said yes", max_length=120, error_messages={"required": "Write down who said it."}
    )
    how = forms.ChoiceField(
        label="How it was said",
        choices=[choice for choice in Consent.How.choices if choice[0] != "page"],
        widget=forms.RadioSelect,
        error_messages={"required": "Tap how it was said."},
    )


class YesToCutForm(SaidForm):
    """A yes to cut, for the pieces that are ticked."""

    pieces = forms.MultipleChoiceField(
        label="For these pieces",
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": "Tick the pieces the yes is for."},
    )
    field_order = ["pieces", "said_by", "how"]

    def __init__(self, *args: Any, names: Iterable[str], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        pieces = self.fields["pieces"]
        assert isinstance(pieces, forms.MultipleChoiceField)
        pieces.choices = [(name, name) for name in names]

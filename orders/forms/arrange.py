"""What rearranging asks: the mood in words, favorites, neighbors wanted and not, what is tucked away."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from django import forms

from orders.forms.lengths import LengthField
from orders.quilt.arranging import Asked
from planner.units import INCH

MOST_PAIRS = 20


class PairsField(forms.CharField):
    """Takes `03F 07F, 04F 09F`; its value is pairs of pieces that are in the layout."""

    def __init__(self, *, names: Sequence[str], **kwargs: Any) -> None:
        super().__init__(max_length=300, required=False, **kwargs)
        self.names = set(names)

    def clean(self, value: Any) -> tuple[tuple[str, str], ...]:
        typed = super().clean(value).upper()
        pairs = [re.split(r"\s+", pair.strip()) for pair in re.split(r"[,;\n]", typed) if pair.strip()]
        if len(pairs) > MOST_PAIRS:
            raise forms.ValidationError(f"Give at most {MOST_PAIRS} pairs.")
        return tuple(self._pair(pair) for pair in pairs)

    def prepare_value(self, value: Any) -> Any:
        return value if isinstance(value, str) else ", ".join(" ".join(pair) for pair in value or ())

    def _pair(self, typed: list[str]) -> tuple[str, str]:
        names = [name.zfill(3) for name in typed]
        unknown = [name for name in names if name not in self.names]
        if unknown:
            raise forms.ValidationError(f"“{unknown[0]}” is not in the layout. The names are on its blocks.")
        if len(names) != 2 or names[0] == names[1]:
            raise forms.ValidationError("Write two names for each pair, such as 03F 07F.")
        return names[0], names[1]


class RearrangeForm(forms.Form):
    """The mood, and what else is wished; `seen` is the move that the page was looking at."""

    seen = forms.IntegerField(min_value=0, widget=forms.HiddenInput)
    mood = forms.ChoiceField(
        label="How it is to feel",
        choices=[("calm", "Calm"), ("lively", "Lively"), ("story", "Story order")],
        widget=forms.RadioSelect,
        error_messages=dict.fromkeys(("required", "invalid_choice"), "Tap one of the three."),
    )
    favorites = forms.Field()
    together = forms.Field()
    apart = forms.Field()
    tuck_top = forms.Field()
    tuck_bottom = forms.Field()

    def __init__(self, *args: Any, names: Sequence[str], unit: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["favorites"] = forms.MultipleChoiceField(
            label="Favorites, for the upper middle",
            choices=[(name, name) for name in names],
            widget=forms.CheckboxSelectMultiple,
            required=False,
            error_messages={"invalid_choice": "“%(value)s” is no longer in the layout. Look again."},
        )
        for name, label in (("together", "Side by side"), ("apart", "Not side by side")):
            self.fields[name] = PairsField(
                names=names, label=label, help_text="Pairs, such as 03F 07F, 04F 09F."
            )
        for name, label in (
            ("tuck_top", "Tucked under the pillow"),
            ("tuck_bottom", "Tucked in at the foot"),
        ):
            self.fields[name] = LengthField(label=label, unit=unit, most=40 * INCH, required=False)

    def asked(self) -> Asked:
        """Return what was asked for."""
        said = self.cleaned_data
        return Asked(
            mood=said["mood"],
            favorites=tuple(said["favorites"]),
            together=said["together"],
            apart=said["apart"],
            tuck_top=said["tuck_top"] or 0,
            tuck_bottom=said["tuck_bottom"] or 0,
        )


def rearrange_form(asked: Asked, *, seen: int, names: Sequence[str], unit: str) -> RearrangeForm:
    """Return the form filled with what was last asked for."""
    return RearrangeForm(
        names=names,
        unit=unit,
        initial={
            "seen": seen,
            "mood": asked.mood,
            "favorites": [name for name in asked.favorites if name in names],
            "together": asked.together,
            "apart": asked.apart,
            "tuck_top": asked.tuck_top or None,
            "tuck_bottom": asked.tuck_bottom or None,
        },
    )

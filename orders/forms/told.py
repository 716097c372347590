"""What may be told of a garment whenever there is time: fibers, smell, pockets, flaws, its story."""

from __future__ import annotations

import re
from typing import Any

from django import forms

from orders.bag.fibres import LABEL_GONE, parse_fibres, rule_of, show_fibres
from orders.forms.shirt_words import WASHES
from orders.models import Shirt
from planner.problems import BadInput

PLAIN = ("wash", "smell", "pockets", "found", "flaws", "story")
POCKETS = [("", "Not looked into"), ("empty", "Empty, or none"), ("emptied", "Emptied")]


class ToldForm(forms.Form):
    """The slow facts. None of them stands between her and the next shirt."""

    blend = forms.ChoiceField(label="Fibers, off its label", required=False, widget=forms.RadioSelect)
    fibres = forms.CharField(
        label="Or as the label says it",
        max_length=200,
        required=False,
        help_text="Such as 60/40 cotton polyester.",
    )
    wash = forms.ChoiceField(label="Washing", choices=WASHES, required=False)
    smell = forms.CharField(label="Smell", max_length=80, required=False)
    pockets = forms.ChoiceField(label="Pockets", choices=POCKETS, required=False, widget=forms.RadioSelect)
    found = forms.CharField(
        label="What was found in them", max_length=200, required=False, help_text="It goes back to her."
    )
    flaws = forms.CharField(
        label="Flaws seen", max_length=300, required=False, help_text="Stains, holes, cracks in the print."
    )
    story = forms.CharField(
        label="Its story, in her words", widget=forms.Textarea, required=False, max_length=4000
    )

    def __init__(self, *args: Any, country: str = "US", **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.country = country
        blends = [(words, shown(words)) for words in rule_of(country).blends]
        self.fields["blend"].choices = [*blends, (LABEL_GONE, "Label gone"), ("", "As typed")]  # type: ignore[attr-defined]

    def clean_fibres(self) -> dict[str, str] | None:
        """Read the label, tapped or typed; None when nobody has read it."""
        tapped, typed = self.cleaned_data.get("blend") or "", self.cleaned_data["fibres"]
        if tapped and typed and tapped != typed:
            raise forms.ValidationError("Tap one or type it, not both. For this line tap As typed.")
        if not (tapped or typed):
            return None
        try:
            return parse_fibres(tapped or typed, country=self.country)
        except BadInput as fault:
            raise forms.ValidationError(fault.message) from fault

    def clean(self) -> None:
        """What was found was in pockets that somebody emptied."""
        said = self.cleaned_data
        if said.get("found") and said.get("pockets") != Shirt.Pockets.EMPTIED:
            said["pockets"] = Shirt.Pockets.EMPTIED.value

    @property
    def label(self) -> dict[str, Any]:
        """Return the fibers as fields of a shirt; a label that nobody read changes none."""
        fibres = self.cleaned_data.get("fibres")
        return {} if fibres is None else {"fibres": fibres, "label_read": True}

    @classmethod
    def label_of(cls, shirt: Shirt, *, country: str) -> dict[str, str]:
        """Return a label as the form shows it: tapped where it is a common blend, else typed."""
        words = show_fibres(shirt.fibres) if shirt.label_read else ""
        tapped = words in (*rule_of(country).blends, LABEL_GONE)
        return {"blend": words if tapped else "", "fibres": "" if tapped else words}


def shown(blend: str) -> str:
    """Return a blend as it stands on a button: `60/40 cotton polyester`, or all cotton."""
    return f"All {blend.removeprefix('100 ')}" if re.fullmatch(r"100 \w+", blend) else blend

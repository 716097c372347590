"""How the customer asked for the quilt to be finished."""

from __future__ import annotations

from typing import Any

from django import forms

from orders.models import Order
from orders.planning import quilted_how
from planner.quilt import Quilt

USUAL = "usual"


class FinishForm(forms.Form):
    """Binding, sleeve and label, and how it is quilted."""

    seen = forms.IntegerField(min_value=0, widget=forms.HiddenInput)
    binding = forms.ChoiceField(
        label="Binding",
        choices=[("straight", "Straight"), ("bias", "On the bias")],
    )
    sleeve = forms.BooleanField(label="A sleeve to hang it by", required=False)
    label = forms.BooleanField(label="A label of cloth", required=False)
    quilted = forms.ChoiceField(
        label="Quilted",
        choices=[
            (USUAL, "as usual here"), ("long arm", "on a long arm"), ("machine", "on a home machine"),
            ("hand", "by hand"), ("tied", "tied"),
        ],
    )  # fmt: skip

    @property
    def said(self) -> dict[str, Any]:
        """Return it as the verb takes it."""
        data = self.cleaned_data
        return {
            "bias": data["binding"] == "bias",
            "finish": [each for each in ("sleeve", "label") if data[each]],
            "quilted": "" if data["quilted"] == USUAL else data["quilted"],
        }

    @staticmethod
    def of(order: Order, quilt: Quilt) -> dict[str, Any]:
        """Return how it stands, as the form shows it."""
        bias = quilt.binding is not None and quilt.binding.bias
        return {
            "binding": "bias" if bias else "straight",
            "sleeve": "sleeve" in quilt.finish,
            "label": "label" in quilt.finish,
            "quilted": quilted_how(order) or USUAL,
        }

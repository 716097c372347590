"""What was bought: how much of which cloth, and its dye lot."""

from __future__ import annotations

from typing import Any

from django import forms

from orders.forms.lengths import LengthField
from planner.units import YARD

MOST = 200 * YARD


class BoughtForm(forms.Form):
    """Cloth that came from the store, as the bolt was measured there."""

    lot = forms.CharField(label="Dye lot", required=False, max_length=34)
    client_id = forms.SlugField(max_length=64, required=False, widget=forms.HiddenInput)

    field_order = ("length", "lot", "client_id")

    def __init__(self, *args: Any, unit: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["length"] = LengthField(
            unit="yd" if unit == "in" else "m", label="Bought", least=1, most=MOST,
            error_messages={"required": "Say how much was bought, such as 2 1/4."},
        )  # fmt: skip
        self.order_fields(self.field_order)


class QuartersBoughtForm(forms.Form):
    """Fat quarters that came from the store."""

    count = forms.IntegerField(
        label="Fat quarters bought", min_value=1, max_value=99,
        error_messages=dict.fromkeys(
            ("required", "invalid", "min_value", "max_value"), "Say how many were bought, such as 3."
        ),
    )  # fmt: skip
    client_id = forms.SlugField(max_length=64, required=False, widget=forms.HiddenInput)

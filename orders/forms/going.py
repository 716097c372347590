"""How a quilt goes home: the way, the parcel, its number, the day it is there."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Any

from django import forms

from orders.customer.weighing import in_grams
from orders.forms.money import AmountField
from orders.models import Order, Parcel, Shop

WAYS = (
    (Order.Leaving.COLLECTION, "Collected here"),
    (Order.Leaving.DELIVERY, "Brought to them"),
    (Order.Leaving.PARCEL, "Sent as a parcel"),
)


class WayForm(forms.Form):
    way = forms.ChoiceField(
        label="How it goes home", choices=WAYS, widget=forms.RadioSelect,
        error_messages=dict.fromkeys(("required", "invalid_choice"), "Tap how it goes home."),
    )  # fmt: skip


class ParcelForm(forms.Form):
    """What is written down of a closed box before it goes."""

    address = forms.CharField(
        label="Address on the box", max_length=400, widget=forms.Textarea,
        error_messages={"required": "Type the whole address."},
    )  # fmt: skip
    carrier = forms.CharField(
        label="Carrier", max_length=80, error_messages={"required": "Type who carries it."}
    )
    transit_days = forms.IntegerField(
        label="Days it takes", min_value=0, max_value=90,
        error_messages={"required": "Type the days the carrier names.",
                        "invalid": "Type whole days, such as 3."},
    )  # fmt: skip
    weight = forms.DecimalField(
        label="Weight of the closed box", required=False, min_value=Decimal("0.01"), max_value=Decimal(200),
        decimal_places=3, error_messages={"invalid": "Type a number, such as 3.5."},
    )  # fmt: skip
    photo = forms.FileField(
        label="Photo of the closed box", required=False, help_text="Label up, before it leaves your hands.",
        widget=forms.FileInput(attrs={"accept": "image/*", "capture": "environment"}),
        error_messages={"empty": "This file is empty. Choose the photo again.",
                        "required": "Take a picture of the closed box, label up."},
    )  # fmt: skip
    kept_photo = forms.IntegerField(required=False, widget=forms.HiddenInput)

    def __init__(self, *args: Any, shop: Shop, has_photo: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.shop = shop
        self.fields["photo"].required = not has_photo and not self.data.get("kept_photo")
        self.fields["value"] = AmountField(label="Value insured", currency=shop.currency)
        self.order_fields(["address", "carrier", "transit_days", "value", "weight", "photo"])

    def clean_weight(self) -> int | None:
        """Return whole grams."""
        typed = self.cleaned_data["weight"]
        return None if typed is None else in_grams(Fraction(typed), self.shop)

    def clean_address(self) -> str:
        """Return the address with the lines it was typed in."""
        return str(self.cleaned_data["address"]).replace("\r\n", "\n")

    def packed(self) -> dict[str, Any]:
        """Return what to write down, without the photo."""
        return {
            name: self.cleaned_data[name]
            for name in ("address", "carrier", "transit_days", "value", "weight")
        }


class NumberForm(forms.Form):
    tracking = forms.CharField(
        label="Its number at the carrier", max_length=80, error_messages={"required": "Type the number."}
    )


class ArrivalForm(forms.Form):
    on = forms.DateField(
        label="Arrived on", error_messages={"required": "Pick the day.", "invalid": "Pick the day."}
    )

    def __init__(self, *args: Any, parcel: Parcel, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.parcel, self.today = parcel, today

    def clean_on(self) -> date:
        """It arrives after it went, and nothing is known of days to come."""
        on: date = self.cleaned_data["on"]
        if on > self.today:
            raise forms.ValidationError("That day is still to come.")
        if self.parcel.sent_on and on < self.parcel.sent_on:
            raise forms.ValidationError("It cannot be there before it went.")
        return on


class LikeForm(forms.Form):
    pattern = forms.ModelChoiceField(
        label="Same as", queryset=Order.objects.none(), empty_label=None,
        error_messages=dict.fromkeys(("required", "invalid_choice"), "Pick one that was made before."),
    )  # fmt: skip

    def __init__(self, *args: Any, patterns: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["pattern"].queryset = patterns  # type: ignore[attr-defined]

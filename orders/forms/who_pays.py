"""Who pays an order: a share for each, and one more who joins them; why an order rests."""

from __future__ import annotations

from typing import Any

from django import forms

from orders.account.payers import Joining
from orders.models import Order

MOST = 30_000
FAULT = f"Type a whole number up to {MOST:,}."


def share_field(label: str, *, least: int, required: bool) -> forms.IntegerField:
    """Return the field of one share; amounts such as 300 and 200 divide as 3 and 2 do."""
    faults = dict.fromkeys(("required", "invalid", "min_value", "max_value"), FAULT)
    return forms.IntegerField(
        label=label, min_value=least, max_value=MOST, required=required, error_messages=faults
    )


class WhoPaysForm(forms.Form):
    """A share for each payer, 0 for who pays no longer, and a name with a share for one more."""

    def __init__(self, *args: Any, order: Order, **kwargs: Any) -> None:
        kwargs.setdefault("prefix", "payers")
        super().__init__(*args, **kwargs)
        self.rows = list(order.payers.select_related("customer").order_by("pk"))
        for each in self.rows:
            field = share_field(f"Share of {each.customer}", least=0, required=True)
            field.initial = each.share
            self.fields[f"share-{each.pk}"] = field
        self.fields["name"] = forms.CharField(label="Who pays too", max_length=120, required=False)
        self.fields["phone"] = forms.CharField(label="Their phone", max_length=40, required=False)
        self.fields["share"] = share_field("Their share", least=1, required=False)

    def clean(self) -> dict[str, Any]:
        said = super().clean() or {}
        if said.get("name") and not said.get("share") and not self.has_error("share"):
            self.add_error("share", "Type the share they pay, such as 1.")
        if said.get("share") and not said.get("name") and not self.has_error("name"):
            self.add_error("name", "Type who pays that share.")
        return said

    def shares(self) -> dict[int, int]:
        """Return the share of each row."""
        return {each.pk: self.cleaned_data[f"share-{each.pk}"] for each in self.rows}

    def joining(self) -> Joining | None:
        """Return who joins them, if anybody does."""
        said = self.cleaned_data
        return Joining(said["name"], said["share"], said["phone"]) if said["name"] else None

    def of_rows(self) -> list[Any]:
        """Return the fields of those who pay already."""
        return [self[f"share-{each.pk}"] for each in self.rows]


class RestingForm(forms.Form):
    """Why an order rests."""

    why = forms.CharField(
        label="Resting", max_length=120, help_text="Such as: until her sister’s shirts are here.",
        error_messages={"required": "Say why, or until when."},
    )  # fmt: skip

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs.setdefault("prefix", "rest")
        super().__init__(*args, **kwargs)

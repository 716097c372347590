"""Who pays an order: a share or a set amount for each, and one more who joins them; why an order rests."""

from __future__ import annotations

from typing import Any

from django import forms

from orders.account.payers import Joining
from orders.forms.money import AmountField, as_typed
from orders.models import Order, Shop

MOST = 30_000
FAULT = f"Type a whole number up to {MOST:,}."


def share_field(label: str, *, least: int, required: bool) -> forms.IntegerField:
    """Return the field of one share; amounts such as 300 and 200 divide as 3 and 2 do."""
    faults = dict.fromkeys(("required", "invalid", "min_value", "max_value"), FAULT)
    return forms.IntegerField(
        label=label, min_value=least, max_value=MOST, required=required, error_messages=faults
    )


class WhoPaysForm(forms.Form):
    """A share or a set amount for each payer, share 0 for who pays no longer, and one more who joins.

    Where both are typed the set amount stands.
    """

    def __init__(self, *args: Any, order: Order, shop: Shop, **kwargs: Any) -> None:
        kwargs.setdefault("prefix", "payers")
        super().__init__(*args, **kwargs)
        self.currency = shop.currency
        self.rows = list(order.payers.select_related("customer").order_by("pk"))
        for each in self.rows:
            share = share_field(f"Share of {each.customer}", least=0, required=False)
            amount = self._amount(f"Or a set amount of {each.customer}")
            share.initial, amount.initial = (
                ("", as_typed(each.set_amount, self.currency)) if each.set_amount else (each.share, "")
            )
            self.fields[f"share-{each.pk}"], self.fields[f"amount-{each.pk}"] = share, amount
        self.fields["name"] = forms.CharField(label="Who pays too", max_length=120, required=False)
        self.fields["phone"] = forms.CharField(label="Their phone", max_length=40, required=False)
        self.fields["share"] = share_field("Their share", least=1, required=False)
        self.fields["amount"] = self._amount("Or a set amount of theirs")

    def _amount(self, label: str) -> AmountField:
        return AmountField(label=label, currency=self.currency, required=False)

    @property
    def gives_set_amounts(self) -> bool:
        """Say whether anybody gives a set amount, so that the others share what it leaves."""
        return any(each.set_amount for each in self.rows)

    def clean(self) -> dict[str, Any]:
        said = super().clean() or {}
        for each in self.rows:
            share, amount = f"share-{each.pk}", f"amount-{each.pk}"
            is_faulty = self.has_error(share) or self.has_error(amount)
            if said.get(share) is None and not said.get(amount) and not is_faulty:
                self.add_error(share, FAULT)
        joins = said.get("share") or said.get("amount")
        if said.get("name") and not joins and not self.has_error("share") and not self.has_error("amount"):
            self.add_error("share", "Type the share they pay, such as 1, or a set amount.")
        if joins and not said.get("name") and not self.has_error("name"):
            self.add_error("name", "Type who pays that.")
        return said

    def shares(self) -> dict[int, int]:
        """Return the share of each row; who gives a set amount keeps the one they had."""
        said = {each.pk: self.cleaned_data[f"share-{each.pk}"] for each in self.rows}
        return {each.pk: each.share if each.pk in self.amounts() else said[each.pk] for each in self.rows}

    def amounts(self) -> dict[int, int]:
        """Return the set amount of each row that gives one, in minor units."""
        said = {each.pk: self.cleaned_data[f"amount-{each.pk}"] for each in self.rows}
        return {row: minor for row, minor in said.items() if minor}

    def joining(self) -> Joining | None:
        """Return who joins them, if anybody does."""
        said = self.cleaned_data
        if not said["name"]:
            return None
        return Joining(said["name"], said["share"] or 1, said["phone"], said["amount"] or 0)

    def of_rows(self) -> list[Any]:
        """Return the fields of those who pay already, the share and the set amount of each."""
        return [(self[f"share-{each.pk}"], self[f"amount-{each.pk}"]) for each in self.rows]


class RestingForm(forms.Form):
    """Why an order rests."""

    why = forms.CharField(
        label="Resting", max_length=120, help_text="Such as: until her sister’s shirts are here.",
        error_messages={"required": "Say why, or until when."},
    )  # fmt: skip

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs.setdefault("prefix", "rest")
        super().__init__(*args, **kwargs)

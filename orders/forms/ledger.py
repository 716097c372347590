"""Forms for what happens to money after a price was agreed."""

from __future__ import annotations

from typing import Any
from uuid import uuid4

from django import forms

from orders.account.money import METHODS
from orders.forms.money import AmountField, PaymentForm, as_typed
from orders.models import Shop


class Once(forms.Form):
    """A form whose `key` makes it count once, however often it is sent."""

    key = forms.CharField(
        max_length=40,
        widget=forms.HiddenInput,
        error_messages={"required": "Open the account again."},
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs["initial"] = {"key": uuid4().hex} | kwargs.get("initial", {})
        super().__init__(*args, **kwargs)


def words_field(label: str) -> forms.CharField:
    return forms.CharField(label=label, max_length=120, error_messages={"required": "Say what it is for."})


def method_field(label: str) -> forms.ChoiceField:
    return forms.ChoiceField(
        label=label, choices=[*METHODS.items()], widget=forms.RadioSelect,
        error_messages=dict.fromkeys(("required", "invalid_choice"), "Choose how."),
    )  # fmt: skip


def taxed_field() -> forms.ChoiceField:
    return forms.ChoiceField(
        label="Tax on top", choices=[("yes", "As my rates say"), ("no", "None")], widget=forms.RadioSelect,
        help_text="What is taxed differs by place; ask your tax office or an accountant.",
        error_messages=dict.fromkeys(("required", "invalid_choice"), "Choose whether tax is put on it."),
    )  # fmt: skip


class AddedForm(Once):
    """A line to pay that was not on the quote."""

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, prefix="added", **kwargs)
        self.fields["words"] = words_field("What for")
        self.fields["amount"] = AmountField(label="Amount", currency=shop.currency)
        self.fields["taxed"] = taxed_field()


class CreditForm(Once):
    """Something taken off what was agreed."""

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, prefix="credit", **kwargs)
        self.fields["words"] = words_field("What for")
        self.fields["amount"] = AmountField(
            label="Amount, with its tax", currency=shop.currency,
            help_text="The tax goes down by the share it has in the quote. Ask whether yours may.",
        )  # fmt: skip


class WriteOffForm(Once):
    """Why what is open is no longer asked for."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, prefix="off", **kwargs)
        self.fields["words"] = words_field("Why")


class TipForm(PaymentForm):
    """A tip: who gave it and how; it pays for nothing that is owed."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, prefix="tip", **kwargs)


class ProposalForm(Once):
    """Take a proposed line, with tax on it or without."""

    def __init__(self, *args: Any, noun: str, **kwargs: Any) -> None:
        super().__init__(*args, prefix=noun, **kwargs)
        self.fields["taxed"] = taxed_field()


class GiveBackForm(Once):
    """How much of a payment goes back, and how."""

    def __init__(self, *args: Any, receipt: int, shop: Shop, most: int = 0, method: str = "", **kwargs: Any):
        typed = {"amount": as_typed(most, shop.currency) if most else "", "method": method}
        super().__init__(*args, prefix=f"back-{receipt}", initial=typed, **kwargs)
        self.fields["amount"] = AmountField(label="Amount to give back", currency=shop.currency)
        self.fields["method"] = method_field("How it goes back")


class CertificateForm(Once):
    """A gift certificate that is sold, or was sold before these books began."""

    bought_by = forms.CharField(
        label="Bought by", max_length=120, error_messages={"required": "Say who bought it."}
    )
    given_to = forms.CharField(label="Meant for", max_length=120, required=False)

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, prefix="sold", **kwargs)
        self.fields["amount"] = AmountField(label="Amount", currency=shop.currency)
        self.fields["method"] = method_field("How it was paid")
        self.fields["method"].choices = [*METHODS.items(), ("before", "Before these books")]  # type: ignore[attr-defined]
        self.order_fields(["key", "amount", "bought_by", "given_to", "method"])

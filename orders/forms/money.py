"""Forms of the Account room: a payment, a line of the owner's, a yes to the price."""

from __future__ import annotations

import re
from typing import Any
from uuid import uuid4

from django import forms

from orders.account.money import BY_CERTIFICATE, METHODS, Share
from orders.models import Certificate, Consent, Customer, ExtraLine, Order, Shop
from planner.problems import BadInput
from planner.units import Money, decimals, parse_money

THOUSANDS = re.compile(r"\d{1,3}(,\d{3})+(\.\d+)?")


class AmountField(forms.CharField):
    """Takes `260` or `1,242.27` in the shop's currency; its value is whole minor units, more than 0."""

    def __init__(self, *, currency: str, **kwargs: Any) -> None:
        kwargs.setdefault("max_length", 20)
        kwargs.setdefault("error_messages", {"required": "Type the amount."})
        super().__init__(**kwargs)
        self.currency = currency
        self.widget.attrs.setdefault("inputmode", "decimal")

    def clean(self, value: Any) -> int | None:
        """Return minor units, None when nothing need be typed; what is finer than the currency is refused."""
        typed = super().clean(value)
        if not typed:
            return None
        plain = typed.replace(",", "") if THOUSANDS.fullmatch(typed) else typed
        try:
            amount = parse_money(plain, self.currency)
        except BadInput as fault:
            raise forms.ValidationError(f"{fault.message[0].upper()}{fault.message[1:]}") from fault
        if amount.minor <= 0:
            raise forms.ValidationError("The amount must be more than nothing.")
        if amount.minor >= 10**12:
            raise forms.ValidationError("That is more than any quilt costs. Look at it again.")
        return amount.minor


def as_typed(minor: int, currency: str) -> str:
    """Return an amount as it would be typed: `260.02`."""
    places = decimals(currency)
    whole, rest = divmod(Money(minor, currency).minor, 10**places)
    return f"{whole}.{rest:0{places}d}" if places else str(whole)


class PaymentForm(forms.Form):
    """What came in, from whom and how. `key` makes a form that is sent twice one payment.

    Where several pay, `first` is the one whose part is open first: no more than it is filled in.
    """

    key = forms.CharField(
        max_length=40,
        widget=forms.HiddenInput,
        error_messages={"required": "Open the account again."},
    )
    method = forms.ChoiceField(
        label="How", choices=[*METHODS.items()], widget=forms.RadioSelect,
        error_messages=dict.fromkeys(("required", "invalid_choice"), "Choose how it was paid."),
    )  # fmt: skip
    payer = forms.ChoiceField(
        label="From", widget=forms.RadioSelect,
        error_messages=dict.fromkeys(("required", "invalid_choice"), "Choose who paid."),
    )  # fmt: skip

    field_order = ["key", "amount", "payer", "method"]

    def __init__(
        self, *args: Any, order: Order, shop: Shop, due: int = 0, first: Share | None = None, **kwargs: Any
    ) -> None:
        kwargs.setdefault("prefix", "pay")
        payers = order.payers.select_related("customer").order_by("pk")
        self.payers = {str(each.customer_id): each.customer for each in payers}
        who = str(first.payer.pk) if first else next(iter(self.payers), "")
        due = min(due, first.left) if first else due
        amount = as_typed(due, shop.currency) if due else ""
        kwargs.setdefault("initial", {"key": uuid4().hex, "payer": who, "amount": amount})
        super().__init__(*args, **kwargs)
        self.fields["amount"] = AmountField(label="Amount", currency=shop.currency)
        self.fields["payer"].choices = [(number, each.name) for number, each in self.payers.items()]  # type: ignore[attr-defined]
        self.order_fields(self.field_order)


class TogetherPaymentForm(PaymentForm):
    """One sum for all that was told together, from somebody who pays for all of it."""

    def __init__(self, *args: Any, payers: dict[str, Customer], **kwargs: Any) -> None:
        super().__init__(*args, prefix="all", **kwargs)
        self.payers = payers
        self.fields["payer"].choices = [(number, each.name) for number, each in payers.items()]  # type: ignore[attr-defined]
        self.initial["payer"] = next(iter(payers), "")


class AgreedPaymentForm(PaymentForm):
    """A payment on what is owed, which may come from a gift certificate."""

    certificate = forms.IntegerField(
        label="Number of the gift certificate", required=False, min_value=1,
        help_text="Only when it is paid with one.",
    )  # fmt: skip

    field_order = [*PaymentForm.field_order, "certificate"]

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["method"].choices = [*METHODS.items(), (BY_CERTIFICATE, BY_CERTIFICATE)]  # type: ignore[attr-defined]

    def clean(self) -> None:
        """Find the certificate that was named."""
        number = self.cleaned_data.get("certificate")
        wanted = self.cleaned_data.get("method") == BY_CERTIFICATE
        found = Certificate.objects.filter(number=number).first() if wanted and number else None
        if wanted and found is None and not self.has_error("certificate"):
            self.add_error("certificate", "There is no gift certificate of that number. Look at it again.")
        self.cleaned_data["certificate"] = found


class ExtraLineForm(forms.Form):
    """A line of the owner's own on the next quote."""

    words = forms.CharField(
        label="What for", max_length=80, error_messages={"required": "Say what the line is for."}
    )
    kind = forms.ChoiceField(
        label="It is", choices=ExtraLine.Kind.choices, widget=forms.RadioSelect,
        error_messages=dict.fromkeys(("required", "invalid_choice"), "Choose what the line is."),
    )  # fmt: skip

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        kwargs.setdefault("prefix", "line")
        kwargs.setdefault("initial", {"kind": ExtraLine.Kind.ADDED})
        super().__init__(*args, **kwargs)
        self.fields["amount"] = AmountField(
            label="Amount", currency=shop.currency, help_text="A discount is typed as a plain amount too."
        )
        self.order_fields(["words", "amount", "kind"])


class AcceptanceForm(forms.Form):
    """Whose yes to the price it was, and how it was said."""

    said_by = forms.ChoiceField(
        label="Said by", widget=forms.RadioSelect,
        error_messages=dict.fromkeys(("required", "invalid_choice"), "Say whose yes it was."),
    )  # fmt: skip
    how = forms.ChoiceField(
        label="How", choices=Consent.How.choices, widget=forms.RadioSelect,
        error_messages=dict.fromkeys(("required", "invalid_choice"), "Say how it was said."),
    )  # fmt: skip

    def __init__(self, *args: Any, names: list[str], **kwargs: Any) -> None:
        kwargs.setdefault("prefix", "yes")
        kwargs.setdefault("initial", {"said_by": names[0] if len(names) == 1 else ""})
        super().__init__(*args, **kwargs)
        self.fields["said_by"].choices = [(name, name) for name in names]  # type: ignore[attr-defined]


class ExemptionForm(forms.Form):
    """Why no tax is said to be due, and what paper was seen."""

    words = forms.CharField(
        label="Why no tax is due, as they say it", max_length=160,
        error_messages={"required": "Write what they say, such as: a school of the town."},
    )  # fmt: skip
    proof = forms.CharField(
        label="Proof that you have seen", max_length=160, required=False,
        help_text="Which paper, its number, and where you keep it. Until then tax stays on the price.",
    )  # fmt: skip

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs.setdefault("prefix", "exempt")
        super().__init__(*args, **kwargs)

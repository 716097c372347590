"""The workroom's taxes: how much, on what, in the price or on top, and how they are rounded."""

from __future__ import annotations

from typing import Any

from django import forms

from orders.forms.workroom import DECIMAL, in_per_cent, of_one
from orders.forms.workroom_lists import Rows
from orders.models import Person, Shop
from orders.templatetags.shop import money
from orders.workroom import change_rules
from planner.price import told_apart
from planner.units import Money, decimals

KINDS = {
    "labour": "work", "materials": "materials", "outside": "work done outside", "shipping": "shipping",
    "credit": "discounts",
}  # fmt: skip


def told_apart_in_words(shop: Shop) -> str:
    """Return how the two ways of rounding differ at the shop's own first rate, near its own first price."""
    rules = shop.shop_rules()
    prices = (rule.rate.on(1) for rule in rules.rules if rule.rate.per == "each")
    near = next(prices, Money(100 * 10 ** decimals(shop.currency), shop.currency))
    found = (
        told_apart(rules.terms.taxes[0], near, rounding=rules.terms.rounding) if rules.terms.taxes else None
    )
    if found is None:
        return ""
    rate, lines = in_per_cent(str(rules.terms.taxes[0].rate)), {2: "two", 3: "three"}[found.count]
    amount, whole = (money(each.minor, shop) for each in (found.amount, found.sum))
    of_one, by_line, at_once = (
        money(each.minor, shop) for each in (found.of_one, found.by_line, found.at_once)
    )
    return (
        f"At your {rate} % it can differ: on {lines} lines of {amount}, the whole quote is {whole} "
        f"and its tax {at_once}; for each line it is {of_one}, together {by_line}."
    )


class TaxesPart(Rows):
    title, lead = "Tax", "What is added to a quote, or is held in its prices already."
    note = (
        "What is taxed, at which rate and from when differs by place, and changes. These are your figures: "
        "ask the local tax authority or an accountant."
    )
    columns = (
        ("words", "What it is called"), ("rate", "Per cent"), ("inclusive", "In the prices already"),
        *((kind, f"On {words}") for kind, words in KINDS.items()),
    )  # fmt: skip
    list_name = "taxes"

    def read(self, shop: Shop) -> dict[str, Any]:
        return {}

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, shop=shop, **kwargs)
        taxes = [*shop.rules["terms"].get("taxes", []), {"words": "", "rate": "0"}]
        self.count = len(taxes)
        for number, tax in enumerate(taxes):
            rate = in_per_cent(tax["rate"]) if tax["words"] else ""
            self.fields[f"words-{number}"] = forms.CharField(
                label="What it is called", required=False, max_length=40, initial=tax["words"]
            )
            self.fields[f"rate-{number}"] = forms.CharField(
                label="Per cent", required=False, initial=rate, widget=forms.TextInput(DECIMAL)
            )
            self.fields[f"inclusive-{number}"] = forms.BooleanField(
                label="In the prices already", required=False, initial=tax.get("inclusive", False)
            )
            for kind, words in KINDS.items():
                self.fields[f"{kind}-{number}"] = forms.BooleanField(
                    label=f"On {words}", required=False, initial=kind in tax.get("kinds", KINDS)
                )
        self.fields["tax_per"] = forms.ChoiceField(
            label="Rounded once for", choices=[("invoice", "the whole quote"), ("line", "each line")],
            initial=shop.rules["terms"].get("tax_per", "invoice"), widget=forms.RadioSelect,
            help_text=told_apart_in_words(shop),
        )  # fmt: skip

    def clean(self) -> None:
        for number in range(self.count):
            if self.cleaned_data.get(f"words-{number}", "").strip():
                try:
                    of_one(self.cleaned_data[f"rate-{number}"])
                except forms.ValidationError as fault:
                    self.add_error(f"rate-{number}", fault)
                if not any(self.cleaned_data.get(f"{kind}-{number}") for kind in KINDS):
                    self.add_error(f"words-{number}", "Say at least one thing that it is on.")

    def write(self, *, by: Person) -> None:
        said, before = self.cleaned_data, self.shop.rules["terms"].get("taxes", [])
        self.kept_rows = [n for n in range(self.count) if said[f"words-{n}"].strip()]
        taxes = [
            {
                **(before[number] if number < len(before) else {}),
                "words": said[f"words-{number}"].strip(),
                "rate": of_one(said[f"rate-{number}"]),
                "inclusive": said[f"inclusive-{number}"],
                "kinds": [kind for kind in KINDS if said[f"{kind}-{number}"]],
            }
            for number in self.kept_rows
        ]
        terms = {**self.shop.rules["terms"], "taxes": taxes, "tax_per": said["tax_per"]}
        change_rules(self.shop, by=by, terms=terms)

"""What the owner sets in the workroom, part by part; each part reads and writes the shop's own form of it."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation
from typing import Any

from django import forms
from django.contrib.auth.password_validation import validate_password

from orders.countries import zone_choices
from orders.models import Person, Shop
from orders.workroom import change_facts, change_rules
from planner.problems import BadInput

DECIMAL = {"inputmode": "decimal"}
STAGE_WORDS = {
    "log": "Logging", "design": "Drawing", "wash": "Washing", "cut": "Cutting", "fuse": "Fusing",
    "trim": "Trimming", "make up": "Making up blocks", "join": "Joining", "border": "Border", "back": "Back",
    "quilt": "Quilting", "bind": "Binding", "finish": "Finishing",
}  # fmt: skip


class Part(forms.Form):
    """A part of the workroom: `where` maps a fault of the planner's to the field it belongs to."""

    title, lead = "", ""
    note = ""
    where: dict[str, str] = {}

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        self.shop = shop
        super().__init__(*args, **{"initial": self.read(shop), **kwargs})

    def read(self, shop: Shop) -> dict[str, Any]:
        """Return what the shop has now."""
        raise NotImplementedError

    def write(self, *, by: Person) -> None:
        """Keep what was typed."""
        raise NotImplementedError

    def kept(self, *, by: Person) -> bool:
        """Write it, or put the planner's fault beside the field it belongs to."""
        if not self.is_valid():
            return False
        try:
            self.write(by=by)
        except BadInput as fault:
            self.add_error(self.field_of(fault.field), sentence_of(fault))
            return False
        return True

    def field_of(self, place: str) -> str | None:
        """Return the field that a place in the rules belongs to, None for the whole part."""
        found = next((field for start, field in self.where.items() if place.startswith(start)), None)
        return found if found in self.fields else None


class FactsPart(Part):
    title, lead = "The shop", "What stands on every paper, and how the shop counts."

    name = forms.CharField(label="Name", max_length=120, error_messages={"required": "Give it a name."})
    unit = forms.ChoiceField(label="Measured in", choices=Shop.Unit.choices, widget=forms.RadioSelect)
    paper = forms.ChoiceField(label="Printed on", choices=Shop.Paper.choices, widget=forms.RadioSelect)
    time_zone = forms.ChoiceField(label="Clock", choices=zone_choices)
    cushion_days = forms.IntegerField(
        label="Days kept free before a day that is needed", min_value=0, max_value=60
    )
    quote_valid_days = forms.IntegerField(label="Days a quote holds", min_value=1, max_value=365)

    def read(self, shop: Shop) -> dict[str, Any]:
        return {name: getattr(shop, name) for name in self.base_fields}

    def write(self, *, by: Person) -> None:
        change_facts(self.shop, by=by, **self.cleaned_data)


class RatesPart(Part):
    title = "What an hour costs and brings"
    lead = "Only you see these. They tell what a quilt earns, and what to quote next time."
    where = {
        "overhead": "overhead", "aim": "aim", "sundries": "sundries", "terms.rush": "rush",
        "terms.round_to": "round_to", "terms.deposit": "deposit", "terms.instalments": "instalments",
    }  # fmt: skip

    overhead = forms.CharField(label="Overhead an hour", widget=forms.TextInput(DECIMAL))
    aim = forms.CharField(label="What an hour should bring", widget=forms.TextInput(DECIMAL))
    sundries = forms.CharField(
        label="Thread and needles, each quilt", required=False, widget=forms.TextInput(DECIMAL)
    )
    rush = forms.CharField(label="Rush, per cent on top", required=False, widget=forms.TextInput(DECIMAL))
    round_to = forms.CharField(
        label="Round a quote to whole", required=False, widget=forms.TextInput(DECIMAL),
        help_text="Such as 5; empty for no rounding.",
    )  # fmt: skip
    deposit = forms.CharField(label="Deposit, per cent", widget=forms.TextInput(DECIMAL))
    instalments = forms.IntegerField(label="Parts the balance may be paid in", min_value=1, max_value=24)

    def read(self, shop: Shop) -> dict[str, Any]:
        rules, terms = shop.rules, shop.rules["terms"]
        return {
            "overhead": rules["overhead"]["rate"],
            "aim": rules["aim"]["rate"],
            "sundries": rules.get("sundries") or "",
            "rush": in_per_cent(terms.get("rush", "0")),
            "round_to": terms.get("round_to") or "",
            "deposit": in_per_cent(terms.get("deposit", "0")),
            "instalments": terms.get("instalments", 1),
        }

    def clean_rush(self) -> str:
        return of_one(self.cleaned_data["rush"] or "0")

    def clean_deposit(self) -> str:
        return of_one(self.cleaned_data["deposit"])

    def write(self, *, by: Person) -> None:
        said = self.cleaned_data
        terms = {**self.shop.rules["terms"], "rush": said["rush"], "deposit": said["deposit"]}
        terms |= {"round_to": said["round_to"] or None, "instalments": said["instalments"]}
        change_rules(
            self.shop, by=by, terms=terms, sundries=said["sundries"] or None,
            overhead={"rate": said["overhead"], "per": "hour"}, aim={"rate": said["aim"], "per": "hour"},
        )  # fmt: skip


class TermsPart(Part):
    title = "Terms, in your own words"
    lead = "They stand on every quote, as you write them. There is no text ready made here."
    note = (
        "What happens when somebody cancels, and what you may keep, differs by place: "
        "ask somebody who knows the law of yours."
    )

    terms_text = forms.CharField(
        label="Your terms", required=False, widget=forms.Textarea, max_length=4000,
        help_text="Alterations, what happens when somebody cancels, leftovers, washing.",
    )  # fmt: skip
    how_to_pay = forms.CharField(
        label="How to pay", required=False, widget=forms.Textarea, max_length=1000,
        help_text="It stands beside the balance on a customer’s page.",
    )  # fmt: skip

    def read(self, shop: Shop) -> dict[str, Any]:
        return {"terms_text": shop.terms_text, "how_to_pay": shop.how_to_pay}

    def write(self, *, by: Person) -> None:
        said = self.cleaned_data
        change_facts(self.shop, by=by, terms_text=said["terms_text"], how_to_pay=said["how_to_pay"])


class QuilterPart(Part):
    title = "Quilter outside"
    lead = "For quilts that are longer than your own frame. Leave the length empty when all are quilted here."
    where = {
        "quilter.over": "over", "quilter.rate": "rate", "quilter.days": "days",
        "quilter.minutes": "minutes", "quilter.least": "least",
    }  # fmt: skip

    over = forms.CharField(label="Goes out when a side is longer than", required=False)
    rate = forms.CharField(label="Price for the area", required=False, widget=forms.TextInput(DECIMAL))
    least = forms.CharField(label="At least", required=False, widget=forms.TextInput(DECIMAL))
    days = forms.IntegerField(label="Days it is away", required=False, min_value=0, max_value=365)
    minutes = forms.IntegerField(
        label="Minutes to pack and send it", required=False, min_value=0, max_value=600
    )

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, shop=shop, **kwargs)
        self.fields["over"].help_text = f"In {shop.unit}."
        self.fields["rate"].help_text = "For a square inch." if shop.unit == "in" else "For a square meter."

    def read(self, shop: Shop) -> dict[str, Any]:
        quilter = shop.rules.get("quilter") or {}
        rate = quilter.get("rate")
        typed = rate["rate"] if isinstance(rate, dict) else rate or ""
        return {**quilter, "rate": typed}

    def clean(self) -> None:
        if not self.cleaned_data.get("over"):
            return
        for name, words in (("rate", "Give the price for the area."), ("days", "Give the days it is away.")):
            if self.cleaned_data.get(name) in (None, "") and name not in self.errors:
                self.add_error(name, words)

    def write(self, *, by: Person) -> None:
        said = self.cleaned_data
        if not said["over"]:
            change_rules(self.shop, by=by, quilter=None)
            return
        over = said["over"] if said["over"][-1:].isalpha() else f"{said['over']} {self.shop.unit}"
        rate = {"rate": said["rate"], "per": "in2" if self.shop.unit == "in" else "m2"}
        quilter = {"over": over, "rate": rate, "days": said["days"]}
        quilter |= {
            "minutes": 30 if said["minutes"] is None else said["minutes"],
            "least": said["least"] or None,
        }
        change_rules(self.shop, by=by, quilter=quilter)


class HelperForm(forms.Form):
    name = forms.CharField(label="Name", max_length=80, error_messages={"required": "Type a name."})
    password = forms.CharField(
        label="Password", max_length=1000, strip=False,
        help_text="Ten characters or more. Say it to them, or let them type it.",
        error_messages={"required": "Choose a password."},
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )  # fmt: skip
    stages = forms.MultipleChoiceField(
        label="What they do", required=False, choices=list(STAGE_WORDS.items()),
        widget=forms.CheckboxSelectMultiple,
    )  # fmt: skip

    def clean(self) -> None:
        name, password = self.cleaned_data.get("name"), self.cleaned_data.get("password")
        if name and Person.objects.named(name) is not None:
            self.add_error("name", "Somebody of that name is here already. Add a letter.")
        if name and password:
            try:
                validate_password(password, Person(name=name))
            except forms.ValidationError as fault:
                self.add_error("password", fault)


def sentence_of(fault: BadInput) -> str:
    """Return the planner's fault as a sentence."""
    words = str(fault)
    return words[:1].upper() + words[1:]


def in_per_cent(share: str) -> str:
    """Return 0.5 as 50."""
    return f"{(Decimal(share) * 100).normalize():f}"


def of_one(per_cent: str) -> str:
    """Return 50 as 0.5; what is no number is refused."""
    try:
        share = Decimal(per_cent.replace(",", ".").removesuffix("%").strip()) / 100
    except InvalidOperation as fault:
        raise forms.ValidationError("Give per cent as a number, such as 7.25.") from fault
    if not 0 <= share <= 10:
        raise forms.ValidationError("Give per cent from 0 on, such as 7.25.")
    return f"{share.normalize():f}"

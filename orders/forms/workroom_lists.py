"""The workroom's lists: prices, minutes, taxes, and the hours of each person; a row is a few fields."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation
from typing import Any

from django import forms

from orders.forms.workroom import DECIMAL, STAGE_WORDS, Part, in_per_cent, of_one
from orders.models import Person, Shop
from orders.workroom import change_rules, set_week
from planner.quilt import PER

DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
PER_WORDS = {
    "quilt": "each quilt", "garment": "each garment", "load": "each wash load", "block": "each block",
    "composite": "each composite", "filler": "each filler", "cell": "each place",
    "fitted": "each fitted place", "border": "with a border", "sashed": "each sashed block",
    "second-side": "each second side",
    "oversize": "each print over 14 in", "in": "of edge, an inch", "in2": "of area, a square inch",
    "garment:fleece": "each fleece", "garment:zip": "each nylon or zip", "rows": "each row",
}  # fmt: skip


def per_words(per: str) -> str:
    """Return what something is counted by, in words."""
    return PER_WORDS.get(per, f"each {per.removeprefix('garment:').replace('-', ' ')}")


class Rows(Part):
    """A part made of rows: `columns` are (name, heading); the last row is empty, for one more."""

    columns: tuple[tuple[str, str], ...] = ()
    list_name = ""
    count = 0

    def rows(self) -> list[dict[str, Any]]:
        """Return each row for the page: its label, and its bound fields with their headings."""
        return [
            {"label": self.label_of(number), "fields": [self[f"{name}-{number}"] for name, _ in self.columns]}
            for number in range(self.count)
        ]

    def label_of(self, number: int) -> str:
        return ""

    def field_of(self, place: str) -> str | None:
        start, _, rest = place.removeprefix("terms.").partition("[")
        if start != self.list_name or "]" not in rest:
            return None
        number, _, name = rest.partition("].")
        row = self.kept_rows[int(number)] if number.isdecimal() and int(number) < len(self.kept_rows) else -1
        field = f"{name.split('.')[0]}-{row}"
        return field if field in self.fields else f"{self.columns[0][0]}-{row}"

    kept_rows: list[int] = []


class PricesPart(Rows):
    title, lead = "Price list", "What a quote is made of. A row without words is taken off the list."
    columns, list_name = (("words", "On the quote"), ("rate", "Price")), "rules"

    def read(self, shop: Shop) -> dict[str, Any]:
        return {}

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, shop=shop, **kwargs)
        self.count = len(shop.rules["rules"])
        for number, rule in enumerate(shop.rules["rules"]):
            rate = rule["rate"]["rate"] if isinstance(rule["rate"], dict) else rule["rate"]
            self.fields[f"words-{number}"] = forms.CharField(
                label="On the quote", required=False, max_length=80, initial=rule["words"]
            )
            self.fields[f"rate-{number}"] = forms.CharField(
                label="Price", required=False, initial=rate, widget=forms.TextInput(DECIMAL)
            )
        charged = [(per, per_words(per)) for per in PER if "…" not in per and per not in ("in", "in2")]
        self.fields["new_words"] = forms.CharField(label="On the quote", required=False, max_length=80)
        self.fields["new_per"] = forms.ChoiceField(label="Charged for", choices=charged, initial="quilt")
        self.fields["new_rate"] = forms.CharField(
            label="Price", required=False, widget=forms.TextInput(DECIMAL)
        )

    def label_of(self, number: int) -> str:
        return per_words(self.shop.rules["rules"][number]["per"])

    def write(self, *, by: Person) -> None:
        said, rules = self.cleaned_data, []
        self.kept_rows = [n for n in range(self.count) if said[f"words-{n}"].strip()]
        for number in self.kept_rows:
            before = self.shop.rules["rules"][number]
            typed = said[f"rate-{number}"]
            rate = {**before["rate"], "rate": typed} if isinstance(before["rate"], dict) else typed
            rules.append({**before, "words": said[f"words-{number}"].strip(), "rate": rate})
        if said["new_words"].strip():
            rules.append(
                {"words": said["new_words"].strip(), "per": said["new_per"], "rate": said["new_rate"]}
            )
        change_rules(self.shop, by=by, rules=rules)

    def field_of(self, place: str) -> str | None:
        found = super().field_of(place)
        return found if found in self.fields else "new_rate" if place.startswith("rules[") else None


class MinutesPart(Rows):
    title = "Standard minutes"
    lead = "How long each stage takes you. They begin as common practice and are yours to set."
    columns, list_name = (("minutes", "Minutes"),), "standards"

    def read(self, shop: Shop) -> dict[str, Any]:
        return {}

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, shop=shop, **kwargs)
        self.count = len(shop.rules["standards"])
        self.kept_rows = list(range(self.count))
        for number, each in enumerate(shop.rules["standards"]):
            self.fields[f"minutes-{number}"] = forms.CharField(
                label=f"{self.label_of(number)}, minutes", initial=each["minutes"],
                widget=forms.TextInput(DECIMAL), error_messages={"required": "Give minutes, 0 for none."},
            )  # fmt: skip

    def label_of(self, number: int) -> str:
        each = self.shop.rules["standards"][number]
        return f"{STAGE_WORDS.get(each['stage'], each['stage'].capitalize())}, {per_words(each['per'])}"

    def write(self, *, by: Person) -> None:
        standards = [
            {**each, "minutes": self.cleaned_data[f"minutes-{number}"].replace(",", ".")}
            for number, each in enumerate(self.shop.rules["standards"])
        ]
        change_rules(self.shop, by=by, standards=standards)


class TaxesPart(Rows):
    title, lead = "Tax", "What is added to a quote, or is held in its prices already."
    note = (
        "What is taxed, at which rate and from when differs by place, and changes. These are your figures: "
        "ask the local tax authority or an accountant."
    )
    columns = (("words", "What it is called"), ("rate", "Per cent"), ("inclusive", "In the prices already"))
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

    def clean(self) -> None:
        for number in range(self.count):
            if self.cleaned_data.get(f"words-{number}", "").strip():
                try:
                    of_one(self.cleaned_data[f"rate-{number}"])
                except forms.ValidationError as fault:
                    self.add_error(f"rate-{number}", fault)

    def write(self, *, by: Person) -> None:
        said, before = self.cleaned_data, self.shop.rules["terms"].get("taxes", [])
        self.kept_rows = [n for n in range(self.count) if said[f"words-{n}"].strip()]
        taxes = [
            {
                **(before[number] if number < len(before) else {}),
                "words": said[f"words-{number}"].strip(),
                "rate": of_one(said[f"rate-{number}"]),
                "inclusive": said[f"inclusive-{number}"],
            }
            for number in self.kept_rows
        ]
        change_rules(self.shop, by=by, terms={**self.shop.rules["terms"], "taxes": taxes})


class WeekForm(forms.Form):
    """The hours of one person on each weekday, when the day opens, and what a helper does."""

    opens = forms.TimeField(
        label="The day opens at", widget=forms.TimeInput,
        error_messages={"required": "Give the time the day opens.", "invalid": "Give a time, such as 9:00."},
    )  # fmt: skip
    stages = forms.MultipleChoiceField(
        label="What they do", required=False, choices=list(STAGE_WORDS.items()),
        widget=forms.CheckboxSelectMultiple,
    )  # fmt: skip

    def __init__(self, *args: Any, person: Person, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        week = getattr(person, "week", None)
        self.person, minutes = person, week.minutes if week else [0] * 7
        opens = week.opens if week else 540
        self.fields["opens"].initial = f"{opens // 60:02d}:{opens % 60:02d}"
        self.fields["stages"].initial = week.stages if week else []
        for number, name in enumerate(DAYS):
            self.fields[f"day-{number}"] = forms.CharField(
                label=name,
                required=False,
                initial=_as_hours(minutes[number]),
                widget=forms.TextInput(DECIMAL),
            )
        if person.role == Person.Role.OWNER:
            del self.fields["stages"]

    @property
    def days(self) -> list[Any]:
        """Return the seven fields."""
        return [self[f"day-{number}"] for number in range(7)]

    def clean(self) -> None:
        opens = self.cleaned_data.get("opens")
        start = opens.hour * 60 + opens.minute if opens else 0
        minutes = [self._minutes_of(number, start) for number in range(7)]
        self.cleaned_data["minutes"], self.cleaned_data["start"] = minutes, start

    def _minutes_of(self, number: int, start: int) -> int:
        try:
            minutes = minutes_of(self.cleaned_data.get(f"day-{number}") or "0")
        except ValueError:
            self.add_error(f"day-{number}", "Give hours, such as 5, 4.5 or 4:30.")
            return 0
        if minutes < 0 or start + minutes > 1440:
            self.add_error(f"day-{number}", "That day would end after midnight. Give fewer hours.")
        return minutes

    def write(self, *, by: Person) -> None:
        """Keep the week."""
        said = self.cleaned_data
        set_week(self.person, minutes=said["minutes"], opens=said["start"], stages=said.get("stages"), by=by)


def minutes_of(hours: str) -> int:
    """Return the whole minutes of 5, 4.5 or 4:30; raises ValueError for anything else."""
    whole, colon, rest = hours.strip().partition(":")
    if colon:
        return int(whole) * 60 + int(rest)
    try:
        minutes = Decimal(whole.replace(",", ".") or "0") * 60
    except InvalidOperation as fault:
        raise ValueError(hours) from fault
    if not minutes.is_finite() or abs(minutes) > 6000:
        raise ValueError(hours)
    return round(minutes)


def _as_hours(minutes: int) -> str:
    hours, rest = divmod(minutes, 60)
    return f"{hours}:{rest:02d}" if rest else str(hours)

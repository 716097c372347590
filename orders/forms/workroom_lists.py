"""The workroom's lists: prices, minutes, taxes, and the hours of each person; a row is a few fields."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation
from typing import Any

from django import forms

from orders.days.calendar import workers
from orders.days.who_does import on_no_list_if
from orders.forms.workroom import DECIMAL, STAGE_WORDS, Part
from orders.models import Person, Shop
from orders.workroom import change_rules, set_week
from planner.price import not_on
from planner.quilt import PER

DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
PER_WORDS = {
    "quilt": "each quilt", "garment": "each garment", "load": "each wash load", "block": "each block",
    "composite": "each composite", "filler": "each filler", "cell": "each place",
    "fitted": "each fitted place", "border": "with a border", "sashed": "each sashed block",
    "second-side": "each second side", "sleeve": "with a hanging sleeve", "label": "with a label",
    "frame": "each framed block", "oversize": "each print over 14 in",
    "in": "of edge, an inch", "in2": "of area, a square inch",
    "pillow": "each pillow", "plush-back": "of a plush back, a square inch",
    "garment:fleece": "each fleece", "garment:zip": "each nylon or zip", "rows": "each row",
}  # fmt: skip


def per_words(per: str) -> str:
    """Return what something is counted by, in words."""
    if per.startswith("size:"):
        return f"a whole quilt of {per.removeprefix('size:').replace('-', ' ').replace('xl', 'XL')} size"
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


def often_charged(shop: Shop) -> str:
    """Return the usual surcharges that this price list has nothing for; amounts only in dollars."""
    missing = not_on(frozenset(rule["per"] for rule in shop.rules["rules"]))
    if not missing:
        return ""
    said = [
        f"{each.words.lower()}{f' (${each.least} to ${each.most})' if shop.currency == 'USD' else ''}"
        for each in missing
    ]
    return f"Often charged, and not on your list: {', '.join(said)}. Common practice, not a rule."


class PricesPart(Rows):
    title, lead = "Price list", "What a quote is made of. A row without words is taken off the list."
    columns = (("words", "On the quote"), ("rate", "Price"), ("least", "At least"))
    list_name = "rules"

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
            self.fields[f"least-{number}"] = forms.CharField(
                label="At least", required=False, initial=rule.get("least") or "",
                widget=forms.TextInput(DECIMAL),
            )  # fmt: skip
        charged = [(per, per_words(per)) for per in PER if "…" not in per]
        self.fields["new_words"] = forms.CharField(label="On the quote", required=False, max_length=80)
        self.fields["new_per"] = forms.ChoiceField(label="Charged for", choices=charged, initial="quilt")
        self.fields["new_rate"] = forms.CharField(
            label="Price", required=False, widget=forms.TextInput(DECIMAL)
        )
        self.note = often_charged(shop)

    def label_of(self, number: int) -> str:
        return per_words(self.shop.rules["rules"][number]["per"])

    def write(self, *, by: Person) -> None:
        said, rules = self.cleaned_data, []
        self.kept_rows = [n for n in range(self.count) if said[f"words-{n}"].strip()]
        for number in self.kept_rows:
            before = self.shop.rules["rules"][number]
            typed = said[f"rate-{number}"]
            rate = {**before["rate"], "rate": typed} if isinstance(before["rate"], dict) else typed
            least = said[f"least-{number}"].strip() or None
            rules.append({**before, "words": said[f"words-{number}"].strip(), "rate": rate, "least": least})
        if said["new_words"].strip():
            rules.append(
                {"words": said["new_words"].strip(), "per": said["new_per"], "rate": self._new_rate()}
            )
        change_rules(self.shop, by=by, rules=rules)

    def _new_rate(self) -> Any:
        typed, per = self.cleaned_data["new_rate"], self.cleaned_data["new_per"]
        area, edge = ("in2", "in") if self.shop.unit == "in" else ("m2", "m")
        measured = {"in": edge, "in2": area, "plush-back": area}
        return {"rate": typed, "per": measured[per]} if per in measured else typed

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


class WeekForm(forms.Form):
    """The hours of one person on each weekday, when the day opens, and what they do."""

    opens = forms.TimeField(
        label="The day opens at", widget=forms.TimeInput,
        error_messages={"required": "Give the time the day opens.", "invalid": "Give a time, such as 9:00."},
    )  # fmt: skip
    stages = forms.MultipleChoiceField(
        label="What they do", required=False, choices=list(STAGE_WORDS.items()),
        widget=forms.CheckboxSelectMultiple,
    )  # fmt: skip

    def __init__(self, *args: Any, person: Person, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.shop = shop
        week = getattr(person, "week", None)
        self.person, minutes = person, week.minutes if week else [0] * 7
        opens = week.opens if week else 540
        self.fields["opens"].initial = f"{opens // 60:02d}:{opens % 60:02d}"
        self.fields["stages"].initial = week.stages if week else []
        for number, name in enumerate(DAYS):
            self.fields[f"day-{number}"] = forms.CharField(
                label=name,
                initial=_as_hours(minutes[number]),
                widget=forms.TextInput(DECIMAL),
                error_messages={"required": "Give hours, 0 for none."},
            )
        if person.role == Person.Role.OWNER:
            self.fields["stages"].label = "What you do"
            self.fields["stages"].help_text = "With nothing ticked it is everything."

    @property
    def days(self) -> list[Any]:
        """Return the seven fields."""
        return [self[f"day-{number}"] for number in range(7)]

    def clean(self) -> None:
        opens = self.cleaned_data.get("opens")
        start = opens.hour * 60 + opens.minute if opens else 0
        minutes = [self._minutes_of(number, start) for number in range(7)]
        self.cleaned_data["minutes"], self.cleaned_data["start"] = minutes, start
        self._leave_no_stage_to_nobody()

    def _leave_no_stage_to_nobody(self) -> None:
        stages = self.cleaned_data.get("stages", [])
        left = on_no_list_if(self.shop, self.person, stages, workers())
        if left:
            words = ", ".join(STAGE_WORDS.get(each, each).lower() for each in left)
            self.add_error(
                "stages", f"Nobody would be left for {words}. Tick it here, or give it to somebody."
            )

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

"""Forms for a price still to be told: work by the hour, the days of its parts, what is told with it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from django import forms

from orders.account.parts_due import MOST, parts_due
from orders.forms.money import AmountField, as_typed
from orders.forms.workroom_lists import minutes_of
from orders.models import ExtraLine, Order, Shop

MOST_HOURS = 500


class HoursForm(forms.Form):
    """Work charged by the hour, such as a repair: hours so far, the price of one, the most it may be."""

    words = forms.CharField(
        label="What for", max_length=80, error_messages={"required": "Say what the line is for."}
    )
    hours = forms.CharField(
        label="Hours so far", max_length=8, widget=forms.TextInput({"inputmode": "decimal"}),
        help_text="As 2, 2.5 or 1:30.", error_messages={"required": "Give hours, such as 2 or 1:30."},
    )  # fmt: skip

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        kwargs.setdefault("prefix", "hourly")
        kwargs.setdefault("initial", {"an_hour": as_typed(_last_rate(shop), shop.currency)})
        super().__init__(*args, **kwargs)
        self.fields["an_hour"] = AmountField(label="An hour costs", currency=shop.currency)
        self.fields["most"] = AmountField(
            label="At most", currency=shop.currency, required=False,
            help_text="What it comes to at most, however long it takes. Empty: no limit.",
        )  # fmt: skip

    def clean_hours(self) -> int:
        """Return minutes."""
        try:
            minutes = minutes_of(self.cleaned_data["hours"])
        except ValueError as fault:
            raise forms.ValidationError("Give hours, such as 2 or 1:30.") from fault
        if not 0 < minutes <= MOST_HOURS * 60:
            raise forms.ValidationError(f"Give more than none and {MOST_HOURS} hours at most.")
        return minutes


def _last_rate(shop: Shop) -> int:
    """What an hour cost on the last such line; the aim of an hour where there was none."""
    last = ExtraLine.objects.exclude(an_hour=None).order_by("-pk").first()
    return last.an_hour if last and last.an_hour else shop.shop_rules().aim.on(60).minor


class PartsForm(forms.Form):
    """The days on which the parts of the rest are due; all empty leaves it to the shop's terms."""

    def __init__(self, *args: Any, order: Order, today: date, **kwargs: Any) -> None:
        kwargs.setdefault("prefix", "part")
        super().__init__(*args, **kwargs)
        self.today = today
        named = parts_due(order)
        for number in range(1, MOST + 1):
            self.fields[f"day-{number}"] = forms.DateField(
                label=f"Part {number} by", required=False,
                initial=named[number - 1] if number <= len(named) else None,
                error_messages={"invalid": "Pick a day, or leave it empty."},
            )  # fmt: skip

    def clean(self) -> None:
        """A part cannot be due on a day that is past, nor two on one day."""
        seen: set[date] = set()
        for name in list(self.fields):
            day = self.cleaned_data.get(name)
            if day is not None and day < self.today:
                self.add_error(name, "That day is past. Pick one that is still to come.")
            elif day is not None and day in seen:
                self.add_error(name, "Another part is due on that day. Pick one day for each.")
            elif day is not None:
                seen.add(day)
        self.cleaned_data["days"] = sorted(seen)


class TogetherForm(forms.Form):
    """The other orders whose prices are told together with this one."""

    also = forms.MultipleChoiceField(
        label="Tell it together with", required=False, widget=forms.CheckboxSelectMultiple,
        help_text="One quote, one yes; each keeps an account of its own.",
        error_messages={"invalid_choice": "That order cannot be told with this one now. Look again."},
    )  # fmt: skip

    def __init__(
        self, *args: Any, others: Sequence[Order], chosen: Sequence[int] = (), **kwargs: Any
    ) -> None:
        kwargs.setdefault("initial", {"also": [str(each) for each in chosen]})
        super().__init__(*args, **kwargs)
        self.others = {str(each.number): each for each in others}
        choices = [(number, str(each)) for number, each in self.others.items()]
        self.fields["also"].choices = choices  # type: ignore[attr-defined]
        self.fields["also"].widget.attrs["form"] = "issue"

    def orders(self) -> list[Order]:
        """Return the orders that were ticked, by number."""
        return [self.others[number] for number in sorted(self.cleaned_data["also"], key=int)]

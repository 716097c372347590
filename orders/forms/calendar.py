"""What is asked on the calendar: overtime, holidays, how much is planned, visits, outside hands, trips."""

from __future__ import annotations

from datetime import UTC, date, datetime, time
from typing import Any
from zoneinfo import ZoneInfo

from django import forms

from orders.days.public_holidays import regions_of
from orders.forms.weeks import day_field
from orders.forms.workroom_lists import minutes_of
from orders.models import DayOff, Machine, Order, Outside, Person, Shop
from orders.templatetags.clock import clock

MOST_A_DAY = 720
A_TIME = "Give a time, such as 16:30."


class People(forms.Form):
    """A form that names somebody of the shop; `empty` stands for nobody in particular."""

    empty = ""

    def __init__(self, *args: Any, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today
        self.people = {str(each.pk): each for each in Person.objects.filter(is_active=True)}
        names = [(pk, each.name) for pk, each in self.people.items()]
        first = [("", self.empty)] if self.empty else []
        self.fields["person"].choices = [*first, *names]  # type: ignore[attr-defined]

    @property
    def who(self) -> Person | None:
        """Return who was named."""
        return self.people.get(self.cleaned_data.get("person", ""))


class OvertimeForm(People):
    person = forms.ChoiceField(label="Who", error_messages={"required": "Say who stays longer."})
    day = day_field("On", "Give the day.")
    hours = forms.CharField(
        label="Hours more", widget=forms.TextInput({"inputmode": "decimal"}),
        error_messages={"required": "Give hours, such as 2 or 1:30."},
    )  # fmt: skip

    def clean_day(self) -> date:
        day: date = self.cleaned_data["day"]
        if day < self.today:
            raise forms.ValidationError("That day is past. Overtime is planned from today on.")
        return day

    def clean(self) -> None:
        who, day = self.who, self.cleaned_data.get("day")
        if who and day and DayOff.objects.filter(day=day, person=who).exists():
            self.add_error("day", f"{who} is off that day. Take the day off back first, under Weeks.")
        elif day and DayOff.objects.filter(day=day, person=None).exists():
            self.add_error("day", "The shop is closed that day. Open it first, under Weeks.")

    def clean_hours(self) -> int:
        try:
            minutes = minutes_of(self.cleaned_data["hours"])
        except ValueError as fault:
            raise forms.ValidationError("Give hours, such as 2 or 1:30.") from fault
        if not 0 < minutes <= MOST_A_DAY:
            raise forms.ValidationError("Give more than none and 12 hours at most.")
        return minutes


class HolidaysForm(forms.Form):
    """`closed` are the holidays of the next year on which the shop stays closed."""

    keeps = forms.BooleanField(label="Closed on public holidays", required=False)
    region = forms.ChoiceField(
        label="Region", required=False,
        error_messages={"invalid_choice": "Choose a region from the list, or none."},
    )  # fmt: skip
    closed = forms.TypedMultipleChoiceField(
        label="Closed on", coerce=date.fromisoformat, choices=[], required=False
    )

    def __init__(self, *args: Any, shop: Shop, listed: dict[date, str], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.listed = listed
        self.fields["region"].choices = [  # type: ignore[attr-defined]
            ("", "The whole country"), *((each, each) for each in regions_of(shop.country))
        ]  # fmt: skip
        self.fields["closed"].choices = [(day.isoformat(), day) for day in listed]  # type: ignore[attr-defined]

    @property
    def worked(self) -> list[str]:
        """Return the listed holidays that are worked all the same."""
        closed = set(self.cleaned_data["closed"])
        return [day.isoformat() for day in self.listed if day not in closed]


class PlannedForm(forms.Form):
    planned_share = forms.IntegerField(
        label="Planned of everybody’s hours, per cent", min_value=30, max_value=100,
        error_messages={"required": "Give per cent, such as 80.", "invalid": "Give whole per cent.",
                        "min_value": "Plan 30 per cent or more.",
                        "max_value": "Nobody has more than 100 per cent of her hours."},
    )  # fmt: skip
    by_history = forms.BooleanField(
        label="From ten finished quilts on, plan the share that they show", required=False
    )
    door_opens = forms.TimeField(
        label="The door opens",
        widget=forms.TimeInput,
        error_messages={"required": "Give a time.", "invalid": A_TIME},
    )
    door_closes = forms.TimeField(
        label="The door closes",
        widget=forms.TimeInput,
        error_messages={"required": "Give a time.", "invalid": A_TIME},
    )
    frames = forms.IntegerField(
        label="Quilting frames of your own", min_value=0, max_value=20, required=False,
        help_text="A frame is taken until the quilt is off it. 0: quilts do not wait for a frame.",
        error_messages={"min_value": "Give none or more.", "max_value": "Give 20 at most.",
                        "invalid": "Give a number, such as 1."},
    )  # fmt: skip

    def is_by_hand(self, shop: Shop) -> bool:
        """Another share than the one that stands is the owner's own, and so is one she unties."""
        return not self.cleaned_data["by_history"] or self.cleaned_data["planned_share"] != shop.planned_share

    def clean(self) -> None:
        opens, closes = self.cleaned_data.get("door_opens"), self.cleaned_data.get("door_closes")
        if opens and closes and opens >= closes:
            self.add_error("door_closes", "The door closes before it opens. Turn the two round.")

    @staticmethod
    def initial_of(shop: Shop) -> dict[str, Any]:
        frame = Machine.objects.filter(name="frame").first()
        return {
            "planned_share": shop.planned_share,
            "by_history": not shop.share_by_hand,
            "door_opens": clock_time(shop.door_opens),
            "door_closes": clock_time(shop.door_closes),
            "frames": frame.units if frame else 0,
        }


class MomentForm(forms.Form):
    """A day and a time by the shop's clock, while its door is open."""

    day = day_field("Day", "Give the day they come.")
    time = forms.TimeField(
        label="At", widget=forms.TimeInput,
        error_messages={"required": "Give the time.", "invalid": A_TIME},
    )  # fmt: skip

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.shop = shop

    def clean(self) -> None:
        day, at = self.cleaned_data.get("day"), self.cleaned_data.get("time")
        if day is None or at is None:
            return
        if day < self.shop.today():
            self.add_error("day", "That day is past. Give today or a later one.")
        opens, closes = clock_time(self.shop.door_opens), clock_time(self.shop.door_closes)
        if not opens <= at < closes:
            hours = f"{clock(self.shop.door_opens, self.shop)} to {clock(self.shop.door_closes, self.shop)}"
            self.add_error("time", f"The door is open from {hours}.")
        self.cleaned_data["at"] = moment = datetime.combine(day, at, ZoneInfo(self.shop.time_zone))
        there = moment.astimezone(UTC).astimezone(moment.tzinfo)
        if there.time() != at:
            self.add_error("time", "The clocks go forward then and skip this time. Give another one.")


class VisitForm(MomentForm):
    kind = forms.ChoiceField(
        label="To", choices=[("drop-off", "Bring"), ("look", "Look"), ("collection", "Collect")],
        widget=forms.RadioSelect, initial="collection",
        error_messages={"required": "Say what they come for."},
    )  # fmt: skip
    order = forms.ModelChoiceField(
        Order.objects.none(), label="Quilt", required=False, empty_label="For no quilt yet",
        error_messages={"invalid_choice": "Choose a quilt that is in the workroom."},
    )  # fmt: skip
    minutes = forms.IntegerField(
        label="Minutes", min_value=5, max_value=240, initial=15,
        error_messages={"required": "Give minutes, such as 15.", "invalid": "Give whole minutes, such as 15.",
                        "min_value": "Give 5 minutes or more.",
                        "max_value": "That is more than four hours. Book it in two parts."},
    )  # fmt: skip
    person = forms.ModelChoiceField(
        Person.objects.filter(is_active=True), label="Opens the door", required=False, empty_label="The owner"
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["order"].queryset = Order.objects.in_the_workroom().soonest_first()  # type: ignore[attr-defined]

    @property
    def visit(self) -> dict[str, Any]:
        """Return the visit's fields."""
        said = self.cleaned_data
        return {
            "kind": said["kind"], "at": said["at"], "order": said["order"],
            "minutes": said["minutes"], "opens_the_door": said["person"],
        }  # fmt: skip


class OutsideForm(forms.ModelForm):
    """A quilter or supplier; `first` and `last` add a closure."""

    first = day_field("Closed from", "", required=False)
    last = day_field("Closed until", "", required=False)

    class Meta:
        model = Outside
        fields = ["kind", "name", "reach", "lead_days", "transit_days"]
        labels = {
            "kind": "What they are", "name": "Name", "reach": "How to reach them",
            "lead_days": "Days they take", "transit_days": "Days on the way, each way",
        }  # fmt: skip
        widgets = {"kind": forms.RadioSelect}
        error_messages = {
            "name": {"required": "Give a name.", "unique": "Somebody of that name is here already."},
            "lead_days": {"required": "Give the days they take."},
        }

    def clean(self) -> dict[str, Any]:
        super().clean()
        said = self.cleaned_data
        first, last = said.get("first"), said.get("last")
        for name in ("lead_days", "transit_days"):
            if (said.get(name) or 0) > 365:
                self.add_error(name, "More than a year. Give 365 days at most.")
        if last and not first:
            self.add_error("first", "Give the first day they are closed, too.")
        elif first and last and last < first:
            self.add_error("last", "The last day comes before the first. Turn them round.")
        return said

    def save(self, commit: bool = True) -> Outside:
        first = self.cleaned_data.get("first")
        if first:
            last = self.cleaned_data.get("last") or first
            span = [first.isoformat(), last.isoformat()]
            self.instance.closed = sorted([*(each for each in self.instance.closed if each != span), span])
        made: Outside = super().save(commit)
        return made


def clock_time(minute: int) -> time:
    """Return a minute of the day as a time."""
    return time(minute // 60 % 24, minute % 60)


def minute_of(at: time) -> int:
    """Return a time as a minute of the day."""
    return at.hour * 60 + at.minute

"""What may be supposed: somebody ill, work that takes longer, cloth that is late, one more order."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from django import forms

from orders.cloth.takes import FIRST
from orders.days.calendar import stage_id
from orders.days.days_off import LONGEST
from orders.forms.calendar import People
from orders.forms.weeks import day_field
from orders.forms.workroom import STAGE_WORDS
from orders.forms.workroom_lists import minutes_of
from orders.models import Enquiry, Order, Stage
from orders.templatetags.shop import day as short_day

FARTHEST = 365  # days ahead
TAKES_CLOTH = {kind for kinds in FIRST.values() for kind in kinds}


class IllForm(People):
    """Somebody cannot work from one day to another."""

    person = forms.ChoiceField(label="Who is ill", error_messages={"required": "Say who is ill."})
    first = day_field("From", "Give the first day.")
    last = day_field("Until", "Give the last day.")

    def clean(self) -> None:
        first, last = self.cleaned_data.get("first"), self.cleaned_data.get("last")
        if first and first < self.today:
            self.add_error("first", "That day is past. Begin with today or later.")
        if first and first > self.today + timedelta(days=FARTHEST):
            self.add_error("first", "That is more than a year ahead. Look at the year again.")
        if first and last and last < first:
            self.add_error("last", "The last day comes before the first. Turn them round.")
        elif first and last and (last - first).days >= LONGEST:
            self.add_error("last", f"More than {LONGEST} days at once. Suppose a shorter time.")

    @property
    def question(self) -> dict[str, Any]:
        said = self.cleaned_data
        assert self.who is not None
        return {
            "kind": "ill", "person": self.who.name,
            "first": said["first"].isoformat(), "last": said["last"].isoformat(),
        }  # fmt: skip


class OfAStage(forms.Form):
    """Something about one kind of work on one quilt."""

    order = forms.ModelChoiceField(
        Order.objects.none(), label="Quilt", empty_label=None,
        error_messages={"required": "Say which quilt.",
                        "invalid_choice": "Choose a quilt that is in the workroom."},
    )  # fmt: skip
    work = forms.ChoiceField(label="Work", choices=list(STAGE_WORDS.items()))

    def __init__(self, *args: Any, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today
        self.fields["order"].queryset = Order.objects.in_the_workroom().soonest_first()  # type: ignore[attr-defined]

    def clean(self) -> None:
        order, work = self.cleaned_data.get("order"), self.cleaned_data.get("work")
        if order is None or not work:
            return
        self.stage = Stage.objects.to_do().filter(order=order, kind=work).select_related("order").first()
        if self.stage is None:
            words = STAGE_WORDS.get(work, work).lower()
            self.add_error("work", f"There is no {words} left to do on this quilt. Choose other work.")

    def about(self, kind: str) -> dict[str, Any]:
        """Return what the question is about."""
        assert self.stage is not None
        return {"kind": kind, "stage": stage_id(self.stage), "key": self.stage.pk}


class SlipForm(OfAStage):
    """Work takes longer than it should."""

    hours = forms.CharField(
        label="Hours more", widget=forms.TextInput({"inputmode": "decimal"}),
        error_messages={"required": "Give hours, such as 3 or 1:30."},
    )  # fmt: skip

    def clean_hours(self) -> int:
        try:
            minutes = minutes_of(self.cleaned_data["hours"])
        except ValueError as fault:
            raise forms.ValidationError("Give hours, such as 3 or 1:30.") from fault
        if not 0 < minutes <= 6000:
            raise forms.ValidationError("Give more than none and 100 hours at most.")
        return minutes

    @property
    def question(self) -> dict[str, Any]:
        return self.about("slip") | {"minutes": self.cleaned_data["hours"]}


class ClothForm(OfAStage):
    """Work cannot begin before a day, because its cloth comes late: only of work that takes cloth."""

    work = forms.ChoiceField(
        label="Work", choices=[each for each in STAGE_WORDS.items() if each[0] in TAKES_CLOTH], initial="join"
    )
    day = day_field("Cloth is here on", "Give the day it is here.")

    def clean_day(self) -> date:
        day: date = self.cleaned_data["day"]
        if day < self.today:
            raise forms.ValidationError("That day is past: the cloth would be here.")
        if day > self.today + timedelta(days=FARTHEST):
            raise forms.ValidationError("That is beyond the days that are planned. Look at the year again.")
        return day

    @property
    def question(self) -> dict[str, Any]:
        return self.about("cloth") | {"day": self.cleaned_data["day"].isoformat()}


class Enquiries(forms.ModelChoiceField):
    """An enquiry by who asked and the day it is wanted, as days are written on a page."""

    today: date | None = None

    def label_from_instance(self, obj: Enquiry) -> str:
        return f"{obj.name}, needed by {short_day(obj.needed_by, self.today)}" if obj.needed_by else obj.name


class MoreForm(forms.Form):
    """One more order is taken."""

    enquiry = Enquiries(
        Enquiry.objects.none(), label="Enquiry", empty_label=None,
        error_messages={"required": "Say which enquiry.",
                        "invalid_choice": "Choose an enquiry that waits for an answer."},
    )  # fmt: skip

    def __init__(self, *args: Any, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["enquiry"].today = today  # type: ignore[attr-defined]
        waiting = Enquiry.objects.waiting().filter(shirts__gt=0).order_by("-came_at")
        self.fields["enquiry"].queryset = waiting  # type: ignore[attr-defined]

    @property
    def question(self) -> dict[str, Any]:
        return {"kind": "more", "enquiry": self.cleaned_data["enquiry"].pk}


Supposed = IllForm | SlipForm | ClothForm | MoreForm
FORMS: dict[str, type[Supposed]] = {"ill": IllForm, "slip": SlipForm, "cloth": ClothForm, "more": MoreForm}

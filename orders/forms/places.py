"""Where shirts are put, tags to print, leftovers counted, parcels opened, and the shop's heat tools."""

from __future__ import annotations

from typing import Any

from django import forms

from orders.models import Bag, HeatTool, Opening, Place, Shirt
from orders.papers.tags import MOST_SKIPPED, SHEETS
from planner.problems import BadInput


class PutForm(forms.Form):
    """Shirts and the place they are put."""

    place = forms.ChoiceField(
        choices=Place.choices,
        error_messages={"required": "Tap the place.", "invalid_choice": "Tap the place."},
    )
    shirt = forms.TypedMultipleChoiceField(
        coerce=int, choices=[], error_messages={"required": "Tick at least one shirt."}
    )
    words = forms.CharField(label="Which one", max_length=60, required=False)

    def __init__(self, *args: Any, shirts: list[Shirt], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.shirts = {shirt.pk: shirt for shirt in shirts}
        self.fields["shirt"].choices = [(pk, pk) for pk in self.shirts]  # type: ignore[attr-defined]

    @property
    def chosen(self) -> list[Shirt]:
        """The shirts that were ticked."""
        return [self.shirts[pk] for pk in self.cleaned_data["shirt"]]


class TagsForm(forms.Form):
    """How tags are printed."""

    sheet = forms.ChoiceField(
        label="On what", choices=[(name, words.capitalize()) for name, words in SHEETS.items()],
        widget=forms.RadioSelect, initial="plain",
        error_messages={"required": "Tap what they are printed on."},
    )  # fmt: skip
    panels = forms.BooleanField(label="One for each kept panel too", required=False)
    skipped = forms.IntegerField(
        label="Labels gone from the first sheet", required=False, min_value=0, max_value=MOST_SKIPPED,
        error_messages={
            "invalid": "Type how many labels are gone, such as 4.",
            "min_value": "Type 0 or more.",
            "max_value": f"A sheet has at most {MOST_SKIPPED + 1} labels. Take a new one.",
        },
    )  # fmt: skip


class LeftoversForm(forms.Form):
    """The bundles of leftovers that lie here, each ticked off by the number on it."""

    here = forms.TypedMultipleChoiceField(coerce=int, choices=[], required=False)

    def __init__(self, *args: Any, shirts: list[Shirt], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["here"].choices = [(shirt.pk, str(shirt)) for shirt in shirts]  # type: ignore[attr-defined]


MOST_AT_ONCE = 10


class SeveralFiles(forms.FileInput):
    """A field for several files at once."""

    allow_multiple_selected = True


class PhotosField(forms.FileField):
    """Several photos, as a list; none is an empty list."""

    widget = SeveralFiles(attrs={"accept": "image/*", "multiple": True})

    def clean(self, data: Any, initial: Any = None) -> list[Any]:
        """Check each as one photo is checked."""
        given = [each for each in data or () if each]
        if self.required and not given:
            raise forms.ValidationError(self.error_messages["required"])
        if len(given) > MOST_AT_ONCE:
            raise forms.ValidationError(f"These are more than {MOST_AT_ONCE}. Send them in two goes.")
        return [super(PhotosField, self).clean(each, initial) for each in given]


class ParcelPhotosForm(forms.Form):
    """Photos of how a parcel was opened, one or several."""

    more = PhotosField(
        label="Photos of the opening",
        error_messages={
            "required": "Choose at least one photo.",
            "empty": "One of these files is empty. Choose the photos again.",
        },
    )


class ParcelForm(forms.Form):
    """A parcel before and after it is opened."""

    box = forms.ChoiceField(
        label="The box", choices=Opening.Box.choices, widget=forms.RadioSelect,
        error_messages={"required": "Tap how the box came."},
    )  # fmt: skip
    sealed = forms.FileField(
        label="Photo of the closed box, label up", required=False,
        widget=forms.FileInput(attrs={"accept": "image/*", "capture": "environment"}),
        error_messages={"empty": "This file is empty. Choose the photo again."},
    )  # fmt: skip
    said = forms.IntegerField(
        label="How many, says the sender", required=False, min_value=0, max_value=500,
        error_messages={"invalid": "Type a whole number, such as 12."},
    )  # fmt: skip
    found = forms.IntegerField(
        label="How many you counted out", min_value=0, max_value=500,
        error_messages={"required": "Count them out and type how many.",
                        "invalid": "Type a whole number, such as 12."},
    )  # fmt: skip
    spread = forms.FileField(
        label="Photo of what was in it", required=False,
        widget=forms.FileInput(attrs={"accept": "image/*", "capture": "environment"}),
        error_messages={"empty": "This file is empty. Choose the photo again."},
    )  # fmt: skip
    more = PhotosField(
        label="Photos while it was opened", required=False,
        help_text="One or several, such as the cut tape, what lay on top, a tear.",
        error_messages={"empty": "One of these files is empty. Choose the photos again."},
    )  # fmt: skip
    film = forms.CharField(
        label="Where the film is", max_length=160, required=False,
        help_text="A film of the opening stays on the phone; write down where.",
    )  # fmt: skip

    def __init__(self, *args: Any, bag: Bag, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["found"].initial = bag.count


class ToolForm(forms.ModelForm):
    """An iron or a press of the shop."""

    class Meta:
        model = HeatTool
        fields = ("name", "kind", "unit", "hotter", "least", "most", "step")
        widgets = {"kind": forms.RadioSelect, "unit": forms.RadioSelect}
        labels = {
            "name": "What you call it", "kind": "What it is", "unit": "Its degrees",
            "hotter": "Runs hotter than it says by", "least": "Lowest it can be set to",
            "most": "Highest it can be set to", "step": "Set in steps of",
        }  # fmt: skip
        help_texts = {
            "hotter": "In its own degrees; less than 0 if it runs cooler. Measure it, do not guess.",
            "least": "A press only.", "most": "A press only.", "step": "A press only.",
        }  # fmt: skip
        error_messages = {
            "name": {"required": "Give it a name, such as small press.",
                     "unique": "There is a tool of this name."},
            "kind": {"required": "Tap what it is."}, "unit": {"required": "Tap its degrees."},
        }  # fmt: skip

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in ("hotter", "least", "most", "step"):
            field = self.fields[name]
            field.required = False
            field.error_messages["invalid"] = "Type whole degrees, such as 5."

    def clean(self) -> dict[str, Any]:
        said: dict[str, Any] = super().clean() or self.cleaned_data
        for name, usual in (("hotter", 0), ("least", 0), ("most", 0), ("step", 5)):
            if said.get(name) is None and name not in self.errors:
                said[name] = usual
        if not self.errors:
            try:
                HeatTool(**said).as_tool()
            except BadInput as fault:
                self.add_error(
                    fault.field if fault.field in self.fields else None, fault.message.capitalize()
                )
        return said

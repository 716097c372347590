"""What a customer answers on her page."""

from __future__ import annotations

from typing import Any

from django import forms

from orders.forms.her_page import three_lines
from orders.forms.picture import moving_field


class AnswerForm(forms.Form):
    """A name under a yes; `number` is the quote or picture that was looked at."""

    number = forms.IntegerField(min_value=1, widget=forms.HiddenInput)
    name = forms.CharField(
        label="Your name", max_length=120, error_messages={"required": "Type your name, as under a letter."},
        widget=forms.TextInput(attrs={"autocomplete": "name"}),
    )  # fmt: skip


class NameTick(forms.CheckboxInput):
    """A tick that stands for a name: what is sent is the name itself."""

    def value_from_datadict(self, data: Any, files: Any, name: str) -> Any:
        return data.get(name, "")


class PriceAnswerForm(AnswerForm):
    """Her yes to the price: a tick where her link has her name, else her name typed."""

    def __init__(self, *args: Any, known: str = "", **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if known:
            self.fields["name"] = forms.CharField(
                label=f"I am {known}", max_length=120,
                widget=NameTick(attrs={"value": known}, check_test=lambda typed: typed == known),
                error_messages={"required": f"Tick that it is you, {known}."},
            )  # fmt: skip


class PictureAnswerForm(AnswerForm):
    """Her yes to the picture: a tick by the name of the one who decides, and whether blocks may move."""

    may_move = moving_field()
    field_order = ["number", "may_move", "name"]

    def __init__(self, *args: Any, approver: str, asks_to_move: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["name"] = forms.CharField(
            label=f"I am {approver}", max_length=120,
            widget=NameTick(attrs={"value": approver}, check_test=lambda typed: typed == approver),
            error_messages={"required": f"Tick that it is you. Only {approver} gives this yes."},
        )  # fmt: skip
        self.fields["may_move"].required = True
        if not asks_to_move:
            del self.fields["may_move"]

    def clean_may_move(self) -> bool:
        """Return the answer as yes or no."""
        return bool(self.cleaned_data["may_move"] == "yes")


class WishForm(AnswerForm):
    """What should change."""

    words = forms.CharField(
        label="What should change?", max_length=1000, widget=forms.Textarea,
        error_messages={"required": "Write what should change."},
    )  # fmt: skip
    field_order = ["number", "words", "name"]


class LabelForm(forms.Form):
    """The words for the label; none is an answer too, by leaving it alone."""

    words = forms.CharField(
        label="Words for the label", max_length=200, widget=forms.Textarea({"rows": 3}),
        error_messages={"required": "Write the words, or leave it: then only the year is sewn."},
    )  # fmt: skip

    def clean_words(self) -> str:
        return three_lines(self.cleaned_data["words"])

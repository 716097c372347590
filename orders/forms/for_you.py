"""What a customer answers on her page."""

from __future__ import annotations

from django import forms


class AnswerForm(forms.Form):
    """A name under a yes; `number` is the quote or picture that was looked at."""

    number = forms.IntegerField(min_value=1, widget=forms.HiddenInput)
    name = forms.CharField(
        label="Your name", max_length=120, error_messages={"required": "Type your name, as under a letter."},
        widget=forms.TextInput(attrs={"autocomplete": "name"}),
    )  # fmt: skip


class WishForm(AnswerForm):
    """What should change."""

    words = forms.CharField(
        label="What should change?", max_length=1000, widget=forms.Textarea,
        error_messages={"required": "Write what should change."},
    )  # fmt: skip
    field_order = ["number", "words", "name"]

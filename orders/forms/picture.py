"""The yes to the picture and the wish, as the shop writes them down; the photo of the wall."""

from __future__ import annotations

from typing import Any

from django import forms

from orders.forms.quilt import SaidForm

MOVES = [("yes", "Equal blocks may trade places"), ("no", "Each block stays where it is")]


class MayMove:
    """What a form says of moving blocks; asked once, and never of a memorial."""

    cleaned_data: dict[str, Any]

    @property
    def moving(self) -> bool | None:
        """Return the answer, or None where it was not asked or not answered."""
        said = self.cleaned_data.get("may_move", "")
        return said == "yes" if said else None


def moving_field() -> forms.ChoiceField:
    """Return the question about moving blocks for balance."""
    return forms.ChoiceField(
        label="May blocks move for balance?",
        choices=MOVES,
        widget=forms.RadioSelect,
        required=False,
        error_messages={"required": "Tap one, so that it need not be asked again."},
    )


class PictureSaidForm(MayMove, SaidForm):
    """Who said yes to which picture, and how."""

    number = forms.IntegerField(min_value=1, widget=forms.HiddenInput)
    may_move = moving_field()
    field_order = ["number", "said_by", "how", "may_move"]

    def __init__(self, *args: Any, asks_to_move: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if not asks_to_move:
            del self.fields["may_move"]


class WishSaidForm(SaidForm):
    """What somebody wishes instead, and how it was said."""

    number = forms.IntegerField(min_value=1, widget=forms.HiddenInput)
    words = forms.CharField(
        label="What should change?", max_length=1000, widget=forms.Textarea(attrs={"rows": 3}),
        error_messages={"required": "Write down what should change."},
    )  # fmt: skip
    field_order = ["number", "words", "said_by", "how"]


class WallPhotoForm(forms.Form):
    """A photo of the blocks as they hang on the wall."""

    client_id = forms.CharField(max_length=64, required=False, widget=forms.HiddenInput)
    photo = forms.FileField(
        label="Photo of the wall, straight on",
        widget=forms.FileInput(attrs={"accept": "image/*", "capture": "environment"}),
        error_messages={
            "required": "Take a photo of the wall first.",
            "empty": "This file is empty. Choose the photo again.",
        },
    )


class VerdictForm(forms.Form):
    """Whether the wall is as agreed, of which photo, and what is not."""

    verdict = forms.ChoiceField(
        choices=[("as agreed", "As agreed"), ("not yet", "Not yet")],
        error_messages={"required": "Tap whether it is as agreed."},
    )
    photo = forms.IntegerField(widget=forms.HiddenInput)
    why = forms.CharField(label="What is not as agreed yet?", max_length=200, required=False)

"""A spot that is pointed at on a photo: by a tap on the picture itself, or typed in per cent."""

from __future__ import annotations

from typing import Any

from django import forms

from orders.models import Photo
from orders.shirt_colors import WHOLE

SHOWN = 280  # pixels of the picture's width on every screen, so that a tap needs no script
NOWHERE = "Tap the spot on the photo, or type where it is."


class TapForm(forms.Form):
    """What a spot is, and where. The picture is the button; a browser sends where on it was tapped."""

    what = forms.ChoiceField(
        label="What you tap",
        choices=[
            ("shirt", "This is the shirt"),
            ("other", "Not the shirt"),
            ("paper", "White paper"),
            ("card", "Gray card"),
        ],
        widget=forms.RadioSelect,
        error_messages={"required": "Say what you tap."},
    )
    left = forms.IntegerField(label="From the left", required=False, min_value=0, max_value=100)
    top = forms.IntegerField(label="From the top", required=False, min_value=0, max_value=100)

    def __init__(self, *args: Any, photo: Photo, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.photo = photo
        for name in ("left", "top"):
            self.fields[name].error_messages |= dict.fromkeys(
                ("invalid", "min_value", "max_value"), "Type whole per cent of the photo, 0 to 100."
            )

    @property
    def height(self) -> int:
        """The height of the picture where it is shown, in pixels."""
        return max(1, round(SHOWN * self.photo.height / self.photo.width))

    def clean(self) -> None:
        """What was typed goes before what was tapped: the Enter key taps the picture's corner."""
        if {"left", "top"} & self.errors.keys():
            return
        left, top = self.cleaned_data.get("left"), self.cleaned_data.get("top")
        if left is not None and top is not None:
            self.cleaned_data["at"] = _within(left / 100), _within(top / 100)
            return
        if left is not None or top is not None:
            self.add_error("top" if top is None else "left", "Type both.")
            return
        try:
            x, y = int(self.data.get("at.x", "")), int(self.data.get("at.y", ""))
        except ValueError:
            self.add_error(None, NOWHERE)
        else:
            self.cleaned_data["at"] = _within((x + 0.5) / SHOWN), _within((y + 0.5) / self.height)


def _within(share: float) -> int:
    return min(WHOLE - 1, max(0, round(share * WHOLE)))

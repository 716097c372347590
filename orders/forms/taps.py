"""A spot that is pointed at on a photo: by a tap on the picture itself, or typed in per cent."""

from __future__ import annotations

from typing import Any

from django import forms

from orders.colors.shirt_colors import WHOLE
from orders.models import Photo

# Pixels of the picture's width, for a phone and for a wide screen: fixed, so that a tap needs no script.
SHOWN, SHOWN_WIDE = 280, 460
WIDTHS = {"at": SHOWN, "wide": SHOWN_WIDE}
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
    def pictures(self) -> list[tuple[str, int, int]]:
        """The picture as it is shown, each with the name it is sent by, its width and height in pixels."""
        return [(name, width, self._height(width)) for name, width in WIDTHS.items()]

    def _height(self, width: int) -> int:
        return max(1, round(width * self.photo.height / self.photo.width))

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
        name = "wide" if "wide.x" in self.data else "at"
        try:
            x, y = int(self.data.get(f"{name}.x", "")), int(self.data.get(f"{name}.y", ""))
        except ValueError:
            self.add_error(None, NOWHERE)
        else:
            width = WIDTHS[name]
            self.cleaned_data["at"] = _within((x + 0.5) / width), _within((y + 0.5) / self._height(width))


def _within(share: float) -> int:
    return min(WHOLE - 1, max(0, round(share * WHOLE)))

"""What is tapped on a photo to measure a print, or typed instead."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import forms

from orders.bag.cropping import place_of_print
from orders.bag.measuring import REFERENCES, WHOLE, Corners, Taps
from orders.forms.sizes import SizeField
from orders.models import Piece
from planner.units import INCH

CORNERS = {"tl": "Top left", "tr": "Top right", "br": "Bottom right", "bl": "Bottom left"}
AXES = {"x": "from the left", "y": "from the top"}
QUADS = ("known", "kept", "cloth")
LYING = ((8, 82), (26, 82), (26, 93), (8, 93))  # where a reference waits to be moved, in per cent


class SizeForm(forms.Form):
    """One field for both sides."""

    version = forms.IntegerField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, unit: str, plain: bool = False, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["size"] = SizeField(
            label="Cloth, across × down" if plain else "Print, across × down",
            unit=unit,
            most=80 * INCH,
            error_messages={"required": "Type both sides, such as 11×13."},
        )


class TapsForm(forms.Form):
    """Twelve corners, in per cent of the picture: of the thing of known size, the print, the cloth."""

    reference = forms.ChoiceField(
        label="What of known size lies in the picture?",
        choices=list(REFERENCES.items()),
        widget=forms.RadioSelect,
        error_messages={"required": "Tap what lies in the picture."},
    )
    with_cloth = forms.BooleanField(label="Measure the cloth beyond the print too", required=False)
    version = forms.IntegerField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for quad in QUADS:
            for corner, words in CORNERS.items():
                for axis, side in AXES.items():
                    self.fields[f"{quad}_{corner}_{axis}"] = per_cent(f"{words}, {side}", quad != "cloth")

    def clean(self) -> None:
        """The cloth is wanted with all its corners, or not at all."""
        said = self.cleaned_data
        if said.get("with_cloth") and not self.errors:
            for name in _names("cloth"):
                if said.get(name) is None:
                    self.add_error(name, "Type per cent of the picture, 0 to 100.")

    @property
    def taps(self) -> Taps:
        """Return what was tapped."""
        said = self.cleaned_data
        cloth = self._quad("cloth") if said["with_cloth"] else None
        return Taps(said["reference"], self._quad("known"), self._quad("kept"), cloth)

    def _quad(self, quad: str) -> Corners:
        said = self.cleaned_data
        return tuple((_ten_thousandths(said[f"{quad}_{each}_x"]), _ten_thousandths(said[f"{quad}_{each}_y"]))
                     for each in CORNERS)  # fmt: skip

    def groups(self) -> list[tuple[str, str, list[forms.BoundField]]]:
        """Return the number fields of each quad with its word."""
        words = {
            "known": "The thing of known size",
            "kept": "The print",
            "cloth": "The cloth that may be cut",
        }
        return [(quad, words[quad], [self[name] for name in _names(quad)]) for quad in QUADS]

    @classmethod
    def of(cls, piece: Piece) -> dict[str, Any]:
        """Return a piece as the form shows it: as it was tapped, or about where the panel lies."""
        taps = piece.taps or {}
        shown = {"known": taps.get("known") or _as_taps(LYING), "kept": taps.get("kept") or around(piece)}
        shown["cloth"] = taps.get("cloth") or grown(shown["kept"])
        said = {
            f"{quad}_{corner}_{axis}": Decimal(place[at]) / 100
            for quad, corners in shown.items()
            for corner, place in zip(CORNERS, corners, strict=True)
            for at, axis in enumerate(AXES)
        }
        reference = taps.get("reference") or None
        return said | {"reference": reference, "version": piece.version, "with_cloth": "cloth" in taps}


def around(piece: Piece) -> list[list[int]]:
    """Return about where the print lies on its photo."""
    return [[min(max(round(value), 0), WHOLE) for value in each] for each in place_of_print(piece)]


def grown(corners: list[list[int]]) -> list[list[int]]:
    """Return corners a little outside these, within the picture."""
    x, y = (sum(each[at] for each in corners) / 4 for at in (0, 1))
    out = [[round(x + (each[0] - x) * 1.25), round(y + (each[1] - y) * 1.25)] for each in corners]
    return [[min(max(value, 0), WHOLE) for value in each] for each in out]


def _as_taps(per_cent: tuple[tuple[int, int], ...]) -> list[list[int]]:
    return [[x * WHOLE // 100, y * WHOLE // 100] for x, y in per_cent]


def _names(quad: str) -> list[str]:
    return [f"{quad}_{corner}_{axis}" for corner in CORNERS for axis in AXES]


def _ten_thousandths(per_cent: Decimal) -> int:
    return int(per_cent * 100)


def per_cent(label: str, required: bool) -> forms.DecimalField:
    """Return a field for per cent of the picture, to a hundredth."""
    words = "Type per cent of the picture, 0 to 100."
    return forms.DecimalField(
        label=label,
        required=required,
        min_value=0,
        max_value=100,
        max_digits=5,
        decimal_places=2,
        widget=forms.NumberInput(attrs={"step": "0.01"}),
        error_messages=dict.fromkeys(
            ("required", "invalid", "min_value", "max_value", "max_digits", "max_decimal_places"), words
        ),
    )

"""Cloth for the shelf, and a piece of it."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Any

from django import forms

from orders.forms.color import ColorField
from orders.forms.lengths import LengthField
from orders.models import Cloth
from planner.problems import BadInput
from planner.units import INCH, METRE, YARD, decimals, parse_money, show_length

KINDS = [
    ("cotton", "Quilting cotton"), ("backing", "Wide backing"), ("flannel", "Flannel"), ("plush", "Plush"),
    ("fleece", "Fleece"), ("batting", "Batting"), ("light non-woven", "Interfacing, light non-woven"),
    ("tricot", "Interfacing, knit tricot"), ("low-heat tricot", "Interfacing, low-heat tricot"),
    ("woven", "Interfacing, light woven"),
]  # fmt: skip


BOARDS = {"light non-woven": "Interfacing", "tricot": "Interfacing", "low-heat tricot": "Interfacing",
          "woven": "Interfacing"}  # fmt: skip


STEPS = {
    "in": [(YARD // 8, "⅛ yard"), (YARD // 4, "¼ yard"), (YARD // 2, "½ yard"), (YARD, "whole yards")],
    "cm": [(METRE // 10, "0.1 m"), (METRE // 4, "0.25 m"), (METRE // 2, "0.5 m"), (METRE, "whole meters")],
}


KEPT_AS_SAID = (
    "name", "kind", "place", "lot", "wash", "directional", "ground", "width", "usable", "shows",
)  # fmt: skip


MOST_FOR_A_QUARTER = 10**9  # minor units


def board_of(kind: str) -> str:
    """Return the board of the shelf that a kind lies on: interfacings share one."""
    return BOARDS.get(kind) or dict(KINDS).get(kind, kind.capitalize())


class ClothForm(forms.Form):
    """What is known of a cloth, whatever lies here of it."""

    name = forms.CharField(
        label="What you call it", max_length=80, error_messages={"required": "Type a name, such as Forest."}
    )
    kind = forms.ChoiceField(label="Kind", choices=KINDS)
    place = forms.CharField(label="Where it lies", max_length=60, required=False)
    lot = forms.CharField(
        label="Dye lot", max_length=40, required=False, help_text="One part of a quilt is cut from one lot."
    )
    wash = forms.CharField(
        label="Wash", max_length=120, required=False, help_text="Such as washed, or soak first: it bleeds."
    )
    directional = forms.BooleanField(label="Has an up and a down", required=False)
    ground = ColorField(label="Main color")
    photo = forms.FileField(
        label="Photo of it",
        required=False,
        widget=forms.FileInput(attrs={"accept": "image/*", "capture": "environment"}),
        help_text="Fill the picture with the cloth, by daylight. A ruler may lie along its edge.",
        error_messages={"empty": "This file is empty. Choose the photo again."},
    )
    kept_photo = forms.IntegerField(widget=forms.HiddenInput, required=False)
    bonds_at = forms.IntegerField(
        label="Bonds at",
        required=False,
        min_value=50,
        max_value=500,
        error_messages=dict.fromkeys(
            ("invalid", "min_value", "max_value"), "Type the degrees on its sheet, such as 270."
        ),
    )
    version = forms.IntegerField(widget=forms.HiddenInput, required=False)

    def __init__(
        self, *args: Any, unit: str, currency: str, cloth: Cloth | None = None, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.unit, self.currency, self.cloth = unit, currency, cloth
        self.fields["usable"] = LengthField(
            label="Usable width",
            unit=unit,
            least=INCH,
            most=200 * INCH,
            help_text="Between the selvages.",
            error_messages={"required": "Measure between the selvages and type it."},
        )
        self.fields["width"] = LengthField(
            label="Width of the bolt",
            unit=unit,
            least=INCH,
            most=200 * INCH,
            required=False,
            help_text="As sold, selvages and all.",
        )
        self.fields["shows"] = LengthField(
            label="The photo shows, across",
            unit=unit,
            least=INCH // 2,
            most=100 * INCH,
            required=False,
            help_text="By the ruler in it: it tells how large the print is.",
        )
        self.fields["bonds_at"].label = "Bonds at, °F" if unit == "in" else "Bonds at, °C"
        bolt = "yard" if unit == "in" else "meter"
        self.fields["price"] = forms.CharField(
            label=f"Price a {bolt}",
            max_length=20,
            required=False,
            help_text="Empty when no more can be bought.",
        )
        whole = "18 × 22 in" if unit == "in" else "50 × 55 cm"
        self.fields["quarter_price"] = forms.CharField(
            label=f"Also sold as fat quarters, {whole}, each at",
            max_length=20,
            required=False,
            help_text="Empty when it is not.",
        )
        self.fields["step"] = forms.TypedChoiceField(
            label="Sold in steps of",
            initial=STEPS[unit][0][0],
            coerce=int,
            choices=self._steps(),
            error_messages=dict.fromkeys(("required", "invalid_choice"), "Choose one of the steps."),
            help_text="As the counter cuts it; what to buy is rounded up to it.",
        )

    def _steps(self) -> list[tuple[int, str]]:
        """Return the steps of this shop's counters, and the cloth's own where it came from another kind."""
        steps = list(STEPS[self.unit])
        own = self.cloth.step if self.cloth else steps[0][0]
        if own not in dict(steps):
            steps.append((own, show_length(own, unit="yd" if self.unit == "in" else "m")))
        return steps

    def clean_name(self) -> str:
        """Two cloths of one name would be cut for one another."""
        name = str(self.cleaned_data["name"])
        others = Cloth.objects.filter(name__iexact=name)
        if (others.exclude(pk=self.cloth.pk) if self.cloth else others).exists():
            raise forms.ValidationError(
                "There is a cloth of this name. Add the dye lot or the place to tell them apart."
            )
        return name

    def clean(self) -> None:
        """Between the selvages there is no more than the bolt is wide."""
        super().clean()
        width, usable = self.cleaned_data.get("width"), self.cleaned_data.get("usable")
        if width is not None and usable is not None and usable > width:
            self.add_error("usable", "This is more than the width of the bolt. Measure between the selvages.")

    def clean_price(self) -> str:
        """A price in the shop's currency, kept exactly in minor units."""
        minor = self._minor("price")
        return "" if minor is None else str(minor)

    def clean_quarter_price(self) -> int | None:
        """The price of a fat quarter; nothing typed, it is not sold so."""
        minor = self._minor("quarter_price")
        if minor is not None and not 0 < minor < MOST_FOR_A_QUARTER:
            raise forms.ValidationError("Type what one costs, such as 3.00, or nothing when none are sold.")
        return minor

    def _minor(self, name: str) -> int | None:
        typed = str(self.cleaned_data[name]).strip().lstrip("$€£").strip()
        if not typed:
            return None
        if re.fullmatch(r"\d+,\d{1,3}", typed):
            typed = typed.replace(",", ".")
        try:
            price = parse_money(typed, self.currency)
        except BadInput as fault:
            raise forms.ValidationError("Type an amount, such as 12.50.") from fault
        if price.minor < 0:
            raise forms.ValidationError("A price is 0 or more.")
        return price.minor

    @property
    def facts(self) -> dict[str, Any]:
        """Return what was said as the fields of a cloth; its price is per yard or per meter."""
        said = self.cleaned_data
        by_yard = self.unit == "in"
        return {name: said[name] for name in (*KEPT_AS_SAID, "price", "quarter_price")} | {
            "step": said["step"],
            "price_per": "yd" if by_yard else "m",
            "bonds_at": self._bonds_at(said["bonds_at"]) if said["kind"] in BOARDS else None,
        }

    def _bonds_at(self, typed: int | None) -> int | None:
        """Return whole °F; what is typed in °C is rounded up, since glue that is too cool does not hold."""
        return typed if typed is None or self.unit == "in" else -(-typed * 9 // 5) + 32

    @staticmethod
    def of(cloth: Cloth, currency: str) -> dict[str, Any]:
        """Return a cloth as the form shows it."""
        minor = cloth.price_minor
        price = "" if minor is None else f"{minor.scaleb(-decimals(currency)):f}"
        each = cloth.quarter_price
        quarter = "" if each is None else f"{Decimal(each).scaleb(-decimals(currency)):f}"
        by_yard = cloth.price_per == "yd"
        bonds = cloth.bonds_at if by_yard or cloth.bonds_at is None else (cloth.bonds_at - 32) * 5 // 9
        as_it_is = {name: getattr(cloth, name) for name in (*KEPT_AS_SAID, "step", "version")}
        return as_it_is | {"price": price, "quarter_price": quarter, "bonds_at": bonds}


class NewClothForm(ClothForm):
    """A cloth that comes onto the list, with how much of it lies here."""

    def __init__(self, *args: Any, unit: str, **kwargs: Any) -> None:
        super().__init__(*args, unit=unit, **kwargs)
        self.fields["length"] = LengthField(
            label="Length that lies here",
            unit="yd" if unit == "in" else "m",
            least=INCH,
            most=300 * YARD,
            required=False,
            help_text="Empty: none yet.",
        )


class ClothPieceForm(forms.Form):
    """A piece that goes onto the shelf."""

    client_id = forms.CharField(max_length=64, required=False, widget=forms.HiddenInput)

    def __init__(self, *args: Any, unit: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        bolt = "yd" if unit == "in" else "m"
        self.fields["length"] = LengthField(
            label="Length",
            unit=bolt,
            least=INCH,
            most=300 * YARD,
            error_messages={"required": "Type its length."},
        )
        self.fields["width"] = LengthField(
            label="Width", unit=unit, least=INCH, most=200 * INCH, required=False,
            help_text="Empty: the whole usable width.",
        )  # fmt: skip

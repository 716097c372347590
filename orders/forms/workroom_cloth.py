"""What the shop adds when cloth is reckoned: the end that is squared, the wash, the back beyond the top."""

from __future__ import annotations

from typing import Any

from django import forms

from orders.forms.workroom import DECIMAL, Part
from orders.models import Person, Shop
from orders.workroom import change_rules
from planner.units import show_length

LENGTHS = {
    "squaring": "Cut off to square the end of what is bought",
    "overhang": "Back beyond the top, each side",
    "batting_overhang": "Batting beyond the top, each side",
}


class ClothPart(Part):
    title = "What is added to cloth"
    lead = "More is bought so that it is enough once it was washed and squared."
    note = (
        "Common practice: 2 in to square an end, 3 per cent for cotton that is washed before it is cut, "
        "3 to 4 in a side for a long arm and 2 to 3 at home. Ask your quilter; read the bolt's label."
    )
    where = {f"allowances.{name}": name for name in (*LENGTHS, "shrinkage")}

    squaring = forms.CharField(label=LENGTHS["squaring"], max_length=30)
    shrinkage = forms.DecimalField(
        label="Lost in the wash, per cent", min_value=0, max_value=25, decimal_places=1,
        widget=forms.TextInput(DECIMAL),
    )  # fmt: skip
    overhang = forms.CharField(label=LENGTHS["overhang"], max_length=30)
    batting_overhang = forms.CharField(label=LENGTHS["batting_overhang"], max_length=30)

    def read(self, shop: Shop) -> dict[str, Any]:
        given = shop.shop_rules().allowances
        lengths = {name: show_length(getattr(given, name), unit=shop.unit) for name in LENGTHS}
        return {**lengths, "shrinkage": f"{given.shrinkage / 10:g}"}

    def write(self, *, by: Person) -> None:
        said = self.cleaned_data
        changed = {name: said[name] for name in LENGTHS} | {"shrinkage": int(said["shrinkage"] * 10)}
        change_rules(self.shop, by=by, allowances={**self.shop.rules.get("allowances", {}), **changed})

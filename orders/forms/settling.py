"""The owner's terms for what comes after a yes: layout rounds, storage, calling off. Nothing is set alone."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import forms

from orders.forms.money import AmountField, as_typed
from orders.forms.workroom import DECIMAL, Part, in_per_cent, of_one
from orders.models import Person, Shop
from orders.workroom import change_facts

STAGES = (
    ("before cloth", "Called off before cloth is bought"),
    ("cloth bought", "Called off after cloth is bought"),
    ("cut", "Called off after the first cut"),
)
TOGETHER = {
    "rounds": ("included", "round_each"),
    "storage": ("free", "a_day", "most"),
}


class SettlingPart(Part):
    title = "After the yes"
    lead = "What is proposed on an account later. Leave a part empty, and nothing of it is ever proposed."
    note = (
        "Write the same in your terms: an account follows what stood on the quote when it was agreed. "
        "What you may keep, and what storage you may ask, differs by place: ask somebody who knows the law."
    )

    included = forms.IntegerField(
        label="Changes of the picture in the price", required=False, min_value=0, max_value=20
    )
    free = forms.IntegerField(
        label="Days kept free once it is ready", required=False, min_value=0, max_value=3650
    )

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, shop=shop, **kwargs)
        money: dict[str, Any] = {"currency": shop.currency, "required": False}
        self.fields["round_each"] = AmountField(label="Each change more", **money)
        self.fields["a_day"] = AmountField(label="A day after that", **money)
        self.fields["most"] = AmountField(label="In all, at most", **money)
        for number in range(len(STAGES)):
            self.fields[f"fee-{number}"] = AmountField(label="A fee", **money)
            self.fields[f"share-{number}"] = forms.CharField(
                label="and per cent of the price", required=False, widget=forms.TextInput(DECIMAL)
            )
            self.fields[f"materials-{number}"] = forms.BooleanField(
                label="and what was bought for it", required=False
            )

    def rows(self) -> list[dict[str, Any]]:
        """Return the parts for the page: what each is about, and its bound fields."""
        stages = [
            (words, (f"fee-{n}", f"share-{n}", f"materials-{n}")) for n, (_, words) in enumerate(STAGES)
        ]
        parts = [("Layout rounds", TOGETHER["rounds"]), ("Storage", TOGETHER["storage"]), *stages]
        return [{"label": words, "fields": [self[name] for name in names]} for words, names in parts]

    def read(self, shop: Shop) -> dict[str, Any]:
        said = shop.settling
        typed: dict[str, Any] = {}
        if rounds := said.get("rounds"):
            typed |= {"included": rounds["included"], "round_each": as_typed(rounds["each"], shop.currency)}
        if storage := said.get("storage"):
            amounts = {name: as_typed(storage[name], shop.currency) for name in ("a_day", "most")}
            typed |= {"free": storage["free"], **amounts}
        for number, (stage, _) in enumerate(STAGES):
            if kept := said.get("called_off", {}).get(stage):
                typed[f"fee-{number}"] = as_typed(kept["fee"], shop.currency) if kept["fee"] else ""
                typed[f"share-{number}"] = in_per_cent(kept["share"])
                typed[f"materials-{number}"] = kept["materials"]
        return typed

    def clean(self) -> None:
        said = self.cleaned_data
        for names in TOGETHER.values():
            given = [name for name in names if said.get(name) is not None]
            for name in set(names) - set(given) if given else ():
                if not self.has_error(name):
                    self.add_error(name, "Give this too, or leave the others empty.")
        if said.get("most") and said.get("a_day") and said["most"] < said["a_day"]:
            self.add_error("most", "At most must be at least one day’s storage.")
        for number in range(len(STAGES)):
            self._clean_share(f"share-{number}")

    def _clean_share(self, name: str) -> None:
        typed = self.cleaned_data.get(name) or ""
        try:
            share = of_one(typed) if typed else ""
            if share and Decimal(share) > 1:
                raise forms.ValidationError("Give at most 100 per cent.")
        except forms.ValidationError as fault:
            self.add_error(name, fault)
        else:
            self.cleaned_data[name] = share

    def write(self, *, by: Person) -> None:
        change_facts(self.shop, by=by, settling=self.settling)

    @property
    def settling(self) -> dict[str, Any]:
        """The terms as the shop keeps them; money in minor units, shares as exact decimals."""
        said, kept = self.cleaned_data, {}
        if said["included"] is not None:
            kept["rounds"] = {"included": said["included"], "each": said["round_each"]}
        if said["free"] is not None:
            kept["storage"] = {name: said[name] for name in TOGETHER["storage"]}
        stages = {stage: self._kept_at(number) for number, (stage, _) in enumerate(STAGES)}
        if any(stages.values()):
            kept["called_off"] = {stage: at or _NOTHING for stage, at in stages.items()}
        return kept

    def _kept_at(self, number: int) -> dict[str, Any]:
        fee, share, materials = (
            self.cleaned_data[f"{name}-{number}"] for name in ("fee", "share", "materials")
        )
        if not (fee or share or materials):
            return {}
        return {"fee": fee or 0, "share": share or "0", "materials": materials}


_NOTHING = {"fee": 0, "share": "0", "materials": False}

"""How long the shop keeps what nobody needs any more."""

from __future__ import annotations

from typing import Any

from django import forms

from orders.forms.workroom import Part
from orders.models import Person, Shop
from orders.workroom import change_facts


class KeptPart(Part):
    title = "What is kept of whom"
    lead = "Enquiries that never became an order hold names and ways to reach people."
    note = (
        "Forgotten are the name, how to reach them and what they wrote, with mails and estimates; not while "
        "a place is penciled in. An order and its customer are forgotten by hand alone: see Customers. How "
        "long you may or must keep something is for local law to say."
    )

    days = forms.IntegerField(
        label="Forget enquiries after, days", required=False, min_value=30, max_value=3650,
        help_text="Counted from the day they asked. Empty: they stay until you forget them.",
        error_messages={"min_value": "At least 30 days, or leave it empty."},
    )  # fmt: skip

    def read(self, shop: Shop) -> dict[str, Any]:
        return {"days": shop.enquiries_kept_days}

    def write(self, *, by: Person) -> None:
        change_facts(self.shop, by=by, enquiries_kept_days=self.cleaned_data["days"])

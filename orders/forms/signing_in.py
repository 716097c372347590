"""How long a device that nobody uses stays signed in."""

from __future__ import annotations

from typing import Any

from django import forms

from orders.forms.workroom import Part
from orders.models import Person, Shop
from orders.models.sign_in import LONGEST
from orders.workroom import let_stay

MONEY = "It opens the money and how to reach everybody."
TABLET = "Such as the tablet at the bench."
MOST = {role: longest.days for role, longest in LONGEST.items()}


def days(label: str, most: int, help_text: str) -> forms.IntegerField:
    said = f"From 1 to {most} days."
    messages = {"required": said, "invalid": said, "min_value": said, "max_value": said}
    return forms.IntegerField(
        label=label, min_value=1, max_value=most, help_text=help_text, error_messages=messages
    )


class SigningInPart(Part):
    title = "Signing in"
    lead = "A device that nobody uses for so long asks for the password again."
    note = (
        "However much it is used, yours asks again after 30 days, and a helper’s after a year. "
        "Where somebody is signed in now, and how to end it, stands under “Where you are signed in”."
    )

    owner = days("Yours, days without use", MOST[Person.Role.OWNER], MONEY)
    helper = days("A helper’s, days without use", MOST[Person.Role.HELPER], TABLET)

    def read(self, shop: Shop) -> dict[str, Any]:
        return {"owner": shop.owner_stays_days, "helper": shop.helper_stays_days}

    def write(self, *, by: Person) -> None:
        let_stay(self.shop, owner=self.cleaned_data["owner"], helper=self.cleaned_data["helper"], by=by)

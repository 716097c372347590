"""Words to a customer: edited, mailed, or written down as having gone another way."""

from __future__ import annotations

from typing import Any

from django import forms

from orders.customer.drafts import HELLO
from orders.customer.standing import KINDS, switched_on
from orders.forms.workroom import Part
from orders.models import Message, Person, Shop
from orders.workroom import change_facts

GAP = "Something is left to fill in where the … stands."
LOGGED = [each for each in Message.How.choices if each[0] != Message.How.MAIL]


def _when(days: tuple[int, ...]) -> str:
    return "" if days == (0,) else f", after {' and '.join(map(str, days))} days"


class WordsForm(forms.Form):
    """The words as she edited them. `client_id` makes a form that is sent twice one mail."""

    kind = forms.CharField(max_length=20, widget=forms.HiddenInput)
    client_id = forms.CharField(max_length=60, widget=forms.HiddenInput)
    subject = forms.CharField(
        label="Subject of a mail", max_length=120, error_messages={"required": "Give it a subject."}
    )
    words = forms.CharField(
        label="Words", max_length=4000, widget=forms.Textarea,
        error_messages={"required": "There are no words yet."},
    )  # fmt: skip

    def clean_words(self) -> str:
        """What still has a gap does not go out."""
        words: str = self.cleaned_data["words"].replace("\r\n", "\n")
        if "…" in words:
            raise forms.ValidationError(GAP)
        return words


class WentForm(forms.Form):
    """Words that reached her another way; a call or a talk needs none, only the tap."""

    kind = forms.CharField(max_length=20, required=False)
    how = forms.ChoiceField(choices=LOGGED, error_messages={"required": "Tap how they went."})
    words = forms.CharField(max_length=4000, required=False)

    def clean_words(self) -> str:
        """Return what was said; of a call or talk nothing but that it was."""
        return str(self.cleaned_data["words"]).replace("\r\n", "\n")

    def clean(self) -> None:
        """A text or a letter had words."""
        said = self.cleaned_data
        if not said.get("words") and said.get("how") in (Message.How.TEXT, Message.How.LETTER):
            self.add_error("words", "There are no words yet.")


class WordsPart(Part):
    title = "Words to customers"
    lead = "How your words begin and end, and which may go by themselves."
    note = (
        "Nothing goes out without your tap unless its kind is switched on here, and then only by mail. "
        "Nothing goes by itself about a quilt in memory of somebody, before a surprise, or while something "
        "that went wrong is not settled."
    )

    hello = forms.CharField(label="Begins with", max_length=40, required=False, help_text="Before the name.")
    bye = forms.CharField(
        label="Ends with", max_length=200, required=False, widget=forms.Textarea,
        help_text="Your name and the shop’s, as you sign.",
    )  # fmt: skip

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, shop=shop, **kwargs)
        for kind, (words, days) in KINDS.items():
            label = f"Mail by itself: {words[0].lower()}{words[1:]}{_when(days)}"
            self.fields[kind] = forms.BooleanField(label=label, required=False)

    def read(self, shop: Shop) -> dict[str, Any]:
        said = shop.words
        return {
            "hello": said.get("hello", HELLO),
            "bye": said.get("bye", ""),
            **dict.fromkeys(switched_on(shop), True),
        }

    def write(self, *, by: Person) -> None:
        said = self.cleaned_data
        words = {
            "hello": said["hello"],
            "bye": said["bye"].replace("\r\n", "\n"),
            "alone": [kind for kind in KINDS if said[kind]],
        }
        change_facts(self.shop, by=by, words=words)

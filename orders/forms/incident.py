"""What is asked when something is not right: one word and a photo; more only when there is time."""

from __future__ import annotations

from typing import Any

from django import forms

from orders.bag.incidents import WAYS_ON, ways_for
from orders.bench.ways_on import WAYS, pieces_meant
from orders.models import Block, Incident, Piece

PHOTO = {"accept": "image/*", "capture": "environment"}


class NotRightForm(forms.Form):
    """At the bench: what it is, to which block, out of which batch."""

    what = forms.ChoiceField(
        choices=Incident.What.choices, error_messages={"required": "Tap the word that is nearest."}
    )
    block = forms.TypedChoiceField(coerce=int, choices=[], required=False, empty_value=None)
    batch = forms.TypedMultipleChoiceField(coerce=int, choices=[], required=False)
    photo = forms.FileField(
        label="Photo", required=False, widget=forms.FileInput(attrs=PHOTO),
        error_messages={"empty": "This file is empty. Choose the photo again."},
    )  # fmt: skip
    client_id = forms.CharField(max_length=64, required=False, widget=forms.HiddenInput)

    def __init__(self, *args: Any, blocks: list[Block], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.blocks = {block.pk: block for block in blocks}
        for name in ("block", "batch"):
            self.fields[name].choices = [(pk, pk) for pk in self.blocks]  # type: ignore[attr-defined]

    @property
    def block_meant(self) -> Block | None:
        """The block it happened to; none where nobody said."""
        chosen = self.cleaned_data.get("block")
        return self.blocks.get(chosen) if chosen else None

    @property
    def batch_stopped(self) -> tuple[Block, ...]:
        """Every block of the batch."""
        return tuple(self.blocks[pk] for pk in self.cleaned_data.get("batch") or [])


class MoreForm(forms.Form):
    """What happened, in words, when there is time for it."""

    turned_to = forms.CharField(
        label="What it was turned to", max_length=80, required=False,
        help_text="Only if you know, such as three dots.",
    )  # fmt: skip
    words = forms.CharField(
        label="What happened", required=False, widget=forms.Textarea, max_length=2000,
        help_text="What you saw, not whose hand it was.",
    )  # fmt: skip
    photo = forms.FileField(
        label="A photo of it", required=False, widget=forms.FileInput(attrs=PHOTO),
        error_messages={"empty": "This file is empty. Choose the photo again."},
    )  # fmt: skip


class ToldForm(forms.Form):
    """The customer was told, and what was said."""

    how = forms.ChoiceField(
        label="How it was told", choices=Incident.How.choices, widget=forms.RadioSelect,
        error_messages={"required": "Tap how the customer was told."},
    )  # fmt: skip
    words = forms.CharField(
        label="What was said", widget=forms.Textarea, max_length=2000,
        error_messages={"required": "Write what was said, in a sentence."},
    )  # fmt: skip
    answer = forms.CharField(label="The answer", required=False, widget=forms.Textarea, max_length=2000)


class EndForm(forms.Form):
    """How it ended."""

    outcome = forms.ChoiceField(
        label="How it goes on",
        choices=[(name.value, name.label.capitalize()) for name in WAYS_ON],
        widget=forms.RadioSelect,
        error_messages={"required": "Tap how it goes on."},
    )

    def __init__(self, *args: Any, of: Incident | None = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.pieces: dict[str, Piece] = {}
        if of is not None:
            ways = [(name.value, name.label.capitalize()) for name in ways_for(of)]
            self.fields["outcome"].choices = ways  # type: ignore[attr-defined]
            self._ask_which_piece(of)

    def _ask_which_piece(self, of: Incident) -> None:
        self.pieces = {str(piece.pk): piece for piece in pieces_meant(of)}
        if self.pieces:
            named = [(pk, f"{of.order.number}-{piece.name}") for pk, piece in self.pieces.items()]
            self.fields["piece"] = forms.ChoiceField(
                label="Which piece of the block it was", choices=named, widget=forms.RadioSelect,
                required=False, help_text="Wanted where another piece takes its place.",
            )  # fmt: skip
            self.order_fields(("piece", "outcome"))

    def clean(self) -> None:
        """What takes the place of a piece has to know of which."""
        super().clean()
        if self.pieces and not self.piece_meant and self.cleaned_data.get("outcome") in WAYS:
            self.add_error("piece", "Several pieces share this block. Tap the one it was.")

    @property
    def piece_meant(self) -> Piece | None:
        """The piece it happened to, where the block holds several and one was tapped."""
        return self.pieces.get(self.cleaned_data.get("piece", ""))


class NeedleForm(forms.Form):
    """A needle broke: whether every piece of it was found."""

    found = forms.ChoiceField(
        choices=[("yes", "yes"), ("no", "no")],
        error_messages={"required": "Tap whether all of it was found."},
    )

"""One garment as it is logged: a photo, three taps, and what else is told at the table."""

from __future__ import annotations

from django import forms

from orders.bag.intake import Said
from orders.bag.kinds import KINDS, kind_of
from orders.bag.panels import counted
from orders.forms.shirt_words import FEELS
from orders.forms.told import PLAIN, ToldForm
from orders.models import Bag, Shirt

MOST_NUMBER, MOST_GARMENTS = 999, 60
KEEPS = [("front", "Front"), ("back", "Back"), ("both", "Both")]


class LogForm(ToldForm):
    """What is tapped for one line of the log. Kind and side are carried on from the line before.

    The feel never is: a print that nobody has felt must not take its neighbor's heat.
    """

    client_id = forms.CharField(max_length=64, required=False, widget=forms.HiddenInput)
    offered = forms.IntegerField(required=False, widget=forms.HiddenInput)
    number = forms.IntegerField(
        label="Number on its tag",
        required=False,
        min_value=1,
        max_value=MOST_NUMBER,
        error_messages=dict.fromkeys(
            ("invalid", "min_value", "max_value"), f"A tag has a number from 1 to {MOST_NUMBER}."
        ),
    )
    photo = forms.FileField(
        label="Photo",
        required=False,
        widget=forms.FileInput(attrs={"accept": "image/*", "capture": "environment"}),
        error_messages={"empty": "This file is empty. Take the photo again."},
    )
    kind = forms.ChoiceField(
        label="What is it?",
        choices=[(kind.word, kind.label) for kind in KINDS],
        widget=forms.RadioSelect,
        initial=KINDS[0].word,
        error_messages={"required": "Tap what it is."},
    )
    keep = forms.ChoiceField(
        label="Which print do we keep?",
        choices=KEEPS,
        widget=forms.RadioSelect,
        initial="front",
        error_messages={"required": "Tap which print is kept."},
    )
    feel = forms.ChoiceField(
        label="How does the print feel?",
        choices=FEELS,
        widget=forms.RadioSelect,
        initial="unknown",
        error_messages={"required": "Tap how it feels, or Not felt yet."},
    )
    garments = forms.IntegerField(
        label="Garments on this tag",
        required=False,
        initial=1,
        min_value=1,
        max_value=MOST_GARMENTS,
        help_text="More than one: tiny ones together, or a pair.",
        error_messages=dict.fromkeys(
            ("invalid", "min_value", "max_value"), f"A line is of 1 to {MOST_GARMENTS} garments."
        ),
    )
    guest = forms.BooleanField(
        label="It matches no line: a guest",
        required=False,
        help_text="Counted apart until somebody claims it.",
    )
    apart = forms.ChoiceField(
        label="Keep it apart for",
        required=False,
        choices=[
            ("", "Nothing"),
            ("smell", "Smell"),
            ("insects", "Insects"),
            ("soiled", "Soiled"),
            ("mold", "Mold"),
        ],
        widget=forms.RadioSelect,
    )

    def clean_garments(self) -> int:
        """A line that says nothing of it is of one garment."""
        return self.cleaned_data["garments"] or 1

    def is_untouched(self, carried: dict[str, str]) -> bool:
        """Say whether nothing was given: no photo, and every tap as it was offered."""
        said = self.cleaned_data
        as_offered = all(
            said[name] == carried.get(name, self.fields[name].initial) for name in ("kind", "keep")
        )
        told = any(said[name] for name in (*PLAIN, "guest", "apart") if name != "wash")
        return as_offered and said["feel"] == "unknown" and not (said["photo"] or told)

    @property
    def said(self) -> Said:
        """Return what was tapped and told."""
        given = self.cleaned_data
        told = {name: given[name] for name in (*PLAIN, "apart") if given[name]}
        names = ("kind", "keep", "feel", "number", "offered", "garments", "guest")
        return Said(**{name: given[name] for name in names}, facts=told | self.label)

    @staticmethod
    def carried(bag: Bag) -> dict[str, str]:
        """Return the taps that the line before had: what lies on one pile is mostly alike."""
        last = max(bag.shirts.all(), key=lambda each: (each.logged_at, each.pk), default=None)
        if last is None or last.kind not in {kind.word for kind in KINDS}:
            return {}
        return {"kind": last.kind} | _keep_of(last)


def _keep_of(shirt: Shirt) -> dict[str, str]:
    sides = {counted(piece.side)[0] for piece in shirt.pieces.all()}
    kind = kind_of(shirt.kind)
    return next(({"keep": keep} for keep, _ in KEEPS if set(kind.sides(keep)) == sides), {})

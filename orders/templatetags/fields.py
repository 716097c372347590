"""Form fields with their label above, a hint, and the fault below, bound together for everyone."""

from __future__ import annotations

from typing import Any

from django import forms, template
from django.forms.boundfield import BoundField
from django.utils.safestring import SafeString

register = template.Library()

# What is typed here is about others, so the browser keeps none of it unless a form asks it to.
NOT_REMEMBERED = "off"
CHOICES = (forms.RadioSelect, forms.CheckboxSelectMultiple)
FILES = (forms.FileInput,)
FRACTIONAL = (forms.DecimalField, forms.FloatField)
# Chips side by side on the narrowest phone, and the letters of a word that one of them holds.
LETTERS_ACROSS = {4: 7, 3: 10, 2: 16}


@register.inclusion_tag("parts/field.html")
def field(bound: BoundField, *, hint: str = "", unit: str = "", half: bool = False) -> dict[str, Any]:
    """Draw one field of a form; `unit` stands at the end of its box, `half` lets two share a row."""
    said = str(hint or bound.help_text)
    fault = str(bound.errors[0]) if bound.errors else ""
    described_by = " ".join(
        f"{bound.auto_id}-{name}"
        for name, words in (("unit", unit), ("hint", said), ("fault", fault))
        if words
    )
    return {
        "bound": bound,
        "hint": said,
        "fault": fault,
        "unit": unit,
        "half": half,
        "kind": kind_of(bound),
        "across": across(bound),
        "control": control(bound, described_by=described_by),
        "described_by": described_by,
    }


def kind_of(bound: BoundField) -> str:
    """Return which of the four forms a field takes: choices, check, file or line."""
    widget = bound.field.widget
    if isinstance(widget, CHOICES):
        return "choices"
    if isinstance(widget, forms.CheckboxInput):
        return "check"
    return "file" if isinstance(widget, FILES) else "line"


def across(bound: BoundField) -> int:
    """Return how many chips stand side by side, even on a phone; 0 lets the width decide."""
    if kind_of(bound) != "choices":
        return 0
    labels = [str(choice.choice_label) for choice in bound.subwidgets]
    longest = max((len(word) for label in labels for word in label.split()), default=0)
    fitting = [n for n, letters in LETTERS_ACROSS.items() if n <= len(labels) and longest <= letters]
    return min(fitting, key=lambda n: (-len(labels) % n, -n), default=0)


def control(bound: BoundField, *, described_by: str) -> SafeString | list[Any]:
    """Return the control itself, or one for each choice."""
    attributes: dict[str, Any] = {}
    if described_by:
        attributes["aria-describedby"] = described_by
    if bound.errors:
        attributes["aria-invalid"] = "true"
    if kind_of(bound) == "choices":
        return list(bound.subwidgets)
    _suit_phones(bound.field, attributes)
    return bound.as_widget(attrs=attributes)


def _suit_phones(of: forms.Field, attributes: dict[str, Any]) -> None:
    widget = of.widget
    if isinstance(widget, forms.DateInput):
        widget.input_type, widget.format = "date", "%Y-%m-%d"
    if isinstance(widget, forms.TimeInput):
        widget.input_type, widget.format = "time", "%H:%M"
    if isinstance(widget, forms.NumberInput):
        attributes["inputmode"] = "decimal" if isinstance(of, FRACTIONAL) else "numeric"
    attributes["autocomplete"] = widget.attrs.get("autocomplete", NOT_REMEMBERED)
    if isinstance(widget, forms.Textarea):
        attributes["rows"] = 4
    if "inputmode" in widget.attrs:
        attributes["inputmode"] = widget.attrs["inputmode"]


@register.inclusion_tag("parts/faults.html")
def faults(form: forms.BaseForm) -> dict[str, Any]:
    """List what has to be put right, at the top of a form that came back, each linked to its field."""
    of_fields = [(bound, bound.errors[0]) for bound in form if bound.errors]
    return {"of_fields": of_fields, "of_form": form.non_field_errors()}

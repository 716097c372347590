"""How to reach a customer, what may be shown of theirs, and the one word that forgets them."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.validators import MaxLengthValidator

from orders.models import Customer
from orders.models.people import fold_name


class CustomerForm(forms.ModelForm):
    """Contact and leave. Pictures are not shown unless it is ticked, nor names without pictures."""

    seen = forms.IntegerField(widget=forms.HiddenInput, min_value=1)

    class Meta:
        model = Customer
        fields = (
            "name",
            "phone",
            "email",
            "address",
            "notes",
            "may_show_pictures",
            "may_show_names",
            "keep_quiet_until",
        )
        labels = {
            "name": "Name",
            "phone": "Phone",
            "email": "Mail",
            "address": "Address",
            "notes": "Notes",
            "may_show_pictures": "The finished quilt may be shown and posted",
            "may_show_names": "Names, faces, schools and team numbers may be read on it",
            "keep_quiet_until": "Not before",
        }
        help_texts = {
            "address": "Only if something is sent there.",
            "keep_quiet_until": "A surprise: until that day nothing is sent to them and nothing is shown.",
        }
        widgets = {
            "address": forms.Textarea(attrs={"rows": 3}),
            "notes": forms.Textarea(attrs={"rows": 3}),
            "keep_quiet_until": forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        }
        error_messages = {
            "name": {"required": "Type a name, or what you call them."},
            "email": {"invalid": "Type a whole mail address, such as name@example.org, or leave it empty."},
            "keep_quiet_until": {"invalid": "Choose a day, or leave it empty."},
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["seen"].initial = self.instance.version
        for name in ("address", "notes"):
            self.fields[name].max_length = 2000  # type: ignore[attr-defined]
            self.fields[name].validators.append(MaxLengthValidator(2000))

    def clean(self) -> dict[str, Any]:
        said = super().clean() or {}
        if said.get("may_show_names") and not said.get("may_show_pictures"):
            self.add_error("may_show_names", "Without pictures there are no names to be read. Tick both.")
        return said

    @property
    def written(self) -> dict[str, Any]:
        """What is to be kept."""
        return {name: self.cleaned_data[name] for name in self.Meta.fields}


class ForgettingForm(forms.Form):
    """Typing the name is the second thought."""

    seen = forms.IntegerField(widget=forms.HiddenInput, min_value=1)
    name = forms.CharField(
        label="Type the name to forget it",
        max_length=120,
        error_messages={"required": "Type the name as it stands above."},
    )

    def __init__(self, *args: Any, customer: Customer, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.customer = customer
        self.fields["seen"].initial = customer.version

    def clean_name(self) -> str:
        typed: str = self.cleaned_data["name"]
        if fold_name(typed) != fold_name(self.customer.name):
            raise forms.ValidationError("This is not the name that stands above. Nothing was forgotten.")
        return typed

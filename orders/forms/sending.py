"""Words that went out."""

from __future__ import annotations

from django import forms


class SentForm(forms.Form):
    words = forms.CharField(max_length=2000)

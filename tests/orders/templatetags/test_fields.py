"""How many chips stand side by side."""

import pytest
from django import forms

from orders.templatetags.fields import across


def chips(*labels):
    choices = [(label, label) for label in labels]

    class Form(forms.Form):
        one = forms.ChoiceField(choices=choices, widget=forms.RadioSelect)

    return Form()["one"]


@pytest.mark.parametrize(
    ("labels", "beside"),
    [
        (["Quilt", "Wall piece", "Pillow", "Repair"], 4),
        (["Rubbery", "Smooth film", "Shiny", "Raised", "Nothing", "Not felt yet"], 3),
        (["One", "Two", "Three", "Four", "Five"], 3),
        (["Brought", "Parcel"], 2),
        (["Stabilized", "Sweatshirts", "Unstabilized"], 2),
        (["A-word-that-has-no-end", "Short"], 0),
        ([], 0),
    ],
)
def test_as_many_as_leave_no_hole_and_hold_their_longest_word(labels, beside):
    assert across(chips(*labels)) == beside

"""The books as CSV: no cell that a spreadsheet would run, however its first character is hidden."""

import csv
import io

import pytest

from orders.account import books_file
from orders.models import Customer, Entry

pytestmark = pytest.mark.django_db
SIGNS = ["=1+1", "+1", "-1", "@x", "\t=1", "\r=1", "\n=1", " =1", "  @x", "＝1+1", "＋1", "－1", "＠x"]


@pytest.mark.parametrize("name", SIGNS)
def test_a_payer_whose_name_begins_a_formula_is_text(agreed, name):
    """Common practice: some spreadsheets skip blanks and read full-width signs as plain ones."""
    entry = agreed.entries.get()
    entry.payer = Customer(name=name)
    text = books_file.as_csv(Entry.objects.none()) + books_file.as_csv([entry])
    rows = list(csv.reader(io.StringIO(text, newline="")))
    assert rows[-1][4] == f"'{name}"
    assert rows[-1][9] == "32.76", "an amount stays a number"

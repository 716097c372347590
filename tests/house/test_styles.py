"""The sheets stay small and each is linked; what a template draws is there."""

import re

from tests.conftest import ROOT

SHEETS = sorted((ROOT / "static" / "css").glob("*.css"))
TEMPLATES = [path for path in (ROOT / "templates").rglob("*") if path.is_file()]
MOST_LINES = 300


def test_a_sheet_can_be_read_at_one_go():
    assert [path.name for path in SHEETS if len(path.read_text().splitlines()) > MOST_LINES] == []


def test_every_sheet_is_linked_from_a_page_or_set_by_the_press():
    linked = " ".join(path.read_text() for path in TEMPLATES)
    by_the_press = " ".join(path.read_text() for path in (ROOT / "orders" / "papers").rglob("*.py"))
    assert [s.name for s in SHEETS if f"css/{s.name}" not in linked and s.name not in by_the_press] == []


def test_every_icon_that_a_template_draws_is_on_the_sheet():
    there = set(re.findall(r'<symbol id="([a-z]+)"', (ROOT / "static" / "icons.svg").read_text()))
    drawn = {name for path in TEMPLATES for name in re.findall(r'{% icon "(\w+)"', path.read_text())}
    assert drawn <= there

"""The table of ASVS level 1 names every requirement, and every test that it names is there.

Source: OWASP ASVS 5.0.0 (30 May 2025), the requirements marked level 1, counted in its text: 70.
"""

from __future__ import annotations

import ast
import re
from collections import Counter

import pytest

from tests.conftest import ROOT

# By chapter.
NUMBERS = {
    1: "2.1 2.2 2.3 2.4 2.5 3.1 3.2 5.1",
    2: "1.1 2.1 2.2 3.1",
    3: "2.1 2.2 3.1 4.1 4.2 5.1 5.2 5.3",
    4: "1.1 4.1",
    5: "2.1 2.2 3.1 3.2",
    6: "1.1 2.1 2.2 2.3 2.4 2.5 2.6 2.7 2.8 3.1 3.2 4.1 4.2",
    7: "2.1 2.2 2.3 2.4 4.1 4.2",
    8: "1.1 2.1 2.2 3.1",
    9: "1.1 1.2 1.3 2.1",
    10: "4.1 4.2 4.3 4.4 4.5",
    11: "3.1 3.2 4.1",
    12: "1.1 2.1 2.2",
    13: "4.1",
    14: "2.1 3.1",
    15: "1.1 2.1 3.1",
}
LEVEL_1 = [f"{chapter}.{rest}" for chapter, all_of in NUMBERS.items() for rest in all_of.split()]
STANDS = ("met", "not here", "left to the host", "not met")
TEST = re.compile(r"`(tests/[\w/]+\.py)::(\w+)`")


def rows_of(text):
    found = re.findall(r"^\| (\d+\.\d+\.\d+) \| *(.*?) *\| *(.*?) *\| *(.*?) *\|$", text, re.M)
    return [(number, about, stands, why) for number, about, stands, why in found]


@pytest.fixture
def rows():
    return rows_of((ROOT / "docs" / "reference" / "asvs.md").read_text())


def amiss(rows):
    """Say what is wrong with a table."""
    counted = Counter(number for number, *_ in rows)
    yield from (f"{number} stands there {times} times" for number, times in counted.items() if times > 1)
    yield from (f"{number} is lacking" for number in LEVEL_1 if number not in counted)
    yield from (f"{number} is not of level 1" for number in counted if number not in LEVEL_1)
    for number, about, stands, why in rows:
        if not about or len(why) < 8 or stands not in STANDS:
            yield f"{number} says nothing"
        if stands == "met" and not TEST.search(why) and "](" not in why:
            yield f"{number} names neither a test nor a page"
        yield from (
            f"{number} names {file}::{test}" for file, test in TEST.findall(why) if not is_there(file, test)
        )


def is_there(file, test):
    if not (ROOT / file).is_file():
        return False
    body = ast.parse((ROOT / file).read_text()).body
    return any(isinstance(each, ast.FunctionDef) and each.name == test for each in body)


def test_every_requirement_of_level_1_has_its_row_and_its_reason(rows):
    assert len(LEVEL_1) == 70
    assert list(amiss(rows)) == []


@pytest.mark.parametrize(
    ("bad", "said"),
    [
        ("| 1.2.1 | words | met | |", "1.2.1 says nothing"),
        ("| 1.2.1 | words | perhaps | `tests/cast.py::shop` |", "1.2.1 says nothing"),
        ("| 1.2.1 | words | met | it just is so |", "1.2.1 names neither a test nor a page"),
        (
            "| 1.2.1 | words | met | `tests/cast.py::test_nothing` |",
            "1.2.1 names tests/cast.py::test_nothing",
        ),
        ("| 1.9.1 | words | not here | there is none |", "1.9.1 is not of level 1"),
    ],
)
def test_a_row_that_shows_nothing_is_noticed(bad, said):
    assert said in list(amiss(rows_of(bad)))
    assert "1.2.2 is lacking" in list(amiss(rows_of(bad)))

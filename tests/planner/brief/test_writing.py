"""The answer as JSON, and the schema of the question."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from typing import Any

import jsonschema
import pytest

from planner.brief import as_json, brief_schema
from planner.units import Money, Rate
from tests.conftest import ROOT
from tests.planner.plan.samples import FERNCLIFF, NAMES, as_it_is, first, written

SCHEMA = ROOT / "docs" / "reference" / "brief-schema.json"
PAGE = ROOT / "docs" / "reference" / "brief.md"
REFRESH = (
    ".venv/bin/python -c 'import json; from planner.brief import brief_schema;"
    " print(json.dumps(brief_schema(), indent=1, ensure_ascii=False))' > docs/reference/brief-schema.json"
)
MAY_BE_FLOATS = {"lab", "share", "confidence", "value", "busy", "scale", "spread"}


def leaves(node: Any, name: str = "") -> Iterator[tuple[str, Any]]:
    if isinstance(node, dict):
        for key, value in node.items():
            assert type(key) is str
            yield from leaves(value, key)
    elif isinstance(node, list):
        for value in node:
            yield from leaves(value, name)
    else:
        yield name, node


@pytest.mark.parametrize(
    ("value", "json_value"),
    [
        (Money(50718, "USD"), 50718),
        (Rate(Decimal("0.32"), "USD", "in2"), {"minor": "0.32", "per": "in2"}),
        (Decimal("0.07"), "0.07"),
        (date(2027, 5, 22), "2027-05-22"),
        (frozenset(["white"]), ["white"]),
        ((1, (2, None)), [1, [2, None]]),
        ({1: True}, {"1": True}),
    ],
    ids=str,
)
def test_each_kind_of_value_has_one_way_to_be_written(value: object, json_value: object) -> None:
    assert as_json(value) == json_value


@pytest.mark.parametrize("name", NAMES)
def test_an_answer_holds_plain_values_and_floats_only_for_spreads_and_colors(name: str) -> None:
    brief, answer = as_it_is(name)
    found = [*leaves(as_json(brief)), *leaves(as_json(answer))]
    assert {type(value) for _, value in found} <= {int, str, bool, float, type(None)}
    assert {key for key, value in found if type(value) is float} <= MAY_BE_FLOATS
    assert len(found) > 1000


@pytest.mark.parametrize("name", NAMES)
def test_an_answer_is_json(name: str) -> None:
    answer = as_json(as_it_is(name)[1])
    assert json.loads(json.dumps(answer, allow_nan=False)) == answer


def test_money_and_lengths_of_an_answer_are_whole_numbers() -> None:
    offer = first(as_it_is(FERNCLIFF)[1])
    written_offer = as_json(offer)
    assert written_offer["pricing"]["total"] == 50718
    assert written_offer["layout"]["quilt"]["size"] == {"width": 406400, "height": 536448}  # 50 × 66 in
    assert written_offer["promise"]["day"] == offer.promise.day


def test_the_schema_in_the_docs_is_the_one_the_reader_follows() -> None:
    kept = json.loads(SCHEMA.read_text(encoding="utf-8"))
    assert kept == brief_schema(), f"Write it anew: {REFRESH}"


def test_the_schema_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(brief_schema())


@pytest.mark.parametrize("name", NAMES)
def test_every_brief_of_the_docs_fits_the_schema(name: str) -> None:
    checker = jsonschema.Draft202012Validator(brief_schema(), format_checker=jsonschema.FormatChecker())
    assert [fault.message for fault in checker.iter_errors(written(name))] == []


def test_the_page_on_briefs_names_every_field_at_the_top() -> None:
    page = PAGE.read_text(encoding="utf-8")
    assert [name for name in brief_schema()["properties"] if f"`{name}`" not in page] == []
    for part in ("ShopRules", "Wish", "Step", "OutsideQuilter", "Workload", "Garment", "Piece", "Cloth"):
        fields = brief_schema()["$defs"][part]["properties"]
        assert [name for name in fields if f"`{name}`" not in page] == [], part


def test_the_page_on_briefs_names_how_the_schema_is_written_anew() -> None:
    assert REFRESH in PAGE.read_text(encoding="utf-8")

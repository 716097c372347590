"""A brief that makes no sense is refused, and the fault is named by its place."""

from __future__ import annotations

import json
import math
import random
from dataclasses import replace
from typing import Any

import jsonschema
import pytest

from planner.brief import Brief, brief_schema, read_brief
from planner.problems import BadInput
from planner.units import Money
from tests.planner.plan.samples import CINDER_CROSS, FERNCLIFF, NAMES, written

Place = tuple[str | int, ...]
GONE = object()

WRONG_TYPE: list[tuple[Place, Any, str]] = [
    (("bag",), [], "bag"),
    (("bag", "garments"), {}, "bag.garments"),
    (("bag", "garments", 0), "01", "bag.garments[0]"),
    (("bag", "garments", 0, "id"), 1, "bag.garments[0].id"),
    (("bag", "garments", 0, "knit"), "yes", "bag.garments[0].knit"),
    (("bag", "garments", 0, "knit"), 1, "bag.garments[0].knit"),
    (("bag", "garments", 0, "fibres"), ["cotton"], "bag.garments[0].fibres"),
    (("bag", "garments", 0, "fibres", "cotton"), True, "bag.garments[0].fibres.cotton"),
    (("bag", "garments", 0, "fibres", "cotton"), 99.9, "bag.garments[0].fibres.cotton"),
    (("bag", "garments", 0, "flags"), "white", "bag.garments[0].flags"),
    (("bag", "pieces", 2, "print_size"), "12 x 11", "bag.pieces[2].print_size"),
    (("bag", "pieces", 2, "print_size", "width"), 12, "bag.pieces[2].print_size.width"),
    (("bag", "pieces", 2, "print_size", "width"), 12.5, "bag.pieces[2].print_size.width"),
    (("bag", "pieces", 2, "free", "top"), None, "bag.pieces[2].free.top"),
    (("shelf", 0, "price", "rate"), 12.5, "shelf[0].price.rate"),
    (("shelf", 0, "directional"), 0, "shelf[0].directional"),
    (("wish", "borders"), None, "wish.borders"),
    (("wish", "cloth"), [], "wish.cloth"),
    (("wish", "cloth", "selvage"), "black", "wish.cloth.selvage"),
    (("shop", "sundries"), 10, "shop.sundries"),
    (("shop", "overhead"), {"minor": 700, "per": "hour"}, "shop.overhead"),
    (("shop", "overhead", "per"), "day", "shop.overhead"),
    (("shop", "terms", "instalments"), True, "shop.terms.instalments"),
    (("shop", "terms", "instalments"), "1", "shop.terms.instalments"),
    (("shop", "terms", "taxes", 0, "rate"), 0.07, "shop.terms.taxes[0].rate"),
    (("shop", "standards", 3, "minutes"), "7 min", "shop.standards[3].minutes"),
    (("shop", "steps", 0, "people"), "maker", "shop.steps[0].people"),
    (("shop", "steps", 3, "after"), ["wash"], "shop.steps[3].after"),
    (("work", "days"), "139", "work.days"),
    (("work", "origin"), 0, "work.origin"),
    (("work", "stages", 1, "ready"), [0], "work.stages[1].ready"),
    (("work", "people", 0, "week"), "Mon-Fri", "work.people[0].week"),
    (("work", "people", 0, "week", 2), "300", "work.people[0].week[2]"),
    (("work", "people", 0, "week", 2), True, "work.people[0].week[2]"),
    (("work", "people", 0, "closed"), None, "work.people[0].closed"),
    (("work", "people", 0, "closed"), [5], "work.people[0].closed[0]"),
    (("work", "people", 0, "extra"), {"2027-04-01": 30.5}, "work.people[0].extra.2027-04-01"),
    (("work", "people", 0, "opens"), "9:00", "work.people[0].opens"),
    (("work", "people", 0, "id"), None, "work.people[0].id"),
    (("looks", "black", "palette", "ground", "lab"), "black", "looks.black.palette.ground.lab"),
    (("looks", "black", "value"), 0.1, "looks.black.value"),
    (("due",), 20270522, "due"),
    (("buffer",), "2", "buffer"),
    (("buffer",), None, "buffer"),
    (("quilt",), [], "quilt"),
    (("bag", "garments", 0, "fibers"), {"cotton": 100}, "bag.garments[0].fibers"),
    (("customer",), "somebody", "customer"),
    (("work", "people", 0, "holidays"), [], "work.people[0].holidays"),
    (("due",), GONE, "due"),
    (("unit",), GONE, "unit"),
    (("currency",), GONE, "currency"),
    (("work",), GONE, "work"),
    (("work", "origin"), GONE, "work"),
    (("bag", "pieces", 0, "side"), GONE, "bag.pieces[0].side"),
    (("work", "people", 0, "until"), GONE, "work.people[0].until"),
    (("unit",), "inch", "unit"),
    (("unit",), "yd", "unit"),
    (("currency",), "usd", "currency"),
    (("currency",), "XYZ", "currency"),
]

MAKES_NO_SENSE: list[tuple[Place, Any, str]] = [
    (("shelf", 0, "price"), 12.0, "shelf[0].price"),
    (("shop", "sundries"), 10.0, "shop.sundries"),
    (("work", "stages", 1, "minutes"), 1560.0, "work.stages[1].minutes"),
    (("bag", "garments", 0, "fibres", "cotton"), 95, "bag.garments[0].fibres"),
    (("bag", "garments", 0, "fibres"), {}, "bag.garments[0].fibres"),
    (("bag", "garments", 0, "stretch"), "some", "bag.garments[0].stretch"),
    (("bag", "garments", 1, "id"), "01", "bag.garments"),
    (("bag", "pieces", 1, "id"), "01", "bag.pieces"),
    (("bag", "pieces", 1, "garment"), "99", "bag.pieces[1].garment"),
    (("bag", "pieces", 0, "print_size", "width"), "12.3 in", "bag.pieces[0].print_size.width"),
    (("bag", "pieces", 0, "print_size", "width"), "twelve", "bag.pieces[0].print_size.width"),
    (("bag", "pieces", 0, "print_size", "width"), "-3", "bag.pieces[0].print_size.width"),
    (("bag", "pieces", 0, "print_size", "width"), "2 km", "bag.pieces[0].print_size.width"),
    (("bag", "pieces", 0, "print_size", "width"), "1101 m", "bag.pieces[0].print_size.width"),
    (("bag", "pieces", 0, "print_size", "width"), "1" * 5000, "bag.pieces[0].print_size.width"),
    (("shelf", 1, "id"), "black", "shelf"),
    (("shelf", 0, "usable"), "0", "shelf[0].usable"),
    (("shelf", 0, "price", "per"), "in2", "shelf[0].price.per"),
    (("shop", "sundries"), "10.005", "shop.sundries"),
    (("shop", "sundries"), "ten", "shop.sundries"),
    (("shop", "sundries"), "9" * 5000, "shop.sundries"),
    (("shop", "standards", 0, "per"), "shirt", "shop.standards[0].per"),
    (("shop", "standards", 0, "stage"), "iron", "shop.steps"),
    (("shop", "rules", 0, "kind"), "work", "shop.rules[0].kind"),
    (("shop", "overhead"), "7.00", "shop.overhead"),
    (("shop", "terms", "deposit"), "50", "shop.terms.deposit"),
    (("shop", "steps", 0, "people"), [], "shop.steps[0].people"),
    (("shop", "steps", 0, "people"), ["nobody"], "shop.steps[0].people"),
    (("shop", "steps", 10, "machine"), "press", "shop.steps[10].machine"),
    (("shop", "steps", 3, "after"), {"iron": 0}, "shop.steps[3].after"),
    (("wish", "cloth", "sashing"), "crimson", "wish.cloth.sashing"),
    (("wish", "blocks"), [], "wish.blocks"),
    (("wish", "style"), "spiral", "wish.style"),
    (("work", "people", 0, "week"), [300] * 6, "work.people[0].week"),
    (("work", "people", 0, "week", 2), -5, "work.people[0].week"),
    (("work", "people", 0, "week", 2), 1440, "work.people[0].week"),
    (("work", "people", 0, "extra"), {"2027-04-01": 1440}, "work.people[0].extra"),
    (("work", "people", 0, "until"), "2027-03-14", "work.people[0].until"),
    (("work", "people", 0, "until"), "2099-01-01", "work.people[0].until"),
    (("work", "people", 0, "until"), "2027-04-01", "work.people[0].minutes"),
    (("work", "people", 1, "id"), "maker", "work.people"),
    (("work", "stages", 0, "ready"), "2027-03-14", "work.stages[0].ready"),
    (("work", "stages", 0, "order"), "this quilt", "work.stages"),
    (("work", "dues", 0, "day"), "2027-02-30", "work.dues[0].day"),
    (("work", "dues", 0, "day"), "20270322", "work.dues[0].day"),
    (("work", "dues", 0, "order"), "this quilt", "work.dues"),
    (("work", "days"), 10**30, "work.days"),
    (("due",), "22 May 2027", "due"),
    (("due",), "2027-03-14", "due"),
    (("buffer",), -1, "buffer"),
    (("bag", "garments", 0, "kind"), "tee\nshirt", "bag.garments[0].kind"),
    (("bag", "garments", 0, "kind"), "tee\ud800", "bag.garments[0].kind"),
]


def put(brief: Any, place: Place, value: Any) -> Any:
    """The brief with one thing changed, or gone."""
    node = brief
    for step in place[:-1]:
        node = node[step]
    if value is GONE:
        del node[place[-1]]
    else:
        node[place[-1]] = value
    return brief


def fault_of(brief: object) -> BadInput:
    with pytest.raises(BadInput) as fault:
        read_brief(brief)
    return fault.value


def names(table: list[tuple[Place, Any, str]]) -> list[str]:
    return [f"{'.'.join(map(str, place))} {str(value)[:20]!a}" for place, value, _ in table]


def test_the_brief_that_is_spoiled_is_sound() -> None:
    assert isinstance(read_brief(written(FERNCLIFF)), Brief)


@pytest.mark.parametrize(
    ("place", "value", "field"), WRONG_TYPE + MAKES_NO_SENSE, ids=names(WRONG_TYPE + MAKES_NO_SENSE)
)
def test_a_fault_is_named_by_its_place(place: Place, value: Any, field: str) -> None:
    fault = fault_of(put(written(FERNCLIFF), place, value))
    found = fault.field
    assert found == field or found.startswith(f"{field}.") or found.startswith(f"{field}[")
    assert fault.message


@pytest.mark.parametrize(("place", "value", "field"), WRONG_TYPE, ids=names(WRONG_TYPE))
def test_what_is_of_the_wrong_type_fails_the_schema_too(place: Place, value: Any, field: str) -> None:
    checker = jsonschema.Draft202012Validator(brief_schema())
    assert not checker.is_valid(put(written(FERNCLIFF), place, value))


@pytest.mark.parametrize("brief", [None, [], "brief", 1, True, {}], ids=repr)
def test_what_is_no_object_with_fields_is_no_brief(brief: object) -> None:
    assert fault_of(brief).message


def test_a_length_off_the_grid_names_both_neighbors() -> None:
    """12.3 in lies between 19/64 and 20/64 of an inch."""
    fault = fault_of(put(written(FERNCLIFF), ("wish", "margin"), "12.3 in"))
    assert fault.field == "wish.margin"
    assert "12 19/64 in or 12 5/16 in" in fault.message


def test_prices_of_two_currencies_cannot_be_mixed() -> None:
    """Only one currency can be written in a brief; one built in Python is refused, too."""
    brief = read_brief(written(FERNCLIFF))
    with pytest.raises(BadInput) as fault:
        replace(brief, shop=replace(brief.shop, sundries=Money(1000, "EUR")))
    assert fault.value.field == "shop.sundries"


@pytest.mark.parametrize("word", ["NaN", "Infinity", "-Infinity", "1e400", "1.0", "12e0"])
def test_numbers_json_lets_through_are_refused_everywhere(word: str) -> None:
    number = json.loads(word)
    assert isinstance(number, float)
    for place in (("buffer",), ("shop", "sundries"), ("wish", "margin"), ("shop", "terms", "rush"), ("bag",)):
        assert fault_of(put(written(FERNCLIFF), place, number)).field == ".".join(place)
    assert math.isinf(number) or math.isnan(number) or number in (1, 12)


def test_a_quilt_of_pieces_that_are_not_in_the_bag_is_refused() -> None:
    fault = fault_of(put(written(CINDER_CROSS), ("quilt", "cells", 3, "piece"), "77F"))
    assert fault.field == "quilt.cells[3]"


def test_cloth_of_the_quilt_and_of_the_wish_must_be_on_the_shelf() -> None:
    for part in ("quilt", "wish"):
        fault = fault_of(put(written(CINDER_CROSS), (part, "cloth"), {"border": "crimson"}))
        assert fault.field == f"{part}.cloth.border"


def test_a_package_may_not_have_the_name_of_a_cloth() -> None:
    assert fault_of(put(written(CINDER_CROSS), ("packs", 0, "id"), "black")).field == "packs"


@pytest.mark.parametrize("depth", [30, 900])
def test_a_brief_nested_without_end_is_refused(depth: int) -> None:
    cell: dict[str, Any] = {"id": "0", "at": {"x": "0", "y": "0", "width": "1", "height": "1"}}
    for number in range(depth):
        cell = {**cell, "id": str(number), "inside": [cell]}
    fault = fault_of(put(written(CINDER_CROSS), ("quilt", "cells", 0), cell))
    assert fault.message == "is nested too deeply."


NONSENSE = [
    None, True, False, 0, 1, -1, 7, 1.5, math.nan, "", "x", "0", "-3", "12 3/8", "2027-04-01", "1999-01-01",
    "#112233", [], {}, [1], ["x"], [[]], {"a": 1}, {"id": "01"}, "1" * 5000, 10**30,
]  # fmt: skip


def places(node: Any, above: Place = ()) -> list[Place]:
    if not isinstance(node, dict | list):
        return []
    steps = list(node) if isinstance(node, dict) else list(range(len(node)))
    return [found for step in steps for found in ((*above, step), *places(node[step], (*above, step)))]


@pytest.mark.parametrize("name", NAMES)
def test_whatever_stands_in_a_brief_it_is_read_or_refused_with_a_place(name: str) -> None:
    """Something else in 150 places of each brief; thousands of others were tried by hand."""
    chance = random.Random(name)
    everywhere = places(written(name))
    found = []
    for _ in range(150):
        place, value = chance.choice(everywhere), chance.choice(NONSENSE)
        found.append(refused_at(put(written(name), place, value)))
    assert "" not in found
    assert sum(field is not None for field in found) > 75


def refused_at(brief: object) -> str | None:
    try:
        read_brief(brief)
    except BadInput as fault:
        return fault.field
    return None

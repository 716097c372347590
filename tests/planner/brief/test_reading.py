"""A brief in JSON, read exactly: each kind of value, and lengths through text and back."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.brief import as_json, read_brief
from planner.colour import srgb_to_lab
from planner.plan import plan
from planner.quilt import Border, Sashing
from planner.schedule import Due, Machine, Person
from planner.units import INCH, METRE, MM, YARD, Money, Rate, Sides, Size
from tests.planner.plan.samples import (
    CINDER_CROSS,
    FERNCLIFF,
    LOWER_PENTLAND,
    SHORT,
    TODAY,
    as_it_is,
    first,
    minutes,
    written,
)

BRIEF = read_brief(written(FERNCLIFF))
SIXTY_FOURTH, TENTH = INCH // 64, MM // 10
COUNTS = st.integers(1, 40_000)


def test_lengths_are_read_to_the_tick() -> None:
    assert BRIEF.wish.target == Size(50 * INCH, 66 * INCH)
    assert BRIEF.bag.pieces[0].free == Sides(3 * INCH, 9 * INCH // 2, 7 * INCH, 9 * INCH // 2)
    assert BRIEF.shelf[0].on_hand == (Size(40 * INCH, 6 * YARD),)  # "6 yd" in a brief in inches
    assert BRIEF.shelf[0].step == YARD // 8


def test_money_and_rates_are_read_to_the_minor_unit() -> None:
    assert BRIEF.shop.sundries == Money(1000, "USD")
    assert BRIEF.shop.rules[0].rate == Rate(Decimal(3600), "USD", "each")  # a bare "36" is for each
    assert BRIEF.shop.quilter.rate == Rate(Decimal(2), "USD", "in2")
    assert BRIEF.shop.overhead == Rate(Decimal(700), "USD", "hour")


def test_yen_have_no_cents() -> None:
    changed = written(FERNCLIFF) | {"currency": "JPY"}
    changed["shop"]["sundries"] = "1000"
    changed["shop"]["terms"]["round_to"] = "1"
    assert read_brief(changed).shop.sundries == Money(1000, "JPY")


def test_exact_decimals_stay_exact() -> None:
    assert BRIEF.shop.terms.taxes[0].rate == Decimal("0.07")
    assert BRIEF.shop.standards[13].minutes == Decimal("0.03125")  # 4.5 minutes a square foot
    assert BRIEF.bag.garments[0].fibres == {"cotton": Decimal(100)}


def test_words_and_sets_and_choices_are_read_as_they_stand() -> None:
    assert BRIEF.bag.garments[2].flags == frozenset({"white"})
    assert BRIEF.bag.pieces[5].wanted == "out"
    assert BRIEF.wish.cloth["cornerstone"] == "gold"
    assert BRIEF.wish.borders == (None,)
    assert BRIEF.wish.sashings[1] == Sashing(3 * INCH // 2, True, True)
    assert BRIEF.quilt is None


def test_what_is_left_out_takes_its_usual_value() -> None:
    assert BRIEF.shop.allowances.rough == 2 * INCH
    assert BRIEF.work.stages[0].spread == 0.3
    assert BRIEF.packs == ()


def test_colors_are_read_as_cielab() -> None:
    ground = BRIEF.looks["forest"].palette.ground
    assert ground.lab == pytest.approx(tuple(srgb_to_lab([0x23, 0x4A, 0x34])))


def test_days_of_the_calendar_are_counted_from_its_first() -> None:
    assert BRIEF.work.origin == date(2027, 3, 15)
    assert BRIEF.work.dues[0] == Due("queue 1", 7)
    assert BRIEF.due == date(2027, 5, 22)  # the day itself stays a date


def test_a_day_of_the_calendar_may_be_written_as_its_number() -> None:
    changed = written(FERNCLIFF)
    changed["work"]["dues"][0] |= {"day": 7, "target": "2027-03-20"}
    changed["work"]["stages"][0] |= {"ready": "2027-03-16", "pin": None}
    changed["work"]["machines"] = [{"id": "frame", "closed": ["2027-03-17", 5]}]
    work = read_brief(changed).work
    assert work.dues[0] == Due("queue 1", 7, target=5)
    assert (work.stages[0].ready, work.stages[0].pin) == (1, None)
    assert work.machines == (Machine("frame", closed=frozenset({2, 5})),)


def test_a_person_by_the_week_has_days_off_and_extra_hours() -> None:
    changed = written(FERNCLIFF)
    week = {"id": "maker", "week": [300, 300, 300, 300, 300, 0, 0], "until": "2027-07-31", "opens": 540}
    changed["work"]["people"][0] = week | {
        "closed": ["2027-03-16", "2027-03-20"],
        "extra": {"2027-03-17": 60, "2027-03-20": 90, "2027-03-18": -400},
    }
    maker = read_brief(changed).work.people[0]
    assert maker.minutes[:8] == (300, 0, 360, 0, 300, 90, 0, 300)
    assert set(maker.opens) == {540}
    assert len(maker.minutes) == (date(2027, 7, 31) - date(2027, 3, 15)).days + 1


def test_a_person_may_be_given_day_by_day() -> None:
    changed = written(FERNCLIFF)
    changed["work"]["people"][0] = {"id": "maker", "minutes": [120] * 139}
    assert read_brief(changed).work.people[0] == Person("maker", (120,) * 139)


def test_a_quilt_laid_out_in_the_brief_is_read() -> None:
    quilt = read_brief(written(CINDER_CROSS)).quilt
    assert quilt.borders == (Border(Sides(top=8 * INCH, bottom=8 * INCH)),)
    assert quilt.cells[1].piece == "02F"


def with_margin(text: str, unit: str) -> int:
    """A length through a brief: text, Brief, JSON."""
    changed = written(LOWER_PENTLAND) | {"unit": unit, "shelf": [], "looks": {}}
    changed["bag"] = {"garments": [], "pieces": []}
    changed["wish"] |= {"margin": text, "cloth": {}}
    return as_json(read_brief(changed).wish)["margin"]


@settings(max_examples=50)
@given(count=COUNTS, unit=st.sampled_from(["in", "cm"]))
def test_every_64th_of_an_inch_comes_through_exactly(count: int, unit: str) -> None:
    whole, part = divmod(Fraction(count, 64), 1)
    text = f"{whole} {part.numerator}/{part.denominator}" if part else str(whole)
    assert with_margin(f"{text} in", unit) == count * SIXTY_FOURTH
    assert with_margin(text, "in") == count * SIXTY_FOURTH
    assert with_margin(f"{float(Fraction(count, 64)):.6f}", "in") == count * SIXTY_FOURTH


@settings(max_examples=50)
@given(count=COUNTS, unit=st.sampled_from(["in", "cm"]))
def test_every_tenth_of_a_millimeter_comes_through_exactly(count: int, unit: str) -> None:
    assert with_margin(f"{count // 10}.{count % 10} mm", unit) == count * TENTH
    assert with_margin(f"{count // 100}.{count % 100:02d}", "cm") == count * TENTH


# A metric shop

PER_METRIC = {"yd": ("m", Fraction(METRE, YARD)), "in2": ("m2", Fraction(METRE**2, INCH**2))}


def metric(node: Any) -> Any:
    """Ferncliff told in centimeters and euros: lengths to the nearest 0.1 mm, prices per m and m2."""
    if isinstance(node, list):
        return [metric(each) for each in node]
    if not isinstance(node, dict):
        return node
    if set(node) == {"rate", "per"} and node["per"] in PER_METRIC:
        per, times = PER_METRIC[node["per"]]
        return {
            "rate": str(round(Decimal(node["rate"]) * times.numerator / times.denominator, 4)),
            "per": per,
        }
    return {key: in_cm(value) if key in LENGTHS else metric(value) for key, value in node.items()}


LENGTHS = {
    "width",
    "height",
    "top",
    "right",
    "bottom",
    "left",
    "usable",
    "tolerance",
    "margin",
    "over",
    "step",
}


def in_cm(text: str) -> str:
    """The length to the nearest 0.1 mm, as a bare number of centimeters."""
    unit = YARD if text.endswith("yd") else INCH
    ticks = sum(Fraction(part) for part in text.removesuffix(" yd").split()) * unit
    tenths = round(ticks / TENTH)
    return f"{tenths // 100}.{tenths % 100:02d}"


def test_the_same_quilt_in_centimeters_and_euros_has_the_same_work_and_price() -> None:
    brief = read_brief(metric(written(FERNCLIFF)) | {"unit": "cm", "currency": "EUR"})
    offer = first(plan(brief, today=TODAY[FERNCLIFF], limit=SHORT))
    usual = first(as_it_is(FERNCLIFF)[1])
    assert offer.pricing.total == Money(507_18, "EUR")
    assert minutes(offer) == minutes(usual)
    assert offer.promise.day == usual.promise.day
    assert brief.work.origin + timedelta(days=offer.promise.day) == date(2027, 4, 20)
    assert abs(offer.layout.quilt.size.width - 50 * INCH) <= 5 * TENTH
    assert {cell.piece for cell in offer.layout.quilt.cells if cell.frame} >= {"07", "11"}
    assert offer.pricing.hour.minor == pytest.approx(usual.pricing.hour.minor, rel=0.02)

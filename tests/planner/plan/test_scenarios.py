"""Whole briefs against the figures of the trade handbook's scenarios (section 8).

Tolerances: minutes 2 %, yardage one step of the store, money to the cent, an hour's take 1 %.
"""

from __future__ import annotations

from datetime import date

import pytest

from planner.layout import check_layout
from planner.plan.booking import quilter_for
from planner.units import INCH, YARD, Money, Size, show_money

from .samples import (
    CINDER_CROSS,
    FERNCLIFF,
    LOWER_PENTLAND,
    answered,
    as_it_is,
    day,
    first,
    minutes,
    pieces,
    written,
    yards,
)  # fmt: skip

EIGHTH = YARD // 8


def in_inches(size: Size) -> tuple[int, int]:
    return size.width // INCH, size.height // INCH


def shown(*amounts: Money) -> list[str]:
    return [show_money(each).removesuffix(" USD") for each in amounts]


def sums(offer) -> list[str]:
    pricing = offer.pricing
    return shown(pricing.net, pricing.tax, pricing.total, pricing.deposit)


# S1, Ferncliff: the plain one


def test_ferncliff_is_the_throw_of_twelve_blocks():
    brief, answer = as_it_is(FERNCLIFF)
    quilt = first(answer).layout.quilt
    assert in_inches(quilt.size) == (50, 66)
    assert len(quilt.cells) == 12
    assert pieces(brief, first(answer), "sashing") == 31
    assert pieces(brief, first(answer), "cornerstone") == 20


def test_ferncliff_takes_the_printed_minutes_and_money():
    _, answer = as_it_is(FERNCLIFF)
    assert minutes(first(answer)) == pytest.approx(876, rel=0.02)
    assert sums(first(answer)) == ["474.00", "33.18", "507.18", "253.59"]


def test_ferncliff_without_the_fleece_brings_the_printed_hour_under_the_aim():
    """Handbook 4.4 works the hour out at 468, before the 6 for fleece; ours buys 1.50 less cloth."""
    changed = written(FERNCLIFF)
    changed["shop"]["rules"] = [rule for rule in changed["shop"]["rules"] if rule["words"] != "Fleece"]
    _, answer = answered(FERNCLIFF, changed)
    pricing = first(answer).pricing
    assert shown(pricing.net) == ["468.00"]
    assert pricing.hour.minor == pytest.approx(2611, rel=0.01)
    assert pricing.wage.minor == pytest.approx(1911, rel=0.015)  # 1 % of the hour, on a smaller sum
    assert any("under the aim of 31.00 USD" in problem.what for problem in answer.problems)


def test_ferncliff_frames_the_two_that_lack_cloth_and_asks_before_cropping_the_tall_one():
    _, answer = as_it_is(FERNCLIFF)
    cells = {cell.piece: cell for cell in first(answer).layout.quilt.cells}
    frames = {id: cell.frame for id, cell in cells.items() if cell.frame}
    assert sorted(frames) == ["07", "11"]
    assert (frames["07"].top, frames["07"].bottom, frames["07"].left) == (INCH, INCH, 0)
    assert set(vars(frames["11"]).values()) == {INCH}
    assert first(answer).layout.cropped == ("12",)
    assert any(problem.where == ("12",) and "Ask first" in problem.change for problem in answer.problems)
    notes = " ".join(first(answer).layout.notes)
    assert "04: Give it a block of 14 × 15 in" in notes  # no margin at all in a 14 block


def test_ferncliff_keeps_the_back_of_05_and_names_its_front_as_left_out():
    _, answer = as_it_is(FERNCLIFF)
    layout = first(answer).layout
    assert "05B" in {cell.piece for cell in layout.quilt.cells}
    assert [each.piece for each in layout.left_out] == ["05F"]


def test_ferncliff_buys_backing_and_lays_out_batting_as_printed():
    """1 3/4 yd of wide backing by the quarter; ours is in eighths, 58 in being 1 5/8. Batting 58 × 74."""
    brief, answer = as_it_is(FERNCLIFF)
    offer = first(answer)
    wide = next(cloth for cloth in brief.shelf if cloth.id == offer.backing[0].cloth)
    assert abs(wide.in_steps(offer.backing[0].length) - 7 * YARD // 4) <= EIGHTH
    assert offer.batting[0].length == 58 * INCH
    assert offer.batting[0].size.width >= 74 * INCH


def test_ferncliff_cuts_sashing_and_binding_from_one_cloth_in_fewer_strips_than_apart():
    """Printed apart: 16 and 7 strips of 2 1/2 in, which the materials tests reproduce. The brief wants
    sashing, frames and binding of one forest cloth, so the ends of the sashing serve the binding."""
    _, answer = as_it_is(FERNCLIFF)
    cuts = first(answer).cuts
    assert cuts["sashing"] is cuts["binding"] is cuts["frame"]
    assert 16 <= sum(strip.height == 5 * INCH // 2 for strip in cuts["sashing"].strips) <= 16 + 7
    assert len(cuts["cornerstone"].strips) == 2


def test_ferncliff_sashing_alone_takes_sixteen_strips_and_an_eighth_over_a_yard():
    changed = written(FERNCLIFF)
    changed["wish"]["cloth"] |= {"frame": "black", "binding": "black"}
    _, answer = answered(FERNCLIFF, changed)
    sashing = first(answer).cuts["sashing"]
    assert len(sashing.strips) == 16
    assert yards(sashing.used) == "1 1/8 yd"


def test_ferncliff_binding_alone_takes_seven_strips_and_half_a_yard():
    changed = written(FERNCLIFF)
    changed["wish"]["cloth"] |= {"binding": "black"}
    _, answer = answered(FERNCLIFF, changed)
    binding = first(answer).cuts["binding"]
    assert len(binding.strips) == 7
    assert yards(binding.used) == "1/2 yd"


def test_ferncliff_fuses_what_stretches_with_tricot():
    """The handbook's 5 1/2 yd puts non-woven behind all twelve; ours keeps the fleece bare, and
    gives the stretchy two and the vinyl, which bears 270 °F, what bonds and gives (handbook 3.4)."""
    _, answer = as_it_is(FERNCLIFF)
    panels = {option.way: option.pieces for option in first(answer).interfacing}
    assert panels == {"light non-woven": 8, "tricot": 3}


def test_ferncliff_starts_after_the_queue_and_is_done_in_the_week_before_24_april():
    """104 bench hours of queue end on Mon 12 Apr; the handbook starts on about the 13th. Logging and
    washing may come earlier: the helper does them on a Saturday."""
    brief, answer = as_it_is(FERNCLIFF)
    promised = first(answer).promise
    mine = [stint for stint in promised.timetable.stints if stint.stage.startswith("this quilt")]
    bench = [stint for stint in mine if stint.person == "maker"]
    assert date(2027, 4, 12) <= min(day(brief, stint.day) for stint in bench) <= date(2027, 4, 14)
    assert day(brief, promised.day) <= date(2027, 4, 23)
    assert day(brief, promised.not_before) >= date(2027, 4, 16)
    assert "6,300 minutes (105 h)" in first(answer).why_not_earlier


# S7, Cinder Cross: double-sided tour shirts


def test_cinder_cross_covers_90_by_96_without_filler():
    brief, answer = as_it_is(CINDER_CROSS)
    layout = first(answer).layout
    assert in_inches(layout.quilt.size) == (90, 96)
    assert len(layout.quilt.cells) == 27
    assert not any(cell.is_filler for cell in layout.quilt.cells)
    assert layout.left_out == layout.cropped == ()  # the dates lists stay whole
    assert check_layout(layout, brief.bag) == ()


def test_cinder_cross_takes_the_printed_minutes_money_and_cloth():
    brief, answer = as_it_is(CINDER_CROSS)
    offer = first(answer)
    assert minutes(offer) == pytest.approx(1294, rel=0.02)
    assert sums(offer) == ["1,161.00", "81.27", "1,242.27", "621.14"]
    assert quilter_for(offer.layout.quilt, brief).charge(offer.layout.quilt.size.area).minor == 17280  # 173
    assert yards(offer.backing[0].length) == "2 3/4 yd"


def test_cinder_cross_binds_with_eleven_strips():
    """Border and binding share the charcoal: the border's panels are 8 1/2 in high, the binding 2 1/2."""
    _, answer = as_it_is(CINDER_CROSS)
    strips = first(answer).cuts["binding"].strips
    assert sum(strip.height == 5 * INCH // 2 for strip in strips) == 11


def test_cinder_cross_keeps_the_day_in_spite_of_the_silence():
    """Yes on 26 Jun, cloth on 15 Jul, out by 27 Jul, bound by 20 Aug."""
    brief, answer = as_it_is(CINDER_CROSS)
    promised = first(answer).promise
    starts = {stint.stage: day(brief, stint.day) for stint in reversed(promised.timetable.stints)}
    assert starts["this quilt: cut"] >= date(2027, 6, 26)
    assert starts["this quilt: border"] >= date(2027, 7, 15)
    assert starts["this quilt: quilt"] <= date(2027, 7, 27)
    assert day(brief, promised.day) <= date(2027, 8, 20)
    assert answer.problems == ()


# S8, Lower Pentland: Christmas in instalments


def test_lower_pentland_takes_the_printed_minutes_and_money():
    _, answer = as_it_is(LOWER_PENTLAND)
    offer = first(answer)
    assert minutes(offer) == pytest.approx(750, rel=0.02)
    assert shown(*(line.amount for line in offer.pricing.lines)) == ["324.00", "27.00", "88.00"]
    assert sums(offer) == ["439.00", "30.73", "469.73", "234.87"]
    assert shown(*offer.pricing.instalments) == ["78.29", "78.29", "78.28"]
    assert offer.pricing.hour.minor == pytest.approx(2891, rel=0.01)


def test_lower_pentland_is_ready_before_it_is_wanted():
    """The handbook has it finished on 17 Dec: work began later than the calendar allows."""
    brief, answer = as_it_is(LOWER_PENTLAND)
    assert day(brief, first(answer).promise.day) <= date(2027, 12, 17)

"""Bad news said the same way everywhere."""

from __future__ import annotations

import pytest

from planner.problems import BadInput, Impossible, Limit, Problem, Undecided


def test_bad_input_names_its_field_and_says_a_sentence():
    fault = BadInput("fibres", "they add up to 90 %.")
    assert fault.field == "fibres"
    assert str(fault) == "fibres: they add up to 90 %."


def test_bad_input_without_a_field_is_the_sentence_alone():
    assert str(BadInput("", "the file is empty.")) == "the file is empty."


@pytest.mark.parametrize(
    ("inner", "outer", "path"),
    [
        ("fibres", "garments[2]", "garments[2].fibres"),
        ("[2].fibres", "garments", "garments[2].fibres"),
        ("", "bag", "bag"),
        ("fibres", "", "fibres"),
    ],
)
def test_a_field_is_named_from_one_level_further_out(inner, outer, path):
    fault = BadInput(inner, "no.").within(outer)
    assert fault.field == path
    assert fault.message == "no."


def test_bad_input_is_a_value_error_so_that_plain_callers_catch_it():
    with pytest.raises(ValueError, match="no sense"):
        raise BadInput("size", "makes no sense.")


def test_a_problem_cannot_be_altered_and_shares_no_figures_with_the_next():
    one, other = Problem("one."), Problem("other.")
    assert one.figures is not other.figures
    with pytest.raises(AttributeError):
        one.what = "changed"


def test_impossible_and_undecided_carry_their_reasons():
    why = (Problem("Cloth F09 is 4 in too short.", where=("F09",), change="Buy 1/8 yd more."),)
    assert Impossible(why).problems == Undecided(why).problems == why


@pytest.mark.parametrize(
    ("given", "field"),
    [({}, "limit"), ({"seconds": 0}, "seconds"), ({"seconds": -1.0}, "seconds"), ({"effort": 0}, "effort")],
)
def test_a_search_without_an_end_cannot_be_asked_for(given, field):
    with pytest.raises(BadInput) as caught:
        Limit(**given)
    assert caught.value.field == field


@pytest.mark.parametrize("given", [{"seconds": 0.5}, {"effort": 1}, {"seconds": 2, "effort": 100}])
def test_a_search_may_be_limited_by_time_effort_or_both(given):
    assert Limit(**given).watch is None

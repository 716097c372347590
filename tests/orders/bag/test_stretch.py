"""How far a knit stretches, from two typed lengths."""

from __future__ import annotations

import pytest

from orders.bag import stretch
from planner.problems import BadInput
from planner.quilt import STRETCHES
from planner.units import INCH, MM, parse_length


@pytest.mark.parametrize(
    ("lies", "pulled", "shown"),
    [
        ("4", "4", 0),
        ("4", "5", 25),
        ("4", "5 1/2", 38),
        ("4", "6", 50),
        ("4", "8", 100),
        ("10 cm", "11.8 cm", 18),
    ],
)
def test_stretch_is_a_hundred_times_what_it_grew_by_over_what_it_was(lies, pulled, shown):
    # ASTM D2594/D2594M: fabric stretch, % = 100 × (extended − original) / original
    original, extended = (parse_length(each, unit="in") for each in (lies, pulled))
    assert stretch.per_cent(original, extended) == shown


@pytest.mark.parametrize(
    ("per_cent", "word"), [(0, "none"), (6, "low"), (25, "medium"), (50, "high"), (100, "very high")]
)
def test_a_stretch_becomes_one_of_the_words_that_care_goes_by(per_cent, word):
    assert stretch.word_of(per_cent) == word
    assert word in STRETCHES


def test_more_stretch_is_never_a_lesser_word():
    words = [STRETCHES.index(stretch.word_of(each)) for each in range(301)]
    assert words == sorted(words)
    assert set(words) == set(range(len(STRETCHES)))


@pytest.mark.parametrize(("lies", "pulled"), [(0, INCH), (4 * INCH, 4 * INCH - MM)])
def test_lengths_that_cannot_be_are_refused(lies, pulled):
    with pytest.raises(BadInput):
        stretch.per_cent(lies, pulled)

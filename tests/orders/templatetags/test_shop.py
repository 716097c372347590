"""Numbers and dates as a shop of a place says them.

Amounts follow the currency formats of the Unicode Common Locale Data Repository, which babel carries;
the expected spellings were written down from memory of them, with spaces that do not break.
"""

from datetime import date
from types import SimpleNamespace

import pytest

from orders.templatetags import shop as say
from planner.units import INCH, MM, Size

US = SimpleNamespace(unit="in", currency="USD", country="US")
DE = SimpleNamespace(unit="cm", currency="EUR", country="DE")
JP = SimpleNamespace(unit="cm", currency="JPY", country="JP")
KW = SimpleNamespace(unit="cm", currency="KWD", country="KW")
NOWHERE = SimpleNamespace(unit="in", currency="USD", country="ZZ")


def plain(words):
    assert " " not in words
    return words.replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.parametrize(
    ("minor", "place", "words"),
    [
        (123450, US, "$1,234.50"),
        (5, US, "$0.05"),
        (-26000, US, "−$260.00"),
        (123450, DE, "1.234,50 €"),
        (1234, JP, "¥1,234"),
        (1234567, KW, "KWD 1,234.567"),
        (123450, NOWHERE, "$1,234.50"),
    ],
)
def test_money_is_written_as_in_the_shops_place(minor, place, words):
    assert plain(say.money(minor, place)) == words


@pytest.mark.parametrize(
    ("minor", "place", "words"),
    [
        (48600, US, "$486"),
        (48650, US, "$486.50"),
        (123400, DE, "1.234 €"),
        (1234, JP, "¥1,234"),
        (0, US, "$0"),
    ],
)
def test_a_price_shows_cents_only_where_there_are_any(minor, place, words):
    assert plain(say.price(minor, place)) == words


def test_lengths_come_in_the_shops_unit():
    assert plain(say.measure(21 * INCH // 4, US)) == "5¼ in"
    assert plain(say.measure(INCH // 2, US)) == "½ in"
    assert plain(say.measure(11 * INCH // 8, US)) == "1⅜ in"
    assert plain(say.measure(127 * MM, DE)) == "12.7 cm"


def test_a_fraction_without_a_letter_of_its_own_stays_as_it_is():
    assert plain(say.measure(83 * INCH // 16, US)) == "5 3/16 in"
    assert plain(say.measure(177 * INCH // 16, US)) == "11 1/16 in"


def test_cloth_is_counted_as_it_is_bought_and_rounded_up():
    assert plain(say.cloth_length(58 * INCH, US)) == "1⅝ yd"
    assert plain(say.cloth_length(1461 * MM, DE)) == "1.47 m"


def test_a_size_names_its_unit_once():
    assert plain(say.size(Size(50 * INCH, 66 * INCH), US)) == "50 × 66 in"
    assert plain(say.size(Size(1270 * MM, 1676 * MM), DE)) == "127 × 167.6 cm"


@pytest.mark.parametrize(
    ("minutes", "words"),
    [(0, "0 min"), (30, "30 min"), (60, "1 h"), (65, "1 h 05"), (280, "4 h 40"), (-90, "−1 h 30")],
)
def test_a_time_of_work_is_said_in_hours_from_an_hour_on(minutes, words):
    assert plain(say.hours(minutes)) == words


def test_a_day_has_its_weekday_and_its_year_only_when_it_is_another_one():
    day = date(2027, 4, 5)
    assert plain(say.day(day)) == "Mon 5 Apr"
    assert plain(say.day(day, date(2027, 1, 1))) == "Mon 5 Apr"
    assert plain(say.day(day, date(2026, 12, 31))) == "Mon 5 Apr 2027"
    assert say.long_day(day) == "Monday 5\N{NO-BREAK SPACE}April"


def test_a_heat_limit_is_never_hotter_in_the_other_unit():
    assert plain(say.heat(270, US)) == "270 °F"
    assert plain(say.heat(270, DE)) == "132 °C"


@pytest.mark.parametrize("word", [say.measure, say.cloth_length, say.size, say.money, say.price, say.heat])
def test_what_is_not_known_is_left_blank(word):
    assert word(None, US) == ""
    assert say.hours(None) == say.day(None) == say.long_day(None) == ""


def test_a_state_is_a_mark_and_words_and_the_words_are_text():
    drawn = say.chip("late", "<b>2 days late</b>")
    assert 'class="chip late"' in drawn
    assert "icons.svg#late" in drawn
    assert "&lt;b&gt;2 days late" in drawn
    assert "<svg" not in say.chip("", "With the quilter")


def test_a_state_that_is_none_of_ours_is_refused():
    with pytest.raises(Exception, match="none of done, wait"):
        say.mark("urgent")


def test_fractions_in_a_sentence_are_letters_and_its_words_may_still_break():
    assert say.fractions("05F has 1 1/8 in, and 1/16 in less.") == "05F has 1⅛ in, and 1/16 in less."

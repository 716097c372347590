"""Minor units of currencies."""

from __future__ import annotations

import pytest
from babel.numbers import get_currency_precision, list_currencies

from planner.problems import BadInput
from planner.units import currencies, decimals

# CLDR gives the decimals in everyday use; in these countries coins of the minor unit have gone out of
# use, so it says 0 where ISO 4217 still says 2 (3 for the Iraqi dinar). The package iso4217, which reads
# the maintenance agency's own list, agrees with this table on every code.
UNUSED_COINS = set("AFN ALL IQD IRR KPW LAK LBP MGA MMK RSD SOS SYP YER".split())  # noqa: SIM905


@pytest.mark.parametrize(
    ("codes", "places"),
    [("USD EUR GBP CAD AUD", 2), ("JPY KRW CLP ISK", 0), ("KWD BHD TND JOD OMR", 3)],
)
def test_minor_units_are_those_of_iso_4217(codes, places):
    # ISO 4217:2015, list one.
    assert {decimals(code) for code in codes.split()} == {places}


def test_every_known_currency_is_known_to_cldr_too():
    assert set(currencies()) <= set(list_currencies())


def test_minor_units_agree_with_cldr_but_where_coins_have_gone_out_of_use():
    differing = {code for code in currencies() if decimals(code) != get_currency_precision(code)}
    assert differing == UNUSED_COINS
    assert {get_currency_precision(code) for code in UNUSED_COINS} == {0}


def test_currencies_are_listed_once_in_alphabetical_order():
    assert list(currencies()) == sorted(set(currencies()))


@pytest.mark.parametrize("code", ["", "usd", "US", "XXX", "ABC", "XAU"])
def test_what_is_not_a_currency_is_refused(code):
    with pytest.raises(BadInput) as caught:
        decimals(code)
    assert caught.value.field == "currency"

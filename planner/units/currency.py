"""Currencies and their minor units.

ISO 4217:2015, list one as amended (from memory; the tests compare it with CLDR through babel).
Funds codes, metals and currencies without a two- or three-digit minor unit rule are left out.
"""

from __future__ import annotations

from planner.problems import BadInput

_TWO = """
AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF CHF CNY COP CRC
CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL HTG HUF IDR ILS INR IRR
JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD
NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN
SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH USD UYU UZS VED VES WST XCD XCG YER ZAR
ZMW ZWG
"""
_NONE = "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF"
_THREE = "BHD IQD JOD KWD LYD OMR TND"

_DECIMALS = {code: places for codes, places in ((_TWO, 2), (_NONE, 0), (_THREE, 3)) for code in codes.split()}


def currencies() -> tuple[str, ...]:
    """Return the known ISO 4217 codes in alphabetical order."""
    return tuple(sorted(_DECIMALS))


def decimals(currency: str) -> int:
    """Return how many decimals the currency's minor unit has: 0, 2 or 3."""
    if currency not in _DECIMALS:
        raise BadInput("currency", f"“{currency}” is not a currency code; write three letters such as USD.")
    return _DECIMALS[currency]

"""What a country settles for a shop: its unit, its money, its paper, its clocks.

Common practice, from memory; the owner changes each of them in the workroom.
"""

from __future__ import annotations

from dataclasses import dataclass
from zoneinfo import available_timezones

ELSEWHERE = "ZZ"


@dataclass(frozen=True)
class Country:
    """`zones` are its clocks, the one most people live by first."""

    name: str
    unit: str
    currency: str
    paper: str
    zones: tuple[str, ...]


_US_ZONES = (
    "America/New_York", "America/Chicago", "America/Denver", "America/Phoenix", "America/Los_Angeles",
    "America/Anchorage", "Pacific/Honolulu",
)  # fmt: skip
_CANADA_ZONES = (
    "America/Toronto", "America/Winnipeg", "America/Regina", "America/Edmonton", "America/Vancouver",
    "America/Halifax", "America/St_Johns",
)  # fmt: skip
_AUSTRALIA_ZONES = (
    "Australia/Sydney", "Australia/Melbourne", "Australia/Brisbane", "Australia/Adelaide",
    "Australia/Darwin", "Australia/Perth", "Australia/Hobart",
)  # fmt: skip

COUNTRIES = {
    "US": Country("United States", "in", "USD", "letter", _US_ZONES),
    "AU": Country("Australia", "cm", "AUD", "a4", _AUSTRALIA_ZONES),
    "AT": Country("Austria", "cm", "EUR", "a4", ("Europe/Vienna",)),
    "BE": Country("Belgium", "cm", "EUR", "a4", ("Europe/Brussels",)),
    "BR": Country("Brazil", "cm", "BRL", "a4", ("America/Sao_Paulo", "America/Manaus", "America/Fortaleza")),
    "CA": Country("Canada", "in", "CAD", "letter", _CANADA_ZONES),
    "CZ": Country("Czechia", "cm", "CZK", "a4", ("Europe/Prague",)),
    "DK": Country("Denmark", "cm", "DKK", "a4", ("Europe/Copenhagen",)),
    "FI": Country("Finland", "cm", "EUR", "a4", ("Europe/Helsinki",)),
    "FR": Country("France", "cm", "EUR", "a4", ("Europe/Paris",)),
    "DE": Country("Germany", "cm", "EUR", "a4", ("Europe/Berlin",)),
    "IE": Country("Ireland", "cm", "EUR", "a4", ("Europe/Dublin",)),
    "IT": Country("Italy", "cm", "EUR", "a4", ("Europe/Rome",)),
    "JP": Country("Japan", "cm", "JPY", "a4", ("Asia/Tokyo",)),
    "NL": Country("Netherlands", "cm", "EUR", "a4", ("Europe/Amsterdam",)),
    "NZ": Country("New Zealand", "cm", "NZD", "a4", ("Pacific/Auckland",)),
    "NO": Country("Norway", "cm", "NOK", "a4", ("Europe/Oslo",)),
    "PL": Country("Poland", "cm", "PLN", "a4", ("Europe/Warsaw",)),
    "PT": Country("Portugal", "cm", "EUR", "a4", ("Europe/Lisbon", "Atlantic/Azores")),
    "ZA": Country("South Africa", "cm", "ZAR", "a4", ("Africa/Johannesburg",)),
    "ES": Country("Spain", "cm", "EUR", "a4", ("Europe/Madrid", "Atlantic/Canary")),
    "SE": Country("Sweden", "cm", "SEK", "a4", ("Europe/Stockholm",)),
    "CH": Country("Switzerland", "cm", "CHF", "a4", ("Europe/Zurich",)),
    "GB": Country("United Kingdom", "in", "GBP", "a4", ("Europe/London",)),
}


Choices = list[tuple[str, str]]


def place_choices() -> list[tuple[str, str | Choices]]:
    """Return the places for a list: a country, or its clocks where it has several; else somewhere else."""
    places: list[tuple[str, str | Choices]] = []
    for code, country in COUNTRIES.items():
        if len(country.zones) == 1:
            places.append((code, country.name))
        else:
            clocks = [(f"{code} {zone}", f"{country.name}, {city_of(zone)} time") for zone in country.zones]
            places.append((country.name, clocks))
    return [*places, (ELSEWHERE, "Somewhere else")]


def read_place(chosen: str) -> tuple[str, str]:
    """Return the country's code and the clock of a place of the list; no clock for somewhere else."""
    code, _, zone = chosen.partition(" ")
    country = COUNTRIES.get(code)
    return code, zone or (country.zones[0] if country else "")


def zone_choices() -> Choices:
    """Return the clocks of the world by their city."""
    parts = ("Africa/", "America/", "Antarctica/", "Asia/", "Atlantic/", "Australia/", "Europe/", "Indian/")
    zones = sorted(zone for zone in available_timezones() if zone.startswith((*parts, "Pacific/")))
    return [(zone, f"{city_of(zone)}, {zone.split('/')[0]}") for zone in zones]


def city_of(zone: str) -> str:
    """Return the city a clock is named for."""
    return zone.rsplit("/", 1)[-1].replace("_", " ")

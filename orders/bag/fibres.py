"""A fiber label as it is typed, such as `60/40 cotton polyester`, read into shares that make 100.

The names are those of the shop’s place. In the United States, and wherever no other rule is known
here: the generic names of 16 CFR 303.7 for manufactured fibers with those of ISO 2076 that the same
rule allows (viscose, modal, elastane, …), and the natural fibers labels name; both lists from
memory. In the European Union, the United Kingdom, Norway and Switzerland: Annex I of Regulation
(EU) 1007/2011 with row 50 of (EU) 2018/122; rows 1 to 20 and 44 to 49 were seen in part, in published
excerpts, and the rest is from memory. Trade names, abbreviations and the other place’s names are read as
the place’s own. A tool for reading labels: what must stand on a label to be sold, the law decides.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from planner.problems import BadInput

LABEL_GONE = "label gone"
NATURAL = frozenset(
    {"cotton", "linen", "hemp", "ramie", "jute", "kapok", "silk", "wool", "cashmere", "mohair", "alpaca",
     "angora", "camel", "llama", "rabbit", "down"}
)  # fmt: skip
MANUFACTURED = frozenset(
    {"acetate", "triacetate", "acrylic", "modacrylic", "anidex", "aramid", "azlon", "elasterell-p",
     "elastoester", "fluoropolymer", "glass", "lastol", "lastrile", "lyocell", "melamine", "metallic",
     "novoloid", "nylon", "nytril", "olefin", "pbi", "pla", "polyester", "rayon", "rubber", "saran",
     "spandex", "sulfar", "triexta", "vinal", "vinyon"}
)  # fmt: skip
ISO_2076 = frozenset(
    {"viscose", "modal", "cupro", "elastane", "polyamide", "polypropylene", "polyethylene", "polylactide",
     "elastodiene", "elastolefin", "elastomultiester", "alginate", "polyimide"}
)  # fmt: skip
OTHER = frozenset({"other fibers"})  # 16 CFR 303.3: fibers under 5 % need no name of their own
KNOWN = NATURAL | MANUFACTURED | ISO_2076 | OTHER
ANNEX_I = frozenset(
    {"wool", "alpaca", "llama", "camel", "cashmere", "mohair", "angora", "vicuna", "yak", "guanaco",
     "cashgora", "beaver", "otter", "horsehair", "silk", "cotton", "kapok", "flax", "linen", "hemp", "jute",
     "abaca", "alfa", "coir", "broom", "ramie", "sisal", "sunn", "henequen", "maguey", "acetate", "alginate",
     "cupro", "modal", "protein", "triacetate", "viscose", "acrylic", "chlorofibre", "fluorofibre",
     "modacrylic", "polyamide", "nylon", "aramid", "polyimide", "lyocell", "polylactide", "polyester",
     "polyethylene", "polypropylene", "polycarbamide", "polyurethane", "vinylal", "trivinyl", "elastodiene",
     "elastane", "glass fibre", "elastomultiester", "elastolefin", "melamine", "metal", "paper",
     "polyacrylate", "other fibres"}
)  # fmt: skip
_TRADE = {
    "poly": "polyester", "pes": "polyester", "lycra": "spandex", "merino": "wool", "lambswool": "wool",
    "tencel": "lyocell", "co": "cotton", "pa": "polyamide", "ea": "elastane", "other": "other fibers",
    "others": "other fibers", "other fiber": "other fibers", "other fibre": "other fibers",
    "other fibres": "other fibers",
}  # fmt: skip
_IN_THE_US = {"flax": "linen", "metal": "metallic", "chlorofibre": "vinyon", "vinylal": "vinal",
              "fluorofibre": "fluoropolymer", "protein": "azlon", "glass fibre": "glass",
              "glass fiber": "glass"}  # fmt: skip
_IN_EUROPE = {"spandex": "elastane", "rayon": "viscose", "azlon": "protein", "vinyon": "chlorofibre",
              "saran": "chlorofibre", "vinal": "vinylal", "rubber": "elastodiene", "pla": "polylactide",
              "lastol": "elastolefin", "triexta": "polyester", "elasterell-p": "elastomultiester",
              "metallic": "metal", "fluoropolymer": "fluorofibre", "glass": "glass fibre",
              "glass fiber": "glass fibre", "other fibers": "other fibres", "rabbit": "angora"}  # fmt: skip
_EUROPE = frozenset(
    {"AT", "BE", "BG", "CH", "CY", "CZ", "DE", "DK", "EE", "ES", "FI", "FR", "GB", "GR", "HR", "HU", "IE",
     "IS", "IT", "LI", "LT", "LU", "LV", "MT", "NL", "NO", "PL", "PT", "RO", "SE", "SI", "SK"}
)  # fmt: skip


@dataclass(frozen=True)
class Rule:
    """The names a place’s labels have, and what else is read as one of them."""

    known: frozenset[str]
    read_as: Mapping[str, str]
    blends: tuple[str, ...]

    def name(self, word: str) -> str:
        """Return the place’s name for a word of a label."""
        plain = _TRADE.get(word, word)
        return self.read_as.get(plain, plain)


_BLENDS = ("100 cotton", "50/50 cotton polyester", "60/40 cotton polyester", "80/20 cotton polyester",
           "100 polyester")  # fmt: skip
US = Rule(KNOWN, _IN_THE_US, (*_BLENDS, "50/25/25 polyester cotton rayon", "95/5 cotton spandex"))
EUROPE = Rule(ANNEX_I, _IN_EUROPE, (*_BLENDS, "50/25/25 polyester cotton viscose", "95/5 cotton elastane"))


def rule_of(country: str) -> Rule:
    """Return the names that are good in a country."""
    return EUROPE if country in _EUROPE else US


_BESIDE_THE_NAME = {"combed", "ringspun", "ring-spun", "organic", "pima", "recycled", "virgin", "and", "of"}
_SHARE = re.compile(r"\d+(?:[.,]\d+)?")
_WORDS = re.compile(r"[a-z][a-z-]*(?:\s+fib(?:er|re)s?)?")


def parse_fibres(text: str, *, country: str = "US") -> dict[str, str]:
    """Return the shares of a label, per cent as text, largest first; an empty mapping when it is gone.

    Names are those of the country. Numbers and names pair up in their order, whichever comes first;
    one name alone is 100.
    """
    plain = " ".join(text.lower().replace("%", " % ").split())
    if plain in ("", LABEL_GONE, "gone", "no label", "unknown"):
        return {}
    names = _names(plain, rule_of(country))
    shares = [Decimal(number.replace(",", ".")) for number in _SHARE.findall(plain)]
    if len(names) == 1 and not shares:
        shares = [Decimal(100)]
    _one_share_for_each(names, shares)
    _make_100(shares)
    ordered = sorted(zip(names, shares, strict=True), key=lambda each: -each[1])
    return {name: _as_text(share) for name, share in ordered}


def show_fibres(fibres: dict[str, str]) -> str:
    """Return shares as they would be typed, the largest first: `60/40 cotton polyester`."""
    if not fibres:
        return LABEL_GONE
    # Records on PostgreSQL forget in which order they were typed.
    names = sorted(fibres, key=lambda name: (-Decimal(fibres[name]), name))
    return f"{'/'.join(fibres[name] for name in names)} {' '.join(names)}"


def _names(plain: str, rule: Rule) -> list[str]:
    words = [word for word in _WORDS.findall(plain) if word not in _BESIDE_THE_NAME]
    names = [rule.name(word) for word in words]
    unknown = next((name for name in names if name not in rule.known), None)
    if unknown:
        raise BadInput(
            "fibres",
            f"“{unknown}” is no fiber a label names. Type its name as the label does, such as cotton or"
            " polyester, or “label gone”.",
        )
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice:
        raise BadInput("fibres", f"“{twice}” stands there twice. Give it one share.")
    if not names:
        raise BadInput("fibres", "Type the shares and the names, such as 60/40 cotton polyester.")
    return names


def _one_share_for_each(names: list[str], shares: list[Decimal]) -> None:
    if len(names) != len(shares):
        raise BadInput(
            "fibres",
            f"Shares typed: {len(shares)}, fibers: {len(names)}. Type one share for each fiber, such as"
            " 60/40 cotton polyester.",
        )


def _make_100(shares: list[Decimal]) -> None:
    if min(shares) <= 0:
        raise BadInput("fibres", "A share is more than 0. Leave out a fiber that has none.")
    whole = sum(shares)
    if whole != 100:
        raise BadInput(
            "fibres", f"The shares make {_as_text(Decimal(whole))}, not 100. Look at the label once more."
        )


def _as_text(share: Decimal) -> str:
    return f"{share.normalize():f}"

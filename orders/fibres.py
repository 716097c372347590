"""A fiber label as it is typed, such as `60/40 cotton polyester`, read into shares that make 100.

Names: the generic names of 16 CFR 303.7 for manufactured fibers, the natural fibers labels name, and
the names of ISO 2076 that the same rule allows on labels (viscose, modal, elastane, polyamide, …);
both lists written from memory. Trade names and abbreviations of labels are read as their generic name.
"""

from __future__ import annotations

import re
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
     "elastodiene", "elastolefin"}
)  # fmt: skip
OTHER = frozenset({"other fibers"})  # 16 CFR 303.3: fibers under 5 % need no name of their own
KNOWN = NATURAL | MANUFACTURED | ISO_2076 | OTHER
_READ_AS = {
    "poly": "polyester", "pes": "polyester", "lycra": "spandex", "flax": "linen", "merino": "wool",
    "lambswool": "wool", "tencel": "lyocell", "co": "cotton", "pa": "polyamide", "ea": "elastane",
    "other": "other fibers", "others": "other fibers", "other fiber": "other fibers",
    "other fibre": "other fibers", "other fibres": "other fibers", "metal": "metallic",
}  # fmt: skip
_BESIDE_THE_NAME = {"combed", "ringspun", "ring-spun", "organic", "pima", "recycled", "virgin", "and", "of"}
_SHARE = re.compile(r"\d+(?:[.,]\d+)?")
_WORDS = re.compile(r"[a-z][a-z-]*(?:\s+fib(?:er|re)s?)?")


def parse_fibres(text: str) -> dict[str, str]:
    """Return the shares of a label, per cent as text, largest first; an empty mapping when it is gone.

    Numbers and names pair up in their order, whichever comes first; one name alone is 100.
    """
    plain = " ".join(text.lower().replace("%", " % ").split())
    if plain in ("", LABEL_GONE, "gone", "no label", "unknown"):
        return {}
    names = _names(plain)
    shares = [Decimal(number.replace(",", ".")) for number in _SHARE.findall(plain)]
    if len(names) == 1 and not shares:
        shares = [Decimal(100)]
    _one_share_for_each(names, shares)
    _make_100(shares)
    ordered = sorted(zip(names, shares, strict=True), key=lambda each: -each[1])
    return {name: _as_text(share) for name, share in ordered}


def show_fibres(fibres: dict[str, str]) -> str:
    """Return shares as they would be typed: `60/40 cotton polyester`."""
    if not fibres:
        return LABEL_GONE
    return f"{'/'.join(fibres.values())} {' '.join(fibres)}"


def _names(plain: str) -> list[str]:
    words = [word for word in _WORDS.findall(plain) if word not in _BESIDE_THE_NAME]
    names = [_READ_AS.get(word, word) for word in words]
    unknown = next((name for name in names if name not in KNOWN), None)
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

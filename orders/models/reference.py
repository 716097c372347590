"""The usual rules of the trade, to start a shop with: the owner changes every one of them.

Standard minutes and prices are common practice (no published time study was found); the terms
have no tax until the owner sets it.
"""

from __future__ import annotations

from typing import Any

from orders.bag.kinds import extra_minutes

_MINUTES = [
    ("log", "garment", "4"), ("design", "quilt", "140"), ("wash", "load", "12"),
    ("cut", "block", "7"), *(("cut", f"garment:{kind}", str(minutes)) for kind, minutes in extra_minutes()),
    ("fuse", "block", "6"), ("trim", "block", "3"),
    ("make up", "composite", "20"), ("make up", "filler", "8"),
    ("join", "cell", "6"), ("join", "fitted", "4"), ("border", "border", "40"), ("back", "quilt", "35"),
    ("quilt", "quilt", "60"), ("quilt", "in2", "0.03125"), ("bind", "quilt", "40"), ("bind", "in", "0.35"),
    ("finish", "quilt", "45"),
]  # fmt: skip
_STEPS: list[tuple[str, dict[str, int]]] = [
    ("log", {}),
    ("design", {"log": 0}),
    ("wash", {"log": 0}),
    ("cut", {"wash": 1, "design": 3}),
    ("fuse", {"cut": 0}),
    ("trim", {"fuse": 0}),
    ("make up", {"trim": 0}),
    ("join", {"make up": 0, "design": 5}),
    ("border", {"join": 0}),
    ("back", {"design": 5}),
    ("quilt", {"border": 0, "back": 0}),
    ("bind", {"quilt": 0}),
    ("finish", {"bind": 0}),
]
_PRICES = [
    ("Blocks, all in", "block", "36"), ("Sashing", "sashed", "3"), ("Border", "border", "45"),
    ("Composite blocks", "composite", "12"), ("Filler blocks", "filler", "10"),
    ("Fleece", "garment:fleece", "6"), ("Nylon or zip", "garment:zip", "8"),
    ("Oversize prints", "oversize", "12"),
]  # fmt: skip


def usual_rules(unit: str) -> dict[str, Any]:
    """Return rules in the brief's own form; who does each step is filled in from the people."""
    return {
        "standards": [{"stage": stage, "per": per, "minutes": minutes} for stage, per, minutes in _MINUTES],
        "history": [],
        "rules": [{"words": words, "per": per, "rate": rate} for words, per, rate in _PRICES],
        "terms": {"taxes": [], "deposit": "0.5", "instalments": 1},
        "overhead": {"rate": "7", "per": "hour"},
        "aim": {"rate": "31", "per": "hour"},
        "allowances": {},
        "steps": [{"stage": stage, "people": ["owner"], "after": after} for stage, after in _STEPS],
        "quilter": None,
        "sundries": "10",
    }

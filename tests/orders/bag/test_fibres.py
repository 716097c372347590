"""Fiber labels, typed as people read them out."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from orders.bag.fibres import KNOWN, parse_fibres, rule_of, show_fibres
from planner.care import heat
from planner.problems import BadInput
from planner.quilt import Garment

# Rows of Annex I, Regulation (EU) 1007/2011; 1-20 and 44-50 seen in printed tables, the rest from memory.
ANNEX_I_ROWS = {
    "wool": 1, "alpaca": 2, "mohair": 2, "horsehair": 3, "silk": 4, "cotton": 5, "kapok": 6, "linen": 7,
    "hemp": 8, "jute": 9, "ramie": 14, "sisal": 15, "acetate": 19, "cupro": 21, "modal": 22, "protein": 23,
    "triacetate": 24, "viscose": 25, "acrylic": 26, "chlorofibre": 27, "modacrylic": 29, "polyamide": 30,
    "nylon": 30, "aramid": 31, "lyocell": 33, "polylactide": 34, "polyester": 35, "polypropylene": 37,
    "polyurethane": 39, "elastodiene": 42, "elastane": 43, "glass fibre": 44, "elastomultiester": 45,
    "elastolefin": 46, "melamine": 47, "metal": 48, "polyacrylate": 50,
}  # fmt: skip


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("60/40 cotton polyester", {"cotton": "60", "polyester": "40"}),
        ("60% cotton, 40% polyester", {"cotton": "60", "polyester": "40"}),
        ("Cotton 60 % Polyester 40 %", {"cotton": "60", "polyester": "40"}),
        ("40/60 cotton/polyester", {"polyester": "60", "cotton": "40"}),
        ("50/25/25 polyester, combed cotton and rayon", {"polyester": "50", "cotton": "25", "rayon": "25"}),
        ("100 cotton", {"cotton": "100"}),
        ("cotton", {"cotton": "100"}),
        ("52/48 ringspun cotton poly", {"cotton": "52", "polyester": "48"}),
        ("97% cotton 3% other fibers", {"cotton": "97", "other fibers": "3"}),
        ("95/5 viscose elastane", {"viscose": "95", "elastane": "5"}),
        ("66.5/33.5 cotton polyester", {"cotton": "66.5", "polyester": "33.5"}),
        ("label gone", {}),
        ("", {}),
    ],
)
def test_a_label_is_read_however_it_is_typed(typed, read):
    assert parse_fibres(typed) == read
    assert list(parse_fibres(typed)) == list(read)  # by predominance of weight, as 16 CFR 303.16 orders them


def test_the_two_fibers_of_the_rules_own_example_are_read():
    # 16 CFR 303.3: 96 % acetate, 4 % spandex, a fiber under 5 % named for its function
    assert parse_fibres("96% acetate 4% spandex") == {"acetate": "96", "spandex": "4"}


@pytest.mark.parametrize(
    ("typed", "fault"),
    [
        ("60/30 cotton polyester", "make 90, not 100"),
        ("60/50 cotton polyester", "make 110"),
        ("60 cotton polyester", "typed: 1, fibers: 2"),
        ("cotton polyester", "typed: 0, fibers: 2"),
        ("60/40 cotton cotton", "twice"),
        ("100 cotten", "“cotten” is no fiber"),
        ("100/0 cotton polyester", "more than 0"),
        ("60/40", "shares and the names"),
        ("<script>", "no fiber"),
    ],
)
def test_a_label_that_cannot_be_so_is_refused_with_what_to_do(typed, fault):
    with pytest.raises(BadInput, match=fault):
        parse_fibres(typed)


@given(st.lists(st.sampled_from(sorted(KNOWN)), min_size=1, max_size=5, unique=True), st.data())
def test_what_is_shown_can_be_typed_again_and_makes_a_garment(names, data):
    shares = [1] * len(names)
    for _ in range(100 - len(names)):
        shares[data.draw(st.integers(0, len(names) - 1))] += 1
    read = parse_fibres(" ".join(f"{share}% {name}" for share, name in zip(shares, names, strict=True)))
    assert parse_fibres(show_fibres(read)) == read
    Garment("S1", "tee", {name: Decimal(share) for name, share in read.items()})


def test_every_fiber_that_heat_knows_can_be_typed():
    assert {parse_fibres(name).popitem()[1] for name in heat.FIBRES} == {"100"}


@pytest.mark.parametrize(
    ("typed", "us", "europe"),
    [
        ("95/5 cotton spandex", {"cotton": "95", "spandex": "5"}, {"cotton": "95", "elastane": "5"}),
        ("95/5 rayon lycra", {"rayon": "95", "spandex": "5"}, {"viscose": "95", "elastane": "5"}),
        ("100 flax", {"linen": "100"}, {"flax": "100"}),
        ("97/3 wool other fibres", {"wool": "97", "other fibers": "3"}, {"wool": "97", "other fibres": "3"}),
        ("90/10 nylon metallic", {"nylon": "90", "metallic": "10"}, {"nylon": "90", "metal": "10"}),
    ],
)
def test_fibers_have_the_names_of_the_shops_place(typed, us, europe):
    # 16 CFR 303.7 in the US; Annex I of Regulation (EU) 1007/2011 in Europe
    assert parse_fibres(typed, country="US") == parse_fibres(typed, country="CA") == us
    assert parse_fibres(typed, country="DE") == parse_fibres(typed, country="GB") == europe


@pytest.mark.parametrize(("name", "row"), ANNEX_I_ROWS.items())
def test_every_name_of_annex_i_is_good_in_europe(name, row):
    assert parse_fibres(f"100 {name}", country="FR") == {name: "100"}, row


def test_a_name_that_europe_does_not_have_is_asked_about():
    with pytest.raises(
        BadInput, match="“olefin” is no fiber"
    ):  # polypropylene or polyethylene: the label says
        parse_fibres("100 olefin", country="FR")
    assert parse_fibres("100 olefin", country="US") == {"olefin": "100"}


@pytest.mark.parametrize("country", ["US", "DE"])
def test_a_common_blend_is_shown_as_it_is_tapped(country):
    for words in rule_of(country).blends:
        assert show_fibres(parse_fibres(words, country=country)) == words


@given(st.text(max_size=40))
def test_anything_typed_is_read_or_refused_in_words(text):
    try:
        shares = parse_fibres(text)
    except BadInput:
        return
    assert not shares or sum(map(Decimal, shares.values())) == 100

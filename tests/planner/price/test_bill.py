"""The price list and the lines it makes; bills as long-arm quilters and makers have printed them."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.layout.blocks import grid_quilt
from planner.price import Line, Rule, by_the_pillow, lines
from planner.problems import BadInput
from planner.quilt import PER, Bag, Border, Garment, Piece, Sashing
from planner.units import INCH, METRE, Money, Rate, Sides, Size

BLOCK = Size(14 * INCH, 14 * INCH)


def cents(amount: str, per: str = "each") -> Rate:
    """A rate in cents."""
    return Rate(Decimal(amount), "USD", per)


def quilted(width: int, height: int, rate: str) -> Money:
    """What quilting of a quilt of whole inches costs at cents a square inch."""
    quilt = grid_quilt(1, 1, Size(width * INCH, height * INCH))
    return lines(quilt, Bag(), [Rule("Quilting", "in2", cents(rate, "in2"))])[0].amount


@pytest.mark.parametrize(
    ("width", "height", "rate", "printed"),
    [
        # A maker's price page: 56 x 72 = 4032 square inches.
        (56, 72, "2", 8064),
        (56, 72, "3", 12096),
        (56, 72, "4", 16128),
        # K. Kusmaul's price page: 52 x 52 = 2704.
        (52, 52, "2.5", 6760),
        (52, 52, "3", 8112),
        (52, 52, "4", 10816),
        # A shop's article on long-arm prices.
        (60, 80, "2", 9600),
    ],
)
def test_quilting_by_the_square_inch_costs_what_is_printed(width, height, rate, printed):
    assert quilted(width, height, rate) == Money(printed, "USD")


@pytest.mark.parametrize(("rate", "printed"), [("15", 3840), ("30", 7680)])
def test_binding_by_the_inch_costs_what_is_printed(rate, printed):
    # The same maker's page: perimeter 256.
    quilt = grid_quilt(1, 1, Size(56 * INCH, 72 * INCH))
    (line,) = lines(quilt, Bag(), [Rule("Binding", "in", cents(rate, "in"))])
    assert (line.count, line.amount) == (256 * INCH, Money(printed, "USD"))


def test_cloth_by_area_costs_what_is_printed():
    # The same blog's formula: 80 x 80 x 4 / 1440 x 12.50.
    each = Rate(Decimal(1250) * 4 / 1440, "USD", "in2")
    assert each.on(80 * 80 * INCH**2) == Money(22222, "USD")


def test_each_rule_makes_one_line_in_the_order_of_the_list_and_extras_follow():
    label = Line.of("Embroidered label", Money(2500, "USD"))
    rules = [
        Rule("Border", "border", cents("4500")),
        Rule("Filler", "filler", cents("1000")),
        Rule("Sashing", "sashed", cents("300")),
    ]
    quilt = grid_quilt(2, 2, BLOCK, sashing=Sashing(2 * INCH), borders=(Border(Sides.all_round(INCH)),))
    made = lines(quilt, Bag(), rules, extras=(label,))
    assert [(each.words, each.count, each.amount.minor) for each in made] == [
        ("Border", 1, 4500),
        ("Filler", 4, 4000),
        ("Sashing", 4, 1200),
        ("Embroidered label", 1, 2500),
    ]


def test_what_the_quilt_has_none_of_makes_no_line():
    assert lines(grid_quilt(2, 2, BLOCK), Bag(), [Rule("Sashing", "sashed", cents("300"))]) == ()


def test_a_surcharge_is_counted_by_kind_or_flag_of_the_garment():
    cotton = {"cotton": Decimal(100)}
    garments = (
        Garment("01", "sweatshirt", cotton, flags=frozenset({"fleece"})),
        Garment("02", "tee", cotton),
    )
    pieces = tuple(
        Piece(f"{each.id}F", each.id, "front", Size(INCH, INCH), Sides.all_round(INCH)) for each in garments
    )
    quilt = grid_quilt(2, 1, BLOCK, pieces=("01F", "02F"))
    rules = [Rule(f"{word} surcharge", f"garment:{word}", cents("600")) for word in ("fleece", "tee", "robe")]
    made = lines(quilt, Bag(garments, pieces), rules)
    assert [each.words for each in made] == ["fleece surcharge", "tee surcharge"]


def test_a_metric_shop_prices_by_the_square_metre():
    quilt = grid_quilt(1, 1, Size(METRE, 2 * METRE))
    (line,) = lines(quilt, Bag(), [Rule("Quilting", "in2", Rate(3000, "EUR", "m2"))])
    assert line.amount == Money(6000, "EUR")


@pytest.mark.parametrize("per", [each for each in PER if each not in ("in", "in2", "plush-back")])
def test_what_is_counted_has_a_price_for_each(per):
    assert Rule("Words", per, cents("1")).kind == "labour"
    with pytest.raises(BadInput) as caught:
        Rule("Words", per, cents("1", "in2"))
    assert caught.value.field == "rate"


@pytest.mark.parametrize(
    ("per", "rate_per"), [("in2", "each"), ("in2", "in"), ("in", "each"), ("in", "in2"), ("in", "hour")]
)
def test_what_is_measured_has_a_price_by_its_measure(per, rate_per):
    with pytest.raises(BadInput) as caught:
        Rule("Words", per, cents("1", rate_per))
    assert caught.value.field == "rate"


@pytest.mark.parametrize(
    ("given_", "field"),
    [
        (("", "block"), "words"),
        (("Words", "order"), "per"),
        (("Words", "garment:"), "per"),
        (("Words", "garment: "), "per"),
        (("Words", "block", cents("1"), "labor"), "kind"),
    ],
)
def test_a_rule_that_makes_no_sense_cannot_be_built(given_, field):
    words, per, rate, kind = (*given_, *(cents("1"), "labour")[len(given_) - 2 :])
    with pytest.raises(BadInput) as caught:
        Rule(words, per, rate, kind)
    assert caught.value.field == field


@given(st.integers(1, 10**9), st.decimals(-100, 100, places=3), st.integers(-(10**6), 10**6))
def test_a_line_is_the_count_times_the_price_of_each_or_it_cannot_be_built(count, each, off):
    rate = Rate(each, "USD", "in")
    right = rate.on(count)
    assert Line("Binding", count, rate, right).amount == right
    if off:
        with pytest.raises(BadInput) as caught:
            Line("Binding", count, rate, Money(right.minor + off, "USD"))
        assert caught.value.field == "amount"


@pytest.mark.parametrize(
    ("words", "count", "amount", "kind", "field"),
    [
        (" ", 1, 100, "labour", "words"),
        ("Words", 0, 0, "labour", "count"),
        ("Words", 1.0, 100, "labour", "count"),
        ("Words", True, 100, "labour", "count"),
        ("Words", 1, 100, "gift", "kind"),
        ("Words", 1, 100, "credit", "each"),
    ],
)
def test_a_line_that_makes_no_sense_cannot_be_built(words, count, amount, kind, field):
    with pytest.raises(BadInput) as caught:
        Line(words, count, cents("100"), Money(amount, "USD"), kind)
    assert caught.value.field == field


def test_a_line_in_another_currency_than_its_rate_cannot_be_built():
    with pytest.raises(BadInput):
        Line("Words", 1, cents("100"), Money(100, "EUR"))


def test_a_credit_lowers_the_price():
    assert Line.of("For the hole in no. 09", Money(-2000, "USD"), kind="credit").amount.minor == -2000


@pytest.mark.parametrize(
    ("width", "height", "word"),
    [
        # Trade handbook 3.9: the usual grids of 14 in blocks, and S3 and S7.
        (42, 52, "baby"), (34, 50, "baby"), (50, 50, "lap"), (50, 66, "throw"), (54, 66, "throw"),
        (66, 82, "twin"), (66, 98, "twin-xl"), (82, 98, "full"), (98, 98, "queen"), (90, 96, "queen"),
        (114, 98, "king"), (140, 140, "king"),
    ],
)  # fmt: skip
def test_a_table_of_sizes_charges_a_whole_quilt_once_by_what_its_size_is_called(width, height, word):
    table = [Rule(f"{per}, all in", per, cents("30000")) for per in PER if per.startswith("size:")]
    for sides in ((width, height), (height, width)):
        quilt = grid_quilt(1, 1, Size(sides[0] * INCH, sides[1] * INCH))
        (line,) = lines(quilt, Bag(), table)
        assert (line.words, line.amount.minor) == (f"size:{word}, all in", 30000)


def test_plush_behind_a_quilt_is_charged_by_its_area_and_no_other_back_is():
    """Trade handbook 4.2: 1 to 1.5 cents a square inch; 50 × 66 at 1.2 is 39.60."""
    quilt = grid_quilt(1, 1, Size(50 * INCH, 66 * INCH))
    rule = Rule("Plush backing", "plush-back", cents("1.2", "in2"), "materials")
    (line,) = lines(quilt, Bag(), [rule], back="plush")
    assert line.amount == Money(3960, "USD")
    assert lines(quilt, Bag(), [rule], back="backing") == lines(quilt, Bag(), [rule]) == ()


def test_pillows_are_charged_each_without_a_layout_and_named_with_their_size():
    rules = [Rule("Blocks", "block", cents("3600")), Rule("Pillow", "pillow", cents("5550"))]
    (line,) = by_the_pillow(rules, 3, size="16 × 16 in")
    assert (line.words, line.count, line.amount) == ("Pillow, 16 × 16 in", 3, Money(16650, "USD"))
    assert line.each == rules[1].rate


def test_pillows_of_no_size_and_no_less_than_the_least():
    rules = [Rule("Pillow", "pillow", cents("3500"), least=Money(6000, "USD"))]
    assert [(each.words, each.amount.minor) for each in by_the_pillow(rules, 1)] == [
        ("Pillow, at least", 6000)
    ]
    assert [(each.words, each.amount.minor) for each in by_the_pillow(rules, 2)] == [("Pillow", 7000)]


def test_a_list_without_pillows_charges_none_and_a_quilt_is_not_charged_as_one():
    assert by_the_pillow([Rule("Blocks", "block", cents("3600"))], 1) == ()
    assert lines(grid_quilt(2, 2, BLOCK), Bag(), [Rule("Pillow", "pillow", cents("5500"))]) == ()

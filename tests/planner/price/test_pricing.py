"""The whole sum: it adds up, whatever the lines, and says what an hour brings."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.price import KINDS, Costs, Line, Tax, Terms, price
from planner.problems import BadInput
from planner.units import Money, Rate, total

HALF, QUARTER, SEVEN = Decimal("0.5"), Decimal("0.25"), (Tax(Decimal("0.07")),)
DOLLAR = Money(100, "USD")


def usd(text: str) -> Money:
    """Dollars written with cents."""
    return Money(int(Decimal(text) * 100), "USD")


def hourly(text: str) -> Rate:
    """Dollars an hour."""
    return Rate(Decimal(text) * 100, "USD", "hour")


def costs(materials="0", minutes=0, aim="0", overhead="0", outside="0", fees="0") -> Costs:
    """What a quilt costs, in dollars."""
    return Costs(usd(materials), usd(outside), usd(fees), minutes, hourly(overhead), hourly(aim))


def bill(*amounts: str) -> tuple[Line, ...]:
    """A line for each amount in dollars."""
    return tuple(Line.of(f"Line {number}", usd(each)) for number, each in enumerate(amounts))


SHARES = st.decimals(0, 1, places=3)
LINES = st.lists(
    st.builds(
        lambda minor, kind: Line.of(
            "Line", Money(-minor if kind == "credit" else minor * 10, "USD"), kind=kind
        ),
        st.integers(0, 10**5),
        st.sampled_from(KINDS),
    ),
    max_size=6,
).filter(lambda lines: sum(line.amount.minor for line in lines) >= 0)
TAXES = st.lists(
    st.builds(Tax, SHARES, st.frozensets(st.sampled_from(KINDS)), st.booleans()), max_size=3
).map(tuple)
TERMS = st.builds(
    Terms,
    taxes=TAXES,
    rush=SHARES,
    round_to=st.sampled_from([None, DOLLAR, Money(500, "USD")]),
    deposit=SHARES,
    instalments=st.integers(1, 6),
    tax_per=st.sampled_from(["invoice", "line"]),
)


@given(LINES, TERMS)
def test_lines_net_tax_total_deposit_and_instalments_add_up(lines, terms):
    pricing = price(lines, terms, costs())
    held = sum(each.amount.minor for each in pricing.taxes if each.inclusive)
    assert pricing.net + pricing.tax == pricing.total
    assert sum(line.amount.minor for line in pricing.lines) == pricing.net.minor + held
    assert total(pricing.instalments, "USD") + pricing.deposit == pricing.total
    assert abs(pricing.deposit.minor - pricing.total.minor * Fraction(terms.deposit)) <= Fraction(1, 2)
    assert len(pricing.instalments) == (0 if pricing.deposit == pricing.total else terms.instalments)


@given(LINES, TERMS, st.randoms(use_true_random=False))
def test_the_order_of_the_lines_does_not_change_the_sum(lines, terms, chance):
    shuffled = chance.sample(lines, len(lines))
    one, other = price(lines, terms, costs()), price(shuffled, terms, costs())
    assert replace(other, lines=one.lines) == one


@given(LINES, TERMS)
def test_the_lines_given_stay_as_they_are_and_only_rush_and_rounding_are_added(lines, terms):
    pricing = price(lines, terms, costs())
    assert pricing.lines[: len(lines)] == tuple(lines)
    assert {line.words.split(",")[0] for line in pricing.lines[len(lines) :]} <= {"Rush", "Rounding"}


@given(LINES, TERMS)
def test_a_visible_price_is_whole_when_the_shop_rounds(lines, terms):
    visible = sum(line.amount.minor for line in price(lines, terms, costs()).lines)
    assert visible % (terms.round_to.minor if terms.round_to else 1) == 0


@pytest.mark.parametrize(
    ("amounts", "round_to", "rounding"),
    [
        (("468.00",), DOLLAR, None),
        (("468.40",), DOLLAR, "-0.40"),
        (("468.50",), DOLLAR, "0.50"),
        (("0.20", "468.20"), DOLLAR, "-0.40"),
        (("468.00",), Money(500, "USD"), "2.00"),
        (("468.40",), None, None),
    ],
)
def test_a_rounding_line_stands_on_the_bill_only_when_needed(amounts, round_to, rounding):
    last = price(bill(*amounts), Terms(round_to=round_to), costs()).lines[-1]
    if rounding is None:
        assert last.words != "Rounding"
    else:
        assert (last.words, last.amount) == ("Rounding", usd(rounding))


def test_a_rush_order_costs_its_share_more_than_the_same_order_unhurried():
    calm, hurried = (
        price(bill("351.00"), Terms(rush=rush, round_to=DOLLAR), costs()) for rush in (Decimal(0), QUARTER)
    )
    assert hurried.net - calm.net == usd("88.00")
    assert hurried.lines[-1] == Line.of("Rush, 25 %", usd("88.00"))


def test_a_rush_of_a_tenth_of_a_percent_is_named_as_such():
    assert price(bill("1000.00"), Terms(rush=Decimal("0.125")), costs()).lines[-1].words == "Rush, 12.5 %"


@given(st.integers(0, 10**7), SHARES, st.integers(1, 12))
def test_instalments_differ_by_at_most_one_minor_unit_the_larger_first(minor, deposit, parts):
    pricing = price(
        [Line.of("Quilt", Money(minor, "USD"))], Terms(deposit=deposit, instalments=parts), costs()
    )
    sizes = [each.minor for each in pricing.instalments]
    assert sizes == sorted(sizes, reverse=True)
    assert not sizes or sizes[0] - sizes[-1] <= 1


def test_a_quilt_paid_whole_beforehand_has_no_instalments():
    pricing = price(bill("100.00"), Terms(deposit=Decimal(1), instalments=3), costs())
    assert (pricing.deposit, pricing.instalments) == (usd("100.00"), ())


def test_nothing_to_pay_for_comes_to_nothing():
    pricing = price((), Terms(SEVEN, deposit=HALF, round_to=DOLLAR), costs())
    assert (pricing.lines, pricing.total, pricing.instalments) == ((), usd("0"), ())


def test_prices_without_cents_stay_without_them():
    yen = Rate(0, "JPY", "hour")
    none = Money(0, "JPY")
    pricing = price(
        [Line.of("Quilt", Money(33333, "JPY"))],
        Terms((Tax(Decimal("0.1")),), deposit=HALF, instalments=2),
        Costs(none, none, none, 0, yen, yen),
    )
    assert [each.minor for each in (pricing.tax, pricing.total, pricing.deposit)] == [3333, 36666, 18333]


def test_an_hour_brings_the_take_before_tax_divided_by_all_minutes():
    # Trade handbook 4.4: 468 less 87 over 14.6 h printed as 26.11, less 7 overhead 19.11 (within 1 %).
    pricing = price(bill("468.00"), Terms(SEVEN), costs("87", 876, "31", "7"))
    assert pricing.hour == usd("26.10")
    assert pricing.hour.minor == pytest.approx(2611, rel=0.01)
    assert pricing.wage == usd("19.10")
    assert pricing.wage.minor == pytest.approx(1911, rel=0.01)


def test_outside_work_and_fees_are_taken_off_before_the_hour():
    pricing = price(bill("780.00"), Terms(), costs("100", 600, outside="108", fees="12"))
    assert pricing.hour == usd("56.00")


def test_a_job_that_loses_money_says_so():
    pricing = price(bill("50.00"), Terms(), costs("87", 60, overhead="7"))
    assert (pricing.hour, pricing.wage) == (usd("-37.00"), usd("-44.00"))


def test_without_minutes_there_is_no_hour_to_speak_of():
    pricing = price(bill("50.00"), Terms(), costs("20", 0, "31"))
    assert (pricing.hour, pricing.wage, pricing.net_at_aim) == (None, None, usd("20.00"))


def test_the_net_at_the_aim_is_cost_plus():
    # A blog on pricing a baby quilt, June 2014: materials 43.50 and 12 h at 15.00 make 223.50.
    assert price((), Terms(), costs("43.50", 720, "15")).net_at_aim == usd("223.50")
    assert price((), Terms(round_to=DOLLAR), costs("43.50", 720, "15")).net_at_aim == usd("224.00")


def test_time_plus_comes_to_what_is_printed():
    # A blog on a cat quilt, April 2013: 27 h at 25 and 18 h at 20 make 675 and 360, together 1035.
    piecing = Line("Piecing", 27 * 60, hourly("25"), usd("675"))
    quilting = Line("Quilting", 18 * 60, hourly("20"), usd("360"))
    assert price((piecing, quilting), Terms(), costs()).net == usd("1035")


@given(
    st.integers(1, 6000),
    st.integers(0, 10**5),
    st.decimals(0, 100, places=2),
    st.sampled_from([None, DOLLAR]),
)
def test_the_net_at_the_aim_brings_the_aim_and_no_whole_step_less_would(minutes, materials, aim, round_to):
    what = Costs(Money(materials, "USD"), usd("0"), usd("0"), minutes, hourly("0"), hourly(str(aim)))
    net = price((), Terms(round_to=round_to), what).net_at_aim
    step = round_to.minor if round_to else 1

    def brings(minor: int) -> bool:
        return Fraction(minor - materials) * 60 / minutes >= Fraction(aim) * 100

    assert net.minor % step == 0
    assert brings(net.minor)
    assert not brings(net.minor - step)


@pytest.mark.parametrize(
    ("field", "off"),
    [("net", "total"), ("tax", "taxes"), ("total", "total"), ("deposit", "instalments")],
)
def test_a_pricing_that_does_not_add_up_cannot_be_built(field, off):
    pricing = price(bill("351.00", "88.00"), Terms(SEVEN, deposit=HALF, instalments=3), costs())
    with pytest.raises(BadInput) as caught:
        replace(pricing, **{field: getattr(pricing, field) + Money(1, "USD")})
    assert caught.value.field == off


@pytest.mark.parametrize(
    ("field", "off"), [("lines", "lines"), ("instalments", "instalments"), ("taxes", "taxes")]
)
def test_a_pricing_with_a_part_left_out_cannot_be_built(field, off):
    pricing = price(bill("351.00", "88.00"), Terms(SEVEN, deposit=HALF, instalments=3), costs())
    with pytest.raises(BadInput) as caught:
        replace(pricing, **{field: getattr(pricing, field)[:-1]})
    assert caught.value.field == off


def test_credits_beyond_the_price_are_refused_with_what_would_help():
    refund = Line.of("Credit", usd("-200.00"), kind="credit")
    with pytest.raises(BadInput, match="pay the difference back"):
        price((*bill("100.00"), refund), Terms(), costs())


@pytest.mark.parametrize(
    ("lines", "terms", "field"),
    [
        ((*bill("1.00"), Line.of("Cloth", Money(100, "EUR"))), Terms(), "lines[1].amount"),
        (bill("1.00"), Terms(round_to=Money(100, "EUR")), "terms.round_to"),
    ],
)
def test_a_bill_is_in_one_currency(lines, terms, field):
    with pytest.raises(BadInput) as caught:
        price(lines, terms, costs())
    assert caught.value.field == field


@pytest.mark.parametrize(
    "wrong",
    [
        {"rush": Decimal(25)},
        {"rush": 0.25},
        {"deposit": Decimal("1.01")},
        {"deposit": 0.5},
        {"instalments": 0},
        {"instalments": 2.0},
        {"round_to": Money(0, "USD")},
    ],
)
def test_terms_that_make_no_sense_cannot_be_built(wrong):
    with pytest.raises(BadInput) as caught:
        Terms(**wrong)
    assert [caught.value.field] == list(wrong)


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"materials": usd("-1")}, "materials"),
        ({"outside": Money(1, "EUR")}, "currency"),
        ({"minutes": -1}, "minutes"),
        ({"minutes": 14.6}, "minutes"),
        ({"aim": Rate(31, "USD")}, "aim"),
        ({"overhead": Rate(7, "USD", "in")}, "overhead"),
        ({"overhead": Rate(7, "EUR", "hour")}, "currency"),
    ],
)
def test_costs_that_make_no_sense_cannot_be_built(wrong, field):
    with pytest.raises(BadInput) as caught:
        replace(costs("1", 60, "31", "7"), **wrong)
    assert caught.value.field == field

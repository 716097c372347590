"""Fat quarters beside the yardage: reckoned in the background, told where they cost less, then bought."""

from __future__ import annotations

from dataclasses import replace

import pytest

from orders.background import errands
from orders.cloth import quarters, shopping, takes
from orders.cloth.cloth_needs import needs_of, set_aside
from orders.cloth.wanted import Wanted, wanted_of
from orders.models import Cloth, Errand, Event, Order
from orders.quilt.drawn import room_of
from planner.units import INCH, METRE, YARD, Money, Size

pytestmark = pytest.mark.django_db
GOLD = "Gold"  # the cornerstones


@pytest.fixture
def gold(drawn):
    """Gold: none here, 12.00 a yard, a fat quarter at 1.00, and a quarter of a yard is its least."""
    gold = Cloth.objects.get(name=GOLD)
    gold.pieces.all().delete()
    Cloth.objects.filter(pk=gold.pk).update(quarter_price=100, step=YARD // 4)
    return Cloth.objects.get(pk=gold.pk)


def compared(order, shop):
    cloths = list(Cloth.objects.for_quilt(order))
    needs = needs_of(room_of(order, shop).offer, order, cloths)
    return quarters.compare(order, shop, cloths, needs)


def test_nothing_is_reckoned_before_the_background_has_done_it(drawn, gold, shop, monkeypatch):
    def refuse(*_, **__):
        raise AssertionError("reckoned in a request")

    monkeypatch.setattr(quarters, "reckon", refuse)
    assert compared(drawn, shop) == ((), False)
    assert Errand.objects.filter(kind=takes.KIND).count() == 1


def test_both_ways_stand_side_by_side_where_quarters_cost_less(drawn, gold, shop):
    """By hand: 20 corners of 2½ in are one strip and 4 more, two strips of 5 in, so ¼ yd at 3.00.

    One quarter of 20 × 18 in gives 8 × 7 = 56 of them, at 1.00.
    """
    compared(drawn, shop)
    errands.run_due()
    (found,), is_known = compared(drawn, shop)
    assert is_known
    bolt, pieces = found.ways
    assert (found.part, bolt.buy, bolt.cost.minor) == ("Cornerstones", YARD // 4, 300)
    assert (pieces.quarters, pieces.cost.minor, pieces.package) == (1, 100, Size(20 * INCH, 18 * INCH))


@pytest.mark.parametrize("each", [300, 301, None])
def test_quarters_that_cost_as_much_or_are_not_sold_are_not_named(drawn, gold, shop, each):
    Cloth.objects.filter(pk=gold.pk).update(quarter_price=each)
    compared(drawn, shop)
    errands.run_due()
    assert compared(drawn, shop) == ((), True)


def test_another_price_of_a_quarter_is_reckoned_anew(drawn, gold, shop):
    compared(drawn, shop)
    errands.run_due()
    gold.change(seen=gold.version, quarter_price=250)
    assert compared(drawn, shop) == ((), False)
    errands.run_due()
    (found,), _ = compared(drawn, shop)
    assert found.ways[1].cost.minor == 250


def test_what_lies_here_asks_for_no_quarters(drawn, gold, shop, ada):
    gold.put_on_shelf(YARD, by=ada)
    assert compared(drawn, shop) == ((), True)
    assert not Errand.objects.filter(kind=takes.KIND).exists()


def test_a_metric_shop_counts_metric_quarters(gold, shop):
    shop.unit = "cm"
    gold.usable = METRE * 107 // 100
    assert quarters.size_of(gold, shop) == Size(METRE // 2, METRE // 2)


@pytest.mark.parametrize(("person", "money"), [("ada", True), ("bo", False)])
def test_the_card_says_how_many_and_the_price_to_the_owner_alone(
    client, drawn, gold, shop, request, *, person, money
):
    client.force_login(request.getfixturevalue(person))
    address = f"/quilts/{drawn.number}/quilt/"
    assert "Whether fat quarters cost less is being reckoned" in client.get(address).content.decode()
    errands.run_due()
    page = " ".join(client.get(address).content.decode().replace("\N{NO-BREAK SPACE}", " ").split())
    part = page[page.index("Other ways, side by side") :].split("</details>")[0]
    assert "being reckoned" not in part
    assert ("1 fat quarter, $1.00" in part) == money
    assert "1 fat quarter" in part
    assert ("$" in part) == money


@pytest.fixture
def sold(agreed):
    """Gold for an agreed quilt: none here, sold by the quarter of a yard and as fat quarters at 1.00."""
    gold = Cloth.objects.get(name=GOLD)
    gold.pieces.all().delete()
    Cloth.objects.filter(pk=gold.pk).update(quarter_price=100, step=YARD // 4)
    return Cloth.objects.get(pk=gold.pk)


def line_of(shop):
    return {line.cloth.name: line for line in shopping.shopping_list(shop).lines}.get(GOLD)


def known_of(agreed, shop):
    takes.ask(agreed, shop)
    errands.run_due()


def test_the_list_names_the_quarters_that_cost_less_and_adds_the_cheaper(agreed, sold, shop):
    known_of(agreed, shop)
    found = shopping.shopping_list(shop)
    line = line_of(shop)
    assert (line.buy, line.cost.minor, line.quarters, line.quarters_cost.minor) == (YARD // 4, 300, 1, 100)
    assert found.total.minor == sum(each.least.minor for each in found.lines if each.least)
    assert line.least.minor == 100


def test_quarters_that_were_bought_lie_on_the_shelf_once_and_are_on_the_list_no_more(agreed, sold, shop, ada):
    known_of(agreed, shop)
    for _ in range(2):
        quarters.bought(sold, 1, by=ada, client_id="till-1")
    fresh = Cloth.objects.with_pieces().get(pk=sold.pk)
    assert [(each.width, each.length, each.part) for each in fresh.here] == [
        (20 * INCH, 18 * INCH, "fat quarter")
    ]
    assert Event.objects.filter(what="cloth bought").count() == 1
    assert agreed in shopping.shopping_list(shop).being_reckoned
    errands.run_due()
    assert line_of(shop) is None


def test_what_is_set_aside_of_quarters_is_neither_short_nor_bought(agreed, sold, shop, ada):
    known_of(agreed, shop)
    quarters.bought(sold, 1, by=ada, client_id="till-1")
    cloths = list(Cloth.objects.for_quilt(agreed))
    set_aside(agreed, needs_of(room_of(agreed, shop).offer, agreed, cloths), by=ada)
    shopping.shopping_list(shop)
    errands.run_due()
    assert line_of(shop) is None
    fresh = Cloth.objects.with_pieces().get(pk=sold.pk)
    assert (fresh.on_hand, fresh.short) == (0, 0)
    assert 0 < fresh.spoken_for <= 18 * INCH


def test_two_quilts_never_count_on_the_same_quarter(agreed, aunt, sold, shop, ada):
    """By hand: one quarter of 18 in lies here, each quilt takes 10 in of it, so one has to buy its 10 in."""
    sold.put_on_shelf(18 * INCH, width=20 * INCH, by=ada)
    other = Order.objects.open(title="Another", customer=aunt, by=ada)
    take = takes.Take(GOLD, ("cornerstone",), 10 * INCH, 0, narrow=10 * INCH)
    cloth = Cloth.objects.with_pieces().get(pk=sold.pk)
    wanted, here = wanted_of(cloth, [(agreed, take), (other, take)])
    assert [(each.order, each.length) for each in wanted] == [(other, 10 * INCH)]
    assert here == ()


def test_where_two_quilts_share_what_lies_here_quarters_are_not_named(agreed, aunt, sold, shop, ada):
    other = Order.objects.open(title="Another", customer=aunt, by=ada)
    wanted = tuple(Wanted(each, ("cornerstone",), 5 * INCH, 0, quarters=(1, 100)) for each in (agreed, other))
    cost = Money(300, "USD")
    empty = Cloth.objects.with_pieces().get(pk=sold.pk)
    line = shopping.Line(empty, 0, 10 * INCH, YARD // 4, cost, wanted, None, None)
    assert shopping._with_quarters(line).quarters == 2
    sold.put_on_shelf(INCH, by=ada)
    lies = Cloth.objects.with_pieces().get(pk=sold.pk)
    assert shopping._with_quarters(replace(line, cloth=lies)).quarters == 0

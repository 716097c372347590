"""Fat quarters beside the yardage: reckoned in the background, told where they cost less, then bought."""

from __future__ import annotations

import pytest

from orders.background import errands
from orders.cloth import quarters, takes
from orders.cloth.cloth_needs import needs_of
from orders.models import Cloth, Errand
from orders.quilt.drawn import room_of
from planner.units import INCH, METRE, YARD, Size

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

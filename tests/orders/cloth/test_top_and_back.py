"""One cloth for the top and the back of a quilt: what lies here is never counted twice."""

import pytest

from orders.background import errands
from orders.cloth import shopping, takes
from orders.cloth.cloth_needs import needs_of
from orders.models import Cloth, Order
from orders.planning import bolt_of
from orders.quilt import layouts
from orders.quilt.drawn import room_of
from planner.units import YARD

pytestmark = pytest.mark.django_db


@pytest.fixture
def forest_back(agreed, shop, ada):
    """The quilt of Forest, its back of the same."""
    layouts.dress(agreed, {"backing": "Forest"}, "Forest behind", version=agreed.version, by=ada)
    return Order.objects.get(pk=agreed.pk)


def of_forest(order, shop, *, lies):
    Cloth.objects.get(name="Forest").pieces.update(length=lies)
    found = needs_of(room_of(order, shop).offer, order, Cloth.objects.for_quilt(order))
    return [each for each in found if each.cloth == "Forest"]


def test_what_the_back_takes_is_not_here_for_the_top(forest_back, shop):
    top, back = of_forest(forest_back, shop, lies=30 * YARD)
    assert (top.buy, back.buy, back.roles) == (0, 0, ("backing",))
    here = max(top.length, back.length)
    both = of_forest(forest_back, shop, lies=here)
    bolt = bolt_of(Cloth.objects.get(name="Forest"), shop)
    assert here + sum(bolt.gives(each.buy) for each in both if each.buy) >= top.length + back.length
    assert all((each.cost is None) == (each.buy == 0) or each.cost.minor >= 0 for each in both)


def test_the_list_buys_for_both(forest_back, shop):
    top, back = of_forest(forest_back, shop, lies=YARD // 8)
    takes.ask(forest_back, shop)
    errands.run_due()
    line = next(each for each in shopping.shopping_list(shop).lines if each.cloth.name == "Forest")
    assert line.spoken_for == top.length + back.length
    assert line.buy + line.here >= top.length + back.length

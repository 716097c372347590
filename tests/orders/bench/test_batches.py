"""The iron over all quilts: one heat a batch, coolest first, whatever quilt a piece is of."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from orders.bench.batches import waiting_for_the_iron
from orders.models import Block, Piece
from planner.units import INCH
from tests.orders.workbench import another, cut

pytestmark = pytest.mark.django_db
ROUGH = 2 * INCH


@pytest.fixture
def all_cut(order, twelve_shirts, shop, shelf, ada):
    Piece.objects.filter(shirt__number=3).update(print_kind="vinyl")
    return cut(order, shop, ada)


def test_pieces_of_two_quilts_that_bear_the_same_heat_are_one_batch(all_cut, shop, ada):
    other = another(all_cut, shop, ada, 2, prints="vinyl")
    batches = waiting_for_the_iron(rough=ROUGH)
    assert [each.batch.heat for each in batches] == [270, 300]
    assert batches[0].orders == (all_cut, other)
    assert set(batches[0].names) >= {f"{all_cut.number}-03F", f"{other.number}-03F"}
    assert len(batches[0].names) == 13


def test_what_is_held_or_resting_is_in_no_batch(all_cut, ada):
    Block.objects.filter(cell=all_cut.blocks.first().cell).update(held="melted, it waits")
    assert sum(len(each.names) for each in waiting_for_the_iron(rough=ROUGH)) == 11
    all_cut.pause(why="until he writes", by=ada)
    assert waiting_for_the_iron(rough=ROUGH) == ()


def test_three_more_quilts_ask_no_more_queries(all_cut, shop, ada):
    with CaptureQueriesContext(connection) as one:
        waiting_for_the_iron(rough=ROUGH)
    for number in range(3):
        another(all_cut, shop, ada, number)
    with CaptureQueriesContext(connection) as four:
        found = waiting_for_the_iron(rough=ROUGH)
    assert sum(len(each.names) for each in found) == 48
    assert len(four) == len(one)

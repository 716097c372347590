"""A block of two pieces of which one is contested: each is agreed to by itself, and cut with both yeses."""

from __future__ import annotations

import pytest

from orders.bench import work
from orders.models import Cut, NoYes, Order, Piece, cut
from orders.quilt.blocks import pieces_by_cell
from orders.yes import asking, yes_to_cut
from orders.yes.yes_to_cut import Said
from tests.orders.workbench import draw, two_in_one
from tests.orders.yeses import AUNT, ask_singly, aunt_says, standing

pytestmark = pytest.mark.django_db
SISTER, BROTHER = "His sister", "His brother"


@pytest.fixture
def order_with_two_in_one(order, twelve_shirts, shop, shelf, ada) -> Order:
    laid = draw(order, shop, ada)
    two_in_one(laid, ada)
    return Order.objects.get(pk=laid.pk)


def two_of(order: Order) -> tuple[Piece, Piece]:
    contested, other = pieces_by_cell(order)[order.design.quilt.cells[0].id]
    return contested, other


def block(order: Order):
    return order.blocks.get(cell=order.design.quilt.cells[0].id)


def test_only_the_contested_piece_of_a_block_is_asked_about_by_itself(order_with_two_in_one, ada):
    order = order_with_two_in_one
    contested, other = two_of(order)
    ask_singly(ada, contested.shirt.number, SISTER, BROTHER)
    asked = asking.asking_of(order, order.design.quilt)
    assert [each.asked.piece for each in asked.singles] == [contested]
    assert contested not in [each.piece for each in asked.to_ask]
    assert other in [each.piece for each in asked.to_ask]
    yes_to_cut.say_for_pile(order, asking.pieces_to_ask(order), aunt_says(), by=ada)
    assert len(standing()) == 11
    assert str(contested) not in standing()
    assert str(other) in standing()


def test_each_contested_piece_of_a_block_has_its_own_tap(client, order_with_two_in_one, ada):
    order = order_with_two_in_one
    client.force_login(ada)
    for piece in two_of(order):
        ask_singly(ada, piece.shirt.number, SISTER, BROTHER)
    url = f"/quilts/{order.number}/bag/yes/"
    page = client.get(url).content.decode()
    for piece in two_of(order):
        assert page.count(f'formaction="{url}{piece.pk}/"') == 2, "a tap for each name"
    contested, _ = two_of(order)
    client.post(f"{url}{contested.pk}/", {"name": SISTER, "how": "person"})
    client.post(f"{url}{contested.pk}/", {"name": BROTHER, "how": "person"})
    assert standing() == [str(contested)]


def test_the_block_is_cut_when_the_last_name_has_said_yes(order_with_two_in_one, ada, bo):
    order = order_with_two_in_one
    contested, other = two_of(order)
    ask_singly(ada, contested.shirt.number, SISTER, BROTHER)
    for by in (ada, bo):
        yes_to_cut.look(order, contested, by=by)
    yes_to_cut.say_for_pile(order, asking.pieces_to_ask(order), aunt_says(), by=ada)
    yes_to_cut.say_for_one(order, contested, Said(SISTER, "phone"), by=ada)
    with pytest.raises(work.NotYet, match=f"{contested} cannot be cut with a pile"):
        work.do_pile(order, "cut", [block(order).pk], by=ada)
    with pytest.raises(NoYes):
        cut([contested], by=ada)
    assert not Cut.objects.exists()
    yes_to_cut.say_for_one(order, contested, Said(BROTHER, "phone"), by=ada)
    cut([contested, other], by=ada)
    assert {each.approved.piece for each in Cut.objects.all()} == {contested, other}
    assert {each.approved.consent.said_by for each in Cut.objects.all()} == {BROTHER, AUNT}

"""The second look before the blade: who looked, and what is enough."""

from __future__ import annotations

import pytest

from orders.models import Look, Order, Piece
from orders.yes import yes_to_cut
from orders.yes.yes_to_cut import Said
from tests.orders.workbench import draw, let_help
from tests.pages.quilt_room import words_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def place(client, ada, order, shop, twelve_shirts):
    Order.objects.update(memorial=True)
    order.refresh_from_db()
    draw(order, shop, ada)
    client.force_login(ada)
    pieces = list(Piece.objects.select_related("shirt"))
    yes_to_cut.say_for_pile(order, pieces, Said(order.approver, "person"), by=ada)
    return f"/quilts/{order.number}/bench/second-look/"


def text(client, place):
    return words_of(client.get(place).content.decode())


def first_piece():
    return Piece.objects.get(shirt__number=1)


def test_two_people_look_one_after_the_other(client, place, bo):
    assert "I looked at 01F" in text(client, place)
    assert client.post(f"{place}{first_piece().pk}/").url == place
    page = text(client, place)
    assert "Ada looked, today" in page
    assert "One more look: somebody else’s today" in page
    client.force_login(bo)
    client.post(f"{place}{first_piece().pk}/")
    assert "Two have looked" in text(client, place)


def test_a_look_sent_twice_is_one(client, place):
    for _ in range(2):
        client.post(f"{place}{first_piece().pk}/")
    assert Look.objects.count() == 1


def test_the_table_says_what_waits_for_a_second_look_and_cuts_what_had_it(client, place, order, ada, bo):
    let_help(ada, "cut")
    table = f"/quilts/{order.number}/bench/table/"
    page = text(client, table)
    assert "31-01F" not in page.split("Not yet")[0]
    assert "wants a second look" in page
    assert "Look twice before the blade" in page
    block = order.blocks.get(piece=first_piece())
    answer = client.post(table, {"block": [block.pk]})
    assert answer.status_code == 422
    assert "wants a second look: somebody else’s today, or yours after a night." in words_of(
        answer.content.decode()
    )
    for person in (ada, bo):
        yes_to_cut.look(order, first_piece(), by=person)
    assert client.post(table, {"block": [block.pk]}).status_code == 302
    block.refresh_from_db()
    assert block.progress == "cut"


def test_nothing_to_look_at_says_for_what_it_is(client, place, order):
    Order.objects.update(memorial=False)
    assert "Nothing in this quilt asks for a second look" in text(client, place)


def test_a_piece_that_is_not_of_this_order_is_not_found(client, place):
    assert client.post(f"{place}99999/").status_code == 404
    assert client.get(f"{place}{first_piece().pk}/").status_code == 405

"""At the table: what is contested has its own picture and its own button, outside the pile."""

import pytest

from orders.models import Cut, Order
from orders.yes import yes_to_cut
from orders.yes.yes_to_cut import Said
from tests.orders.workbench import draw, let_help, say_yes_to_cut
from tests.orders.yeses import AUNT, ask_singly, piece
from tests.pages.quilt_room import words_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def table(client, order, twelve_shirts, shop, shelf, ada, bo):
    draw(order, shop, ada)
    let_help(bo, "cut")
    say_yes_to_cut(order, ada)
    ask_singly(ada, 7, AUNT, "Her sister")
    for name in (AUNT, "Her sister"):
        yes_to_cut.say_for_one(order, piece(7), Said(name, "person"), by=ada)
    for person in (ada, bo):
        yes_to_cut.look(order, piece(7), by=person)
    client.force_login(bo)
    return f"/quilts/{order.number}/bench/table/"


def one(table, number):
    return f"{table}pieces/{piece(number).pk}/"


def test_it_is_shown_apart_from_the_pile_and_cut_by_its_own_tap(client, table):
    words = words_of(client.get(table).content.decode())
    assert "All 11 cut" in words
    assert "1-07F is held and cut" in words.split("One at a time")[1]
    assert client.post(one(table, 7)).url == table
    assert Cut.objects.get().approved.piece == piece(7)
    words = words_of(client.get(table).content.decode())
    assert "1-07F is cut" in words
    assert "One at a time" not in words


def test_sent_twice_it_is_cut_once(client, table):
    for _ in range(2):
        assert client.post(one(table, 7)).status_code == 302
    assert Cut.objects.count() == 1


def test_a_pile_from_an_older_page_does_not_take_it_along(client, table, order):
    blocks = list(order.blocks.exclude(piece=None).values_list("pk", flat=True))
    answer = client.post(table, {"block": blocks})
    assert answer.status_code == 422
    assert "1-07F cannot be cut with a pile" in answer.content.decode()
    assert not Cut.objects.exists()


def test_the_last_one_leads_back_to_the_bench(client, table, order):
    usual = order.blocks.exclude(piece=piece(7)).values_list("pk", flat=True)
    assert client.post(table, {"block": list(usual)}).url == table
    assert client.post(one(table, 7)).url == f"/quilts/{order.number}/bench/"


def test_a_yes_withdrawn_meanwhile_is_said_and_a_strange_piece_is_not_here(client, table, order, ada):
    yes_to_cut.take_back_piece(order, piece(7), by=ada)
    answer = client.post(one(table, 7))
    assert answer.status_code == 422
    assert "1-07F has no yes to cut" in answer.content.decode()
    assert client.post(f"{table}pieces/999999/").status_code == 404
    other = Order.objects.open(title="Another", customer=order.customer, by=ada)
    assert client.post(f"/quilts/{other.number}/bench/table/pieces/{piece(7).pk}/").status_code == 404


def test_looking_cuts_nothing(client, table):
    assert client.get(one(table, 7)).status_code == 405
    assert not Cut.objects.exists()

"""The iron over all quilts, and the taps of a tablet: each page question, and STOP for a helper."""

import pytest

from orders.models import Block, Event, Incident, Piece
from orders.models.event import Tap
from tests.orders.workbench import another, cut, let_help

pytestmark = pytest.mark.django_db


@pytest.fixture
def all_cut(order, twelve_shirts, shop, shelf, ada):
    Piece.objects.filter(shirt__number__in=[3, 7]).update(print_kind="vinyl")
    return cut(order, shop, ada)


@pytest.fixture
def signed_in(client, ada):
    client.force_login(ada)
    return client


def seen(client):
    answer = client.get("/bench/iron/")
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split()).replace("\N{NO-BREAK SPACE}", " ")


def cool(order):
    return list(order.blocks.filter(piece__print_kind="vinyl").values_list("pk", flat=True))


def test_the_coolest_batch_comes_first_with_each_piece_by_name_and_as_it_lies(signed_in, all_cut):
    words = seen(signed_in)
    assert words.index("limit 270 °F") < words.index("limit 300 °F")
    assert f"{all_cut.number}-03F as it lies on the board, wrong side up" in words
    assert "Print face down" in words
    assert "All 2 of this batch done" in words


def test_a_batch_of_two_quilts_is_done_with_one_tap(signed_in, all_cut, shop, ada):
    other = another(all_cut, shop, ada, 2, prints="vinyl")
    blocks = [*cool(all_cut), *cool(other)]
    sent = {"place": "iron", "block": blocks, "client_id": "one-tap"}
    for _ in range(2):
        answer = signed_in.post("/bench/taps/", sent)
        assert (answer.status_code, answer.json()) == (200, {"done": 14, "next": ""})
    assert Block.objects.filter(pk__in=blocks, progress="fused").count() == 14
    assert Event.objects.filter(what="bench", facts__stage="fuse").count() == Tap.objects.count() == 2


def test_all_but_one_leaves_one(signed_in, all_cut):
    first, second = cool(all_cut)
    assert (
        signed_in.post(
            "/bench/iron/", {"place": "iron", "block": [first, second], "but": [first]}
        ).status_code
        == 302
    )
    assert Block.objects.get(pk=first).progress == "cut"
    assert Block.objects.get(pk=second).progress == "fused"


@pytest.mark.parametrize(
    "sent",
    [
        {},
        {"place": "attic", "block": ["1"]},
        {"place": "iron"},
        {"place": "iron", "block": ["many"]},
        {"place": "iron", "block": ["999999999999999999999"]},
        {"place": "iron", "block": ["1"], "client_id": "no such id!"},
    ],
)
def test_a_tap_that_makes_no_sense_is_refused_with_a_sentence(signed_in, all_cut, sent):
    answer = signed_in.post("/bench/taps/", sent)
    assert answer.status_code == 422
    assert answer.json()["fault"]


def test_a_tap_is_never_a_get(signed_in, all_cut):
    assert signed_in.get("/bench/taps/").status_code == 405
    assert signed_in.get("/bench/iron/incident/").status_code == 405


def test_whoever_is_signed_out_is_led_to_the_door(client, all_cut):
    assert client.get("/bench/iron/").status_code == 302
    assert client.post("/bench/taps/", {"place": "iron", "block": cool(all_cut)}).status_code == 302
    assert not Block.objects.filter(progress="fused").exists()


def test_a_helper_stops_where_the_limit_is_low(client, all_cut, bo):
    let_help(bo, "fuse")
    client.force_login(bo)
    words = seen(client)
    assert "Stop: limit 270 °F. The owner presses 2 pieces." in words
    assert "All 10 of this batch done" in words
    answer = client.post("/bench/taps/", {"place": "iron", "block": cool(all_cut), "client_id": "x"})
    assert "Stop: the owner presses it" in answer.json()["fault"]


def test_not_right_stops_the_whole_batch_in_both_quilts_and_go_on_lets_both_go(signed_in, all_cut, shop, ada):
    other = another(all_cut, shop, ada, 2, prints="vinyl")
    mine, theirs = cool(all_cut), cool(other)
    sent = {"what": "melted", "block": mine[0], "batch": [*mine, *theirs], "client_id": "r"}
    answer = signed_in.post("/bench/iron/incident/", sent)
    made = Incident.objects.get()
    assert answer.url == f"/incidents/{made.pk}/"
    assert made.order == all_cut
    assert Block.objects.filter(pk__in=[*mine, *theirs]).exclude(held="").count() == 14
    signed_in.post(f"/incidents/{made.pk}/going-on/")
    assert list(Block.objects.exclude(held="").values_list("pk", flat=True)) == [mine[0]]


def test_not_right_without_a_word_is_refused(signed_in, all_cut):
    answer = signed_in.post("/bench/iron/incident/", {"batch": cool(all_cut)})
    assert answer.status_code == 422
    assert not Incident.objects.exists()


def test_an_empty_iron_says_so(signed_in, order):
    assert "Nothing waits for the iron" in seen(signed_in)

"""The cut list as a paper to pin up at the table: made from the bench, by whoever stands there."""

from __future__ import annotations

import pytest
from django.urls import reverse

from orders.models import Paper

pytestmark = pytest.mark.django_db


@pytest.fixture
def make(client, settings, tmp_path):
    """Return a way for a person to make the cut list of an order."""
    settings.DATA_DIR = tmp_path

    def make(person, order):
        client.force_login(person)
        return client.post(reverse("bench-cut-list", args=[order.number]))

    return make


@pytest.mark.parametrize("person", ["ada", "bo"])
def test_it_is_made_and_opened(request, make, drawn, person):
    answer = make(request.getfixturevalue(person), drawn)
    paper = Paper.objects.get()
    assert (paper.kind, paper.order) == (Paper.Kind.CUT_LIST, drawn)
    assert answer.url == reverse("paper", args=[paper.number])


def test_the_bench_offers_it_once_there_is_a_layout(client, ada, order, shop):
    client.force_login(ada)
    assert "Print the cut list" not in client.get(reverse("order-bench", args=[order.number])).text


def test_the_bench_of_a_drawn_quilt_offers_it(client, ada, drawn):
    client.force_login(ada)
    assert "Print the cut list" in client.get(reverse("order-bench", args=[drawn.number])).text


def test_without_a_layout_there_is_nothing_to_print(make, ada, order):
    assert make(ada, order).url == reverse("order-bench", args=[order.number])
    assert not Paper.objects.exists()


def test_of_an_order_that_is_not_there_none_is_made(client, ada, shop):
    client.force_login(ada)
    assert client.post(reverse("bench-cut-list", args=[99])).status_code == 404


def test_a_look_at_the_address_makes_none(client, ada, drawn):
    client.force_login(ada)
    assert client.get(reverse("bench-cut-list", args=[drawn.number])).status_code == 405

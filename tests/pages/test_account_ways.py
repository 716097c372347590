"""The ways to take an order in its Account room: looked for without waiting, told, one of them chosen."""

import pytest

from orders.account import ways_to_take
from orders.account.chosen_way import way_of
from orders.background import errands
from orders.models import Errand, Order

pytestmark = pytest.mark.django_db


@pytest.fixture
def signed_in(client, ada):
    client.force_login(ada)
    return client


def page(client, order):
    return " ".join(client.get(f"/quilts/{order.number}/account/").content.decode().split())


def test_ways_are_looked_for_in_the_background_and_told_one_by_one(signed_in, drawn):
    address = f"/quilts/{drawn.number}/account/ways/"
    assert "Look for ways" in page(signed_in, drawn)
    for _ in range(2):
        assert signed_in.post(address).url == f"/quilts/{drawn.number}/account/#ways"
    assert Errand.objects.filter(kind=ways_to_take.KIND).count() == 1
    assert "More ways are being looked for." in page(signed_in, drawn)
    asked = signed_in.get(f"{address}progress/", headers={"HX-Request": "true"}).content.decode()
    assert "More ways are being looked for." in asked
    errands.run_due()
    told = signed_in.get(f"{address}progress/", headers={"HX-Request": "true"}).content.decode()
    assert "In its place" in told
    assert "Moves nobody by" in told
    assert "More ways" not in told
    assert signed_in.get(f"{address}progress/").status_code == 302


def test_one_way_is_chosen_and_the_quote_follows_it(signed_in, drawn):
    signed_in.post(f"/quilts/{drawn.number}/account/ways/")
    errands.run_due()
    for _ in range(2):
        signed_in.post(f"/quilts/{drawn.number}/account/ways/choice/", {"way": "rush"})
    assert way_of(Order.objects.get()) == "rush"
    assert "taken" in page(signed_in, drawn)


def test_a_way_nobody_offers_is_not_taken(signed_in, drawn):
    signed_in.post(f"/quilts/{drawn.number}/account/ways/choice/", {"way": "by balloon"})
    assert way_of(Order.objects.get()) == "place"
    assert "not on offer any more" in page(signed_in, drawn)


def test_a_search_is_stopped_and_may_be_begun_again(signed_in, drawn):
    address = f"/quilts/{drawn.number}/account/ways/"
    signed_in.post(address)
    signed_in.post(f"{address}ending/")
    assert "Stopped before it began." in page(signed_in, drawn)
    signed_in.post(address)
    assert "More ways are being looked for." in page(signed_in, drawn)


def test_signed_out_and_helpers_stay_outside_and_get_changes_nothing(client, drawn, ada, bo):
    address = f"/quilts/{drawn.number}/account/ways/"
    assert client.post(address).status_code == 302
    client.force_login(bo)
    assert client.post(address).status_code == 403
    client.force_login(ada)
    assert client.get(address).status_code == 405
    assert client.get(f"{address}choice/").status_code == 405
    assert client.post("/quilts/99/account/ways/").status_code == 404
    assert way_of(Order.objects.get()) == "place"

"""The shopping list on its page: what, how much, by when; as many queries for sixty quilts as for two."""

import time
from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from orders.background import errands
from orders.cloth import shopping, takes
from orders.days.calendar import order_id
from orders.models import Cloth, Design, Errand, Order, Reservation
from planner.units import YARD

pytestmark = pytest.mark.django_db


@pytest.fixture
def short(order, shelf, shop):
    forest = Cloth.objects.get(name="Forest")
    Reservation.objects.create(order=order, cloth=forest, role="sashing", length=4 * YARD)
    return forest


def words(client):
    answer = client.get("/shelf/list/")
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split()).replace("\N{NO-BREAK SPACE}", " ")


def test_the_owner_sees_how_much_for_whom_and_at_what_price(client, short, order, ada):
    client.force_login(ada)
    seen = words(client)
    for said in ("Forest", "1 yd", "$12.00", order.title, "sashing", "3 yd here, 4 yd wanted"):
        assert said in seen


def test_a_helper_sees_the_list_without_money(client, short, bo):
    client.force_login(bo)
    seen = words(client)
    assert "Forest" in seen
    assert "$" not in seen


def test_what_was_wanted_before_today_says_when_it_was_to_be_here(
    client, short, order, shop, ada, monkeypatch
):
    client.force_login(ada)
    for on, said in ((-1, "it was to be here by"), (+1, "to have it")):
        day = shop.today() + timedelta(days=on + shopping.WASHED_AND_PRESSED)
        days = {order_id(order): dict.fromkeys(shopping.FIRST["sashing"], day)}
        monkeypatch.setattr(shopping, "_days_of_work", lambda _, days=days: days)
        seen = words(client)
        assert f'Order today</span> <span class="soft">{said}' in seen


def test_bought_is_on_the_shelf_and_off_the_list_once(client, short, ada):
    client.force_login(ada)
    for _ in range(2):
        answer = client.post(f"/shelf/list/{short.pk}/bought/", {"length": "1", "client_id": "till"})
        assert answer.url == "/shelf/list/"
    assert Cloth.objects.with_pieces().get(pk=short.pk).on_hand == 4 * YARD
    assert "Nothing has to be bought" in words(client)


@pytest.mark.parametrize("length", ["", "-1", "0", "a lot", "900", "1.0001"])
def test_a_length_that_makes_no_sense_stays_in_its_field(client, short, ada, length):
    client.force_login(ada)
    answer = client.post(f"/shelf/list/{short.pk}/bought/", {"length": length, "client_id": "till"})
    assert answer.status_code == 422
    assert Cloth.objects.with_pieces().get(pk=short.pk).on_hand == 3 * YARD


def test_another_cloth_a_get_and_whoever_is_signed_out_are_refused(client, short, ada):
    assert client.get("/shelf/list/").status_code == 302
    client.force_login(ada)
    assert client.post("/shelf/list/999/bought/", {"length": "1"}).status_code == 404
    assert client.get(f"/shelf/list/{short.pk}/bought/").status_code == 405


def test_sixty_quilts_ask_no_more_queries_than_two(client, short, aunt, ada):
    client.force_login(ada)

    def more(count):
        for number in range(count):
            order = Order.objects.open(title=f"Another {number}", customer=aunt, by=ada)
            order.stages.create(kind="join", position=1, minutes=60)
            for cloth in Cloth.objects.all():
                Reservation.objects.create(order=order, cloth=cloth, role="sashing", length=YARD)

    def asked():
        words(client)
        with CaptureQueriesContext(connection) as queries:
            words(client)
        return len(queries)

    more(2)
    few = asked()
    more(58)
    assert asked() == few


def test_an_agreed_quilt_is_named_while_it_is_reckoned_and_stands_on_the_list_then(client, agreed, ada):
    Cloth.objects.get(name="Forest").pieces.update(length=YARD // 8)
    client.force_login(ada)
    named = f'<a href="/quilts/{agreed.number}/bench/">No. {agreed.number}'
    assert f"Being reckoned:</b> {named}" in words(client)
    errands.run_due()
    seen = words(client)
    assert "Being reckoned" not in seen
    assert "Forest" in seen


def test_sixty_agreed_quilts_ask_no_more_queries_than_two(client, agreed, aunt, ada, shop):
    client.force_login(ada)
    errands.run_due()
    known = Errand.objects.get(kind=takes.KIND).payload["takes"]
    quilt = agreed.design.quilt

    def more(count):
        for number in range(count):
            order = Order.objects.open(title=f"Another {number}", customer=aunt, by=ada)
            Order.objects.filter(pk=order.pk).update(accepted_at=timezone.now())
            Design.objects.create(order=order).draw(quilt, "Even grid", by=ada)
            order.stages.create(kind="join", position=1, minutes=60)
            asked = takes.ask(Order.objects.get(pk=order.pk), shop)
            payload = asked.payload | {"takes": known}
            Errand.objects.filter(pk=asked.pk).update(payload=payload, state="done")

    def asked():
        words(client)
        with CaptureQueriesContext(connection) as queries:
            assert "Being reckoned" not in words(client)
        return len(queries)

    more(2)
    few = asked()
    more(58)
    began = time.process_time()
    assert asked() == few
    print("two pages of sixty agreed quilts:", round(time.process_time() - began, 2), "s of CPU")


@pytest.fixture
def quartered(agreed, shop):
    """Gold for an agreed quilt, 3.00 a quarter of a yard and 1.00 a fat quarter, which does alone."""
    gold = Cloth.objects.get(name="Gold")
    gold.pieces.all().delete()
    Cloth.objects.filter(pk=gold.pk).update(quarter_price=100, step=YARD // 4)
    takes.ask(agreed, shop)
    errands.run_due()
    return gold


def test_the_cheaper_of_yardage_and_fat_quarters_is_said_first_with_the_other_beside_it(
    client, quartered, ada, bo
):
    client.force_login(ada)
    seen = words(client)
    assert (
        seen.index("1 fat quarter</b>") < seen.index("$1.00") < seen.index("¼ yd</b>") < seen.index("$3.00")
    )
    client.force_login(bo)
    seen = words(client)
    assert "1 fat quarter</b>" in seen
    assert "$" not in seen


def test_fat_quarters_that_were_bought_are_on_the_shelf_and_off_the_list(client, quartered, bo):
    client.force_login(bo)
    for _ in range(2):
        answer = client.post(f"/shelf/list/{quartered.pk}/quarters/", {"count": "1", "client_id": "till"})
        assert answer.url == "/shelf/list/"
    assert quartered.pieces.count() == 1
    words(client)
    errands.run_due()
    assert f'id="cloth-{quartered.pk}"' not in words(client)


@pytest.mark.parametrize("count", ["", "0", "-1", "1.5", "three", "100"])
def test_a_count_that_makes_no_sense_stays_beside_its_field(client, quartered, ada, count):
    client.force_login(ada)
    answer = client.post(f"/shelf/list/{quartered.pk}/quarters/", {"count": count, "client_id": "till"})
    assert answer.status_code == 422
    assert "Say how many were bought, such as 3." in answer.content.decode()
    assert not quartered.pieces.exists()


def test_quarters_of_another_cloth_and_a_get_are_refused(client, quartered, ada):
    client.force_login(ada)
    assert client.post("/shelf/list/999/quarters/", {"count": "1"}).status_code == 404
    assert client.get(f"/shelf/list/{quartered.pk}/quarters/").status_code == 405


def test_it_says_whose_cloth_is_to_buy_and_whose_lies_here(client, short, order, aunt, ada):
    """By hand: 3 yd here; 4 yd are set aside for one, so 1 yd of hers is to buy, and all of another's."""
    other = Order.objects.open(title="Another", customer=aunt, by=ada)
    Reservation.objects.create(order=other, cloth=short, role="binding", length=YARD)
    client.force_login(ada)
    seen = words(client)
    assert '4 yd <b class="new">1 yd to buy</b>' in seen
    assert '1 yd <b class="new">to buy</b>' in seen
    assert "by the strip" not in seen.lower()


def test_a_list_that_is_not_all_reckoned_looks_again_and_tells_when_it_is(client, agreed, ada):
    client.force_login(ada)
    assert 'hx-select="#being-reckoned"' in words(client)
    errands.run_due()
    again = client.get("/shelf/list/", headers={"HX-Request": "true"}).content.decode()
    assert "All is reckoned." in again
    assert "All is reckoned." not in words(client)

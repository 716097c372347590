"""Quilts: each with its state, the search, what waits on top, and a flat number of queries."""

from datetime import timedelta

import pytest
from django.utils import timezone

from orders.models import Enquiry, Order, Quote, Stage

pytestmark = pytest.mark.django_db


@pytest.fixture
def signed_in(client, ada):
    client.force_login(ada)
    return client


def page(client, address="/quilts/"):
    answer = client.get(address)
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split())


def open_orders(count, aunt, ada, shop, **more):
    for number in range(count):
        made = Order.objects.open(
            title=f"Quilt {number}", customer=aunt, by=ada, place="Harrow Bay",
            needed_by=shop.today() + timedelta(days=40 + number % 3), **more,
        )  # fmt: skip
        Stage.objects.create(order=made, kind="log", position=0, minutes=60)


def test_each_quilt_tells_number_place_state_and_days(signed_in, order, twelve_shirts):
    seen = page(signed_in)
    for words in ("No. 1, Ferncliff", "The aunt’s surprise", "Drawing it", "70 days"):
        assert words in seen
    assert "12 garments in care" in seen


def test_enquiries_wait_on_top_without_how_to_reach_them(signed_in, order, ada, shop):
    asked = Enquiry.objects.create(
        name="A coach of Ferncliff", reach="555 0199", what="Team shirts", shirts=20
    )
    seen = page(signed_in)
    assert seen.index("A coach of Ferncliff") < seen.index("The aunt’s surprise")
    assert "Not answered yet" in seen
    assert "555 0199" not in seen
    asked.pencil_in(days=7, on=shop.today(), by=ada)
    assert "Penciled until" in page(signed_in)


def test_a_search_finds_by_words_and_by_number(signed_in, order, aunt, ada, shop):
    open_orders(2, aunt, ada, shop)
    assert "The aunt’s surprise" in page(signed_in, "/quilts/?find=ferncliff aunt")
    by_number = page(signed_in, "/quilts/?find=No. 2")
    assert "Quilt 0" in by_number
    assert "The aunt’s surprise" not in by_number
    assert "No quilt has these words" in page(signed_in, "/quilts/?find=zebra")


def test_a_search_term_is_shown_as_text(signed_in, shop):
    seen = page(signed_in, "/quilts/?find=<script>alert(1)</script>")
    assert "<script>alert(1)" not in seen


def test_what_has_left_is_put_away(signed_in, order):
    Order.objects.update(handed_over_at=timezone.now(), handed_to="the aunt")
    assert "The aunt’s surprise" not in page(signed_in)
    assert "Handed over" in page(signed_in, "/quilts/?put-away=1")
    assert "The aunt’s surprise" in page(signed_in, "/quilts/?find=aunt")


def test_what_was_called_off_is_put_away(signed_in, order, ada):
    order.cancel(by=ada)
    assert "Called off" in page(signed_in, "/quilts/?put-away=1")


def test_an_empty_shop_says_how_it_begins(signed_in, shop):
    assert "The first begins with an enquiry" in page(signed_in)


def test_a_helper_sees_quilts_without_enquiries_money_or_contacts(client, order, ada, bo, shop, aunt):
    Enquiry.objects.create(name="A coach of Ferncliff", reach="555 0199")
    Quote.objects.create(
        order=order, number=1, lines=[], currency="USD", net=48600, tax=0, total=48600, deposit=24300,
        issued_by=ada, valid_until=shop.today(),
    )  # fmt: skip
    client.force_login(bo)
    seen = page(client)
    for hidden in ("A coach", "555", "$", "486", "An aunt of Ferncliff", "New enquiry"):
        assert hidden not in seen
    assert "The aunt’s surprise" in seen


def test_nobody_signed_out_sees_it(client, shop):
    assert client.get("/quilts/").url == "/sign-in/?next=/quilts/"


def test_sixty_orders_ask_no_more_queries_than_twelve(
    signed_in, aunt, ada, shop, django_assert_num_queries, django_assert_max_num_queries
):
    open_orders(12, aunt, ada, shop)
    page(signed_in)
    with django_assert_max_num_queries(45) as twelve:
        page(signed_in)
    open_orders(48, aunt, ada, shop)
    with django_assert_num_queries(len(twelve)):
        page(signed_in)

"""Words that went to the customer are written down by one tap."""

from __future__ import annotations

import pytest
from django.db import IntegrityError, transaction

from orders.models import Event, Message

pytestmark = pytest.mark.django_db
WORDS = "Your quilt, No. 1: $234.00 is still open."


def address(order):
    return f"/quilts/{order.number}/account/messages/"


def test_it_is_written_down_once_however_often_it_is_tapped(client, ada, order):
    client.force_login(ada)
    for _ in range(2):
        page = client.post(address(order), {"words": WORDS}, follow=True)
    assert Message.objects.get().to == order.customer.name
    assert Event.objects.filter(what="words sent").count() == 1
    assert "Written down: the words went to An aunt of Ferncliff." in page.text


def test_no_words_are_no_message(client, ada, order):
    client.force_login(ada)
    answer = client.post(address(order), {"words": " "})
    assert (answer.status_code, Message.objects.count()) == (422, 0)
    assert "no words" in answer.text


def test_a_helper_cannot_and_a_look_writes_nothing(client, ada, bo, order):
    client.force_login(bo)
    assert client.post(address(order), {"words": WORDS}).status_code == 403
    client.force_login(ada)
    assert client.get(address(order)).status_code == 405
    assert client.post("/quilts/99/account/messages/", {"words": WORDS}).status_code == 404
    assert not Message.objects.exists()


def test_empty_words_cannot_be_kept_by_any_program(ada, order, shop):
    with pytest.raises(IntegrityError), transaction.atomic():
        Message.objects.note(order, "", to="x", on=shop.today(), by=ada)

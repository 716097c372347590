"""Phones that log at the same moment: each line its own number, none lost, none doubled."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

import pytest
from django.db import connection

from orders.bag import intake
from orders.bag.intake import Said
from orders.models import Bag, Order, Shirt

pytestmark = pytest.mark.django_db(transaction=True)


def test_two_phones_at_one_bag_and_a_third_at_another_of_hers_share_no_number(order, aunt, ada):
    first = order.bags.get()
    second = Bag.objects.receive(order, by=ada, count=5, brought_by="the aunt")
    bags = [first, first, second]

    def phone(at):
        try:
            for number in range(1, 6):
                said = Said("tee", "front", "unknown", number=number, offered=number)
                for _ in range(2):  # each line is sent twice
                    intake.log_shirt(bags[at], order, said, by=ada, client_id=f"{at}-{number}")
        finally:
            connection.close()

    with ThreadPoolExecutor(3) as phones:
        list(phones.map(phone, range(3)))
    assert sorted(Shirt.objects.values_list("number", flat=True)) == list(range(1, 16))
    for shirt in Shirt.objects.all():
        offered = int(shirt.client_id.split("-")[1])
        assert shirt.wrong_tag == (None if shirt.number == offered else offered)
    assert Order.objects.get(pk=order.pk).bags.count() == 2

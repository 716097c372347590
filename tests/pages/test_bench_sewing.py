"""The order of sewing at the machine: steps with pictures, for whoever sews."""

import pytest

from orders.models import Shirt
from tests.orders.workbench import draw

pytestmark = pytest.mark.django_db


@pytest.fixture
def laid(order, twelve_shirts, shop, shelf, ada):
    return draw(order, shop, ada)


def machine(client, order):
    answer = client.get(f"/quilts/{order.number}/bench/machine/")
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split())


def test_the_steps_stand_at_the_machine_row_by_row_and_then_the_rows(client, ada, laid):
    client.force_login(ada)
    seen = machine(client, laid)
    assert "The order of sewing, in 5 steps" in seen
    assert "Sew part A, part B, part C and part D from the top down" in seen
    assert seen.count('class="sewing"') == 5


def test_thick_beside_thin_is_pressed_open(client, ada, laid):
    client.force_login(ada)
    assert "thick meets thin" not in machine(client, laid)
    Shirt.objects.filter(number=2).update(thickness="thick")
    assert "thick meets thin" in machine(client, laid)


def test_a_helper_reads_the_steps_too(client, bo, laid):
    client.force_login(bo)
    assert "The order of sewing" in machine(client, laid)


def test_before_there_is_a_layout_there_are_no_steps(client, ada, order, twelve_shirts):
    client.force_login(ada)
    assert "The order of sewing" not in machine(client, order)


def test_at_the_other_places_there_are_none(client, ada, laid):
    client.force_login(ada)
    answer = client.get(f"/quilts/{laid.number}/bench/table/")
    assert "The order of sewing" not in answer.content.decode()

"""A pillow is called a pillow, and counts the shirts that were given to it."""

from __future__ import annotations

import pytest
from django.utils import timezone

from orders.models import Order, Piece, Stage
from planner.units import INCH

pytestmark = pytest.mark.django_db


@pytest.fixture
def pillow(order, twelve_shirts, ada):
    """Return a pillow out of the same bag, which was given two of the twelve shirts."""
    made = Order.objects.open(
        title="A pillow of the rest", customer=order.customer, by=ada, kind="pillow",
        width=16 * INCH, height=16 * INCH,
    )  # fmt: skip
    made.bags.add(order.bags.get())
    Piece.objects.filter(shirt__number__in=(5, 6)).update(order=made)
    return made


def shown(client, place="/for-you/"):
    answer = client.get(place)
    assert answer.status_code == 200
    return answer.content.decode()


def test_it_tells_the_shirts_that_were_given_to_it_and_the_quilt_tells_the_others(hers, pillow, order):
    assert "Your two shirts are here" in shown(hers(pillow))
    assert "Two came in. Two are whole." in shown(hers(pillow))
    assert "Your ten shirts are here" in shown(hers(order))


def test_its_yes_to_cut_is_asked_of_those_two_alone(hers, pillow):
    page = shown(hers(pillow), "/for-you/cut/")
    assert "Yes, cut all 2" in page
    assert 'aria-label="Not 04F"' not in page


def test_it_is_nowhere_called_a_quilt(hers, pillow):
    client = hers(pillow)
    for place in ("/for-you/", "/for-you/cut/"):
        assert "quilt" not in shown(client, place).partition("<main")[2].lower()
    assert "Your pillow</a>" in shown(client, "/for-you/cut/")


def test_once_all_is_done_the_pillow_is_ready(hers, pillow):
    Stage.objects.create(order=pillow, kind="join", position=1, minutes=90, done_at=timezone.now())
    assert "Your pillow is ready" in shown(hers(pillow))


def test_what_is_no_part_of_it_is_not_said_to_come(hers, pillow):
    Stage.objects.create(order=pillow, kind="join", position=1, minutes=90)
    Stage.objects.create(order=pillow, kind="quilt", position=2, minutes=0)
    assert "Still to come: sewn together." in shown(hers(pillow))


def test_a_quilt_that_was_given_one_shirt_by_name_is_asked_about_all_free_ones(hers, order, twelve_shirts):
    Piece.objects.filter(shirt__number=5).update(order=order)
    assert "Your twelve shirts are here" in shown(hers(order))
    assert "Yes, cut all 12" in shown(hers(order), "/for-you/cut/")

"""The shelf: what lies there, less what quilts have spoken for."""

from __future__ import annotations

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from orders.models import Cloth, Reservation
from planner.units import INCH, YARD

pytestmark = pytest.mark.django_db


def page(client):
    answer = client.get("/shelf/")
    assert answer.status_code == 200
    return " ".join(answer.content.decode().replace("\N{NO-BREAK SPACE}", " ").split())


def test_cloths_lie_by_kind_with_width_length_and_price(client, shelf, ada):
    client.force_login(ada)
    words = page(client)
    assert words.index("Quilting cotton") < words.index("Wide backing") < words.index("Interfacing")
    for shown in ("Forest", "40 in wide", "3 yd", "$12.00 a yard", "None here", "#234a34"):
        assert shown in words


def test_what_is_spoken_for_is_taken_off_and_what_is_short_is_said(client, shelf, order, ada):
    forest, gold = shelf[0], shelf[1]
    Reservation.objects.create(cloth=forest, order=order, role="sashing", length=YARD)
    Reservation.objects.create(cloth=gold, order=order, role="binding", length=YARD * 13 // 8)
    client.force_login(ada)
    words = page(client)
    assert "<b>2 yd</b> free" in words
    assert "⅝ yd short" in words
    Reservation.objects.update(let_go_at=order.opened_at)
    assert "short" not in page(client)


def test_what_lies_there_is_never_overstated():
    from types import SimpleNamespace

    from orders.templatetags.counts import cloth_length_down

    inches, centimeters = SimpleNamespace(unit="in"), SimpleNamespace(unit="cm")
    assert cloth_length_down(YARD * 13 // 8 + 1000, inches) == "1⅝\N{NO-BREAK SPACE}yd"
    assert cloth_length_down(3 * INCH, inches) == "3\N{NO-BREAK SPACE}in"
    assert cloth_length_down(320_000 + 3199, centimeters) == "1\N{NO-BREAK SPACE}m"


def test_a_helper_sees_the_cloth_without_prices(client, shelf, bo):
    client.force_login(bo)
    words = page(client)
    assert "Forest" in words
    assert "$" not in words
    assert "Add a cloth" not in words


def test_an_empty_shelf_says_what_to_do(client, shop, ada):
    client.force_login(ada)
    assert "Put the first cloth on the shelf" in page(client)
    assert "Photograph the bolts and remnants you have" in page(client)


def test_cloth_that_was_put_away_is_not_shown(client, shelf, ada):
    shelf[0].put_away(by=ada)
    client.force_login(ada)
    assert "Forest" not in page(client)


def test_forty_cloths_ask_for_no_more_than_twelve(client, shop, ada):
    client.force_login(ada)

    def asked(count):
        for number in range(Cloth.objects.count(), count):
            made = Cloth.objects.create(name=f"Cloth {number}", usable=40 * INCH, step=YARD // 8)
            made.put_on_shelf(YARD, by=ada)
        with CaptureQueriesContext(connection) as queries:
            page(client)
        return len(queries)

    few = asked(12)
    assert asked(40) == few
    assert few <= 10


def test_outside(client, shelf):
    assert client.get("/shelf/").url.startswith("/sign-in/")


def test_a_cloth_that_lies_here_in_fat_quarters_says_so_and_what_one_costs(client, shelf, ada):
    tricot = shelf[5]
    type(tricot).objects.filter(pk=tricot.pk).update(quarter_price=325)
    tricot.put_on_shelf(18 * INCH, width=20 * INCH, by=ada)
    client.force_login(ada)
    page = client.get("/shelf/").content.decode().replace("\N{NO-BREAK SPACE}", " ")
    assert "½ yd in pieces narrower than the cloth" in page
    assert "<b>Only narrower pieces</b>" in page
    assert "Only narrower pieces lie here" in client.get(f"/shelf/{tricot.pk}/").content.decode()
    assert "$3.25 a fat quarter" in page

"""The Quilt room: mixed sizes looked for in the background, as its pages show it."""

from __future__ import annotations

import pytest

from orders.background import errands
from orders.models import Errand, Piece
from orders.quilt import mixing
from orders.quilt.answers import answer
from orders.quilt.ways import key_of
from planner.layout import Layout, grid_quilt
from planner.problems import Limit
from planner.units import INCH, Size

from .quilt_room import QuiltRoom, words_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def room(client, ada, order, twelve_shirts, shelf, monkeypatch):
    """Return the room of an order with prints of two sizes, wished 48 by 57; Ada is signed in."""
    Piece.objects.filter(shirt__number__lte=4).update(print_width=9 * INCH, print_height=9 * INCH)
    order.wish = {"tolerance": 0, "sashings": [None]}
    order.width, order.height = 48 * INCH, 57 * INCH
    order.save()
    client.force_login(ada)
    monkeypatch.setattr(mixing, "limit_of", lambda watch: Limit(effort=60, watch=watch))
    return QuiltRoom(client, order)


def test_it_is_offered_and_begun_with_one_button(room):
    assert "Look for mixed sizes" in room.text()
    answer = room.send("mixed")
    assert answer["Location"] == f"{room.url}#mixed"
    page = room.text()
    assert "Mixed sizes are being looked for." in page
    assert "Stop and keep the best so far" in page
    assert Errand.objects.filter(kind=mixing.KIND).count() == 1


def test_what_was_found_is_a_way_with_its_size_its_price_and_how_good_it_is(room):
    room.send("mixed")
    errands.run_due()
    page = words_of(room.text())
    assert "Mixed sizes, " in page
    assert "48 × 57 in, before the first wash" in page
    assert "among all layouts in columns or in rows" in page
    assert "Look for mixed sizes" not in page


def test_the_way_is_chosen_by_its_button(room, shop):
    room.send("mixed")
    errands.run_due()
    layout = answer(room.order, shop).options[0].layout
    room.send("layout", way=key_of(layout.quilt), seen=0)
    assert room.quilt.size == layout.quilt.size
    assert {cell.at for cell in room.quilt.cells} == {cell.at for cell in layout.quilt.cells}
    assert "Mixed sizes, " in words_of(room.text())


def test_every_room_takes_a_mixed_layout_with_sashing(room, taxed):
    room.order.cloth = {"binding": "Forest"}
    room.order.wish = {"tolerance": 0, "sashings": [{"width": 2 * INCH}]}
    room.order.height, room.order.width = 66 * INCH, 50 * INCH
    room.order.save()
    room.send("mixed")
    errands.run_due()
    layout = answer(room.order, taxed).options[0].layout
    room.send("layout", way=key_of(layout.quilt), seen=0)
    assert room.quilt.sashing == layout.quilt.sashing is not None
    for place in ("quilt/", "quilt/picture.jpg", "bench/", "bench/table/", "bench/machine/", "account/"):
        assert room.client.get(f"/quilts/{room.order.number}/{place}").status_code == 200
    room.client.post(f"/quilts/{room.order.number}/account/quotes/")
    assert room.order.quotes.count() == 1


def test_where_there_is_none_the_reason_stands_there(room):
    room.order.width = room.order.height = 30 * INCH
    room.order.save()
    room.send("mixed")
    errands.run_due()
    assert "These 12 pieces do not fill 30 × 30 in" in words_of(room.text())


def test_progress_is_told_while_it_goes_on_and_then_the_room_comes_anew(room):
    room.send("mixed")
    errand = Errand.objects.get(kind=mixing.KIND)
    Errand.objects.filter(pk=errand.pk).update(progress="Best so far: 48 × 57 in, 14 blocks.")
    part = room.client.get(f"{room.url}mixed/progress/", headers={"HX-Request": "true"})
    assert "Best so far: 48 × 57 in, 14 blocks." in part.content.decode()
    room.send("mixed/ending")
    ended = room.client.get(f"{room.url}mixed/progress/", headers={"HX-Request": "true"})
    assert ended["HX-Refresh"] == "true"


def test_progress_without_script_leads_back_to_the_room(room):
    assert room.client.get(f"{room.url}mixed/progress/")["Location"] == f"{room.url}#mixed"


def test_stopping_keeps_the_best_so_far(room):
    room.send("mixed")
    errand = Errand.objects.get(kind=mixing.KIND)
    quilt = grid_quilt(4, 3, Size(12 * INCH, 19 * INCH))
    best = mixing.as_json(Layout(quilt))
    Errand.objects.filter(pk=errand.pk).update(payload={**errand.payload, "best": best})
    assert "Stopped. The best so far is among the ways." in words_of(room.client.post(
        f"{room.url}mixed/ending/", follow=True
    ).content.decode())  # fmt: skip
    assert len(mixing.found_for(room.order)) == 1


def test_a_helper_sees_what_was_found_and_cannot_look(room, bo):
    room.send("mixed")
    errands.run_due()
    room.client.force_login(bo)
    page = words_of(room.text())
    assert "Mixed sizes, " in page
    assert room.send("mixed").status_code == 403


def test_signed_out_nothing_is_looked_for(room):
    room.client.logout()
    assert "/sign-in/" in room.send("mixed")["Location"]
    assert not Errand.objects.filter(kind=mixing.KIND).exists()


def test_get_begins_nothing(room):
    assert room.client.get(f"{room.url}mixed/").status_code == 405
    assert room.client.get(f"{room.url}mixed/ending/").status_code == 405


def test_without_shirts_there_is_nothing_to_look_for(client, ada, order):
    client.force_login(ada)
    assert "Look for mixed sizes" not in QuiltRoom(client, order).text()

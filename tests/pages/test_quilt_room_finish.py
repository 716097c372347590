"""How a quilt is finished: binding both ways side by side, a sleeve, a label, how it is quilted."""

import pytest

from orders.cloth.cutting import cutting_list
from orders.models import Order
from orders.planning import shelf as shelf_of
from orders.quilt.answers import answer
from planner.units import INCH
from tests.pages.quilt_room import QuiltRoom, words_of

pytestmark = pytest.mark.django_db
SAID = {"binding": "straight", "quilted": "usual"}


@pytest.fixture
def room(client, ada, order, shop, twelve_shirts, shelf):
    order.cloth = {"sashing": "Forest", "binding": "Forest", "cornerstone": "Gold", "sleeve": "Forest"}
    order.save()
    client.force_login(ada)
    room = QuiltRoom(client, order)
    room.draw(ada, shop)
    return room


def test_both_bindings_stand_side_by_side_with_what_each_costs(room):
    """Worked by hand: 7 strips of 2 1/2 in are 17 1/2 in, half a yard; the square is 25 in, 3/4 yd."""
    words = words_of(room.text())
    assert "Straight ½ yd, $6.00" in words
    assert "On the bias ¾ yd, $9.00" in words


def test_a_sleeve_and_a_label_are_cut_priced_and_told(room, shop):
    shop.rules["rules"] += [
        {"words": "Hanging sleeve", "per": "sleeve", "rate": {"rate": "30.00", "per": "each"}},
        {"words": "Label", "per": "label", "rate": {"rate": "15.00", "per": "each"}},
    ]
    shop.save()
    before = answer(Order.objects.get(), shop, drawn=room.quilt).options[0].pricing.total
    assert room.send("finish", **SAID, sleeve="on", label="on", seen=1).url == f"{room.url}#picture"
    assert room.quilt.finish == ("sleeve", "label")
    order = Order.objects.get()
    offer = answer(order, shop, drawn=room.quilt).options[0]
    assert offer.pricing.total.minor - before.minor == 4500
    cut = next(
        each.plan
        for each in cutting_list(room.quilt, shop, list(shelf_of(order)), order=order)
        if "sleeve and label" in each.roles
    )
    items = [column for strip in cut.strips for column in strip.columns]
    assert {"hanging sleeve", "label"} <= {column.item for column in items}
    assert {c.along for c in items if c.item == "hanging sleeve"} == {9 * INCH}  # 4 in deep: 9 in cut
    assert "Undo: Binding straight, a hanging sleeve and a label" in room.text()
    assert order.wish["finish"] == ["sleeve", "label"]


def test_a_binding_on_the_bias_is_cut_out_of_one_square(room, shop):
    room.send("finish", **SAID | {"binding": "bias"}, seen=1)
    order = Order.objects.get()
    plans = cutting_list(room.quilt, shop, list(shelf_of(order)), order=order)
    cut = {c.item: c for each in plans if each.plan for s in each.plan.strips for c in s.columns}
    assert (cut["binding"].across, cut["binding"].along) == (25 * INCH, 25 * INCH)


def test_how_it_is_quilted_is_kept_without_a_move(room):
    room.send("finish", **SAID | {"quilted": "tied"}, seen=1)
    assert Order.objects.get().wish["quilted"] == "tied"
    assert room.seen == 1


@pytest.mark.parametrize("typed", [{"binding": "crooked"}, {"binding": ""}, {"quilted": "by the moon"}])
def test_a_finish_that_is_none_comes_back_with_its_fault(room, typed):
    assert room.send("finish", **SAID | typed, seen=1).status_code == 422
    assert Order.objects.get().wish.get("finish") is None


def test_another_size_keeps_how_it_is_finished(room):
    room.send("finish", **SAID, sleeve="on", seen=1)
    order = Order.objects.get()
    sent = {"width": "50", "height": "66", "tolerance": "4", "blocks": "14", "sashing": "2"}
    room.send("wish", **sent, version=order.version)
    assert Order.objects.get().wish["finish"] == ["sleeve"]


def test_without_a_cloth_for_the_binding_no_price_is_shown(room):
    room.send("cloth", role="binding", cloth="", version=Order.objects.get().version)
    assert "On the bias ¾ yd" not in words_of(room.text())

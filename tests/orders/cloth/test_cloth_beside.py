"""Shirts that do not go with the cloth beside them: one rule, wherever it is said."""

from __future__ import annotations

import pytest

from orders.cloth import cloth_room
from orders.cloth.cloth_beside import are_close, fail_to_match, get_lost, may_stain
from orders.colors.looks import palette_of_color
from orders.models import Cloth, Order, Piece
from orders.quilt import layouts
from orders.quilt.cautions import looks_of
from orders.quilt.compromises import compromises
from orders.quilt.drawn import room_of
from planner.colour import FabricLook, difference, srgb_to_lab
from planner.layout import grid_quilt
from planner.quilt import Binding
from planner.units import INCH, Size

pytestmark = pytest.mark.django_db

FOREST = "#234a34"
HARDLY_UNLIKE, NOT_QUITE_LIKE, UNLIKE = "#264c37", "#36604a", "#c9b48f"


def plain(color):
    palette = palette_of_color(color)
    return FabricLook(palette, palette.ground.lab[0] / 100, 0.0, 1, "solid")


def apart(one, other):
    return float(difference(*(srgb_to_lab(list(bytes.fromhex(each[1:]))) for each in (one, other))))


@pytest.fixture
def room(shop, ada, shelf, twelve_shirts, order):
    """A quilt with forest sashing, and three shirts nearer and nearer to it."""
    Cloth.objects.filter(name="Forest").update(ground=FOREST, look=None)
    for number, color in ((4, HARDLY_UNLIKE), (8, NOT_QUITE_LIKE), (9, UNLIKE)):
        Piece.objects.filter(shirt__number=number).update(ground=color)
    order.change(seen=order.version, cloth={"sashing": "Forest"})
    offer = room_of(Order.objects.get(pk=order.pk), shop).plan.options[0]
    layouts.choose(order, offer.layout.quilt, "drawn", minutes=offer.minutes, seen=0, by=ada)
    return room_of(Order.objects.get(pk=order.pk), shop)


def test_the_chalk_the_looks_and_what_she_is_told_name_the_same_shirts(room):
    assert apart(FOREST, HARDLY_UNLIKE) < 6 < apart(FOREST, NOT_QUITE_LIKE) < 12
    shelf = list(Cloth.objects.for_quilt(room.order))
    chalked = cloth_room.shown(room, shelf, role="sashing")["lost"]
    looks = [look.what for look in looks_of(room)]
    assert {"04", "08"} <= set(chalked)
    assert "09" not in chalked
    assert "04F gets lost in the sashing." in looks
    assert any(
        "08F" in each and each.endswith("near the color of the sashing, and no match.") for each in looks
    )
    assert not any("09F" in each and "sashing" in each for each in looks)
    assert "04F is nearly the color of the sashing." in compromises(room)


def test_in_a_quilt_without_strips_nothing_is_chalked_and_another_part_is_chosen_for_first(room, shop):
    shelf = list(Cloth.objects.for_quilt(room.order))
    sashed = cloth_room.shown(room, shelf, role="")
    assert (sashed["role"], bool(sashed["lost"])) == ("sashing", True)
    names = [f"{each:02d}F" for each in range(1, 13)]
    bare = grid_quilt(3, 4, Size(14 * INCH, 14 * INCH), pieces=names, binding=Binding())
    laid = cloth_room.Laid(room.order, shop, bare, room.pieces, shelf)
    shown = cloth_room.section(laid, role="")
    assert (shown["role"], shown["lost"], shown["picked_cloth"]) == ("binding", (), "")
    assert sashed["picked_cloth"] == "Forest"
    assert cloth_room.section(laid, role="sashing")["lost"] == ()


def test_a_shirt_is_told_of_once_either_as_lost_or_as_no_match():
    shirts = {"04": palette_of_color(HARDLY_UNLIKE), "08": palette_of_color(NOT_QUITE_LIKE)}
    assert get_lost(shirts, plain(FOREST), "sashing") == ("04",)
    assert fail_to_match(shirts, plain(FOREST), "sashing") == ("08",)


def test_a_navy_shirt_near_navy_strips_is_close_where_it_is_neither_lost_nor_a_failed_match():
    navy, shirts = plain("#1f2a4d"), {"04": palette_of_color("#36476f"), "05": palette_of_color("#8cb2cf")}
    assert get_lost(shirts, navy, "sashing") == ()
    assert fail_to_match(shirts, navy, "sashing") == ()
    assert are_close(shirts, navy, "sashing") == ("04",)
    assert are_close(shirts, navy, "binding") == ()


def test_behind_the_quilt_no_shirt_gets_lost():
    shirts = {"04": palette_of_color(FOREST)}
    assert get_lost(shirts, plain(FOREST), "backing") == ()


def test_without_cloth_or_without_shirts_there_is_nothing_to_say():
    assert get_lost({}, plain(FOREST), "sashing") == ()
    assert get_lost({"04": palette_of_color(FOREST)}, None, "sashing") == ()


@pytest.mark.parametrize(
    ("cloth", "shirt"), [("#b3202c", "#f7f7f2"), ("#181818", "#f7f7f2"), ("#f7f7f2", "#6b1f2e")]
)
def test_dark_or_red_beside_white_may_stain_whichever_of_them_is_the_cloth(cloth, shirt):
    assert may_stain({"01": palette_of_color(shirt)}, plain(cloth), "sashing") == ("01",)


def test_white_cloth_beside_dark_shirts_says_which_to_soak(room, shop):
    Cloth.objects.filter(name="Forest").update(ground="#f7f7f2")
    Piece.objects.filter(shirt__number=4).update(ground="#6b1f2e")
    words = [
        f"{look.what} {look.helps}" for look in looks_of(room_of(Order.objects.get(pk=room.order.pk), shop))
    ]
    said = next(each for each in words if "which is pale" in each)
    assert "04F" in said
    assert "Soak a corner of each first" in said

"""Cloth chosen and set aside in the Quilt room."""

from __future__ import annotations

import pytest

from orders.models import Cloth, Order, Reservation
from planner.units import YARD
from tests.pages.quilt_room import QuiltRoom, words_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def room(client, ada, order, shop, shelf, twelve_shirts):
    client.force_login(ada)
    return QuiltRoom(client, order)


def cloth_of(room):
    return Order.objects.get(pk=room.order.pk).cloth


def choose(room, role, name, version=None):
    return room.send("cloth", role=role, cloth=name, version=room.version if version is None else version)


def test_cloth_is_tried_on_one_part_and_shown_in_the_picture(room, ada, shop):
    room.draw(ada, shop)
    assert choose(room, "sashing", "Forest").url == f"{room.url}?role=sashing#cloth"
    assert cloth_of(room) == {"sashing": "Forest"}
    assert "In the picture" in room.text("?role=sashing")
    assert "Undo: Forest for sashing" in room.text()


def test_undo_takes_the_cloth_out_of_the_picture_again(room, ada, shop):
    room.draw(ada, shop)
    choose(room, "sashing", "Forest")
    room.send("undoing", seen=room.seen)
    assert cloth_of(room) == {}


def test_a_part_can_be_without_cloth_again(room):
    choose(room, "sashing", "Forest")
    choose(room, "sashing", "")
    assert cloth_of(room) == {}


@pytest.mark.parametrize(("role", "name"), [("sashing", "Velvet"), ("lining", "Forest"), ("", "")])
def test_what_is_not_on_the_shelf_is_not_chosen(room, role, name):
    assert choose(room, role, name).status_code == 302
    assert cloth_of(room) == {}


def test_a_choice_on_an_older_page_is_refused(room):
    version = room.version
    choose(room, "sashing", "Forest")
    assert choose(room, "sashing", "Gold", version=version).status_code == 409
    assert cloth_of(room) == {"sashing": "Forest"}


def test_batting_and_interfacing_are_not_offered_for_the_top(room):
    page = room.text("?role=sashing")
    assert 'value="Forest"' in page
    assert 'value="Tricot"' not in page
    assert 'value="Batting 80/20"' not in page
    assert 'value="Wide black"' not in page
    assert 'value="Wide black"' in room.text("?role=backing")


def test_all_that_the_quilt_takes_is_set_aside_once(room, ada, shop):
    for role in ("sashing", "cornerstone", "binding"):
        choose(room, role, "Forest")
    room.draw(ada, shop)
    for _ in range(2):
        assert room.send("setting-aside").url == f"{room.url}#materials"
    kept = Reservation.objects.filter(let_go_at=None)
    assert sorted(kept.values_list("cloth__name", "role")) == [
        ("Batting 80/20", "batting"),
        ("Forest", "sashing"),
        ("Light non-woven", "interfacing"),
        ("Wide black", "backing"),
    ]
    assert "All set aside" in room.text()


def test_another_layout_lets_go_of_what_it_no_longer_takes(room, ada, shop):
    room.draw(ada, shop)
    choose(room, "sashing", "Forest")
    room.send("setting-aside")
    choose(room, "sashing", "Gold")
    assert "All set aside" not in room.text()
    room.send("setting-aside")
    names = Reservation.objects.filter(let_go_at=None, role="sashing").values_list("cloth__name", flat=True)
    assert list(names) == ["Gold"]
    assert Reservation.objects.filter(cloth__name="Forest").get().let_go_at is not None


def test_cloth_another_quilt_has_spoken_for_is_bought_anew_and_said(room, ada, shop, aunt):
    other = Order.objects.open(title="Another", customer=aunt, by=ada)
    forest = Cloth.objects.get(name="Forest")
    Reservation.objects.create(cloth=forest, order=other, role="sashing", length=2 * YARD)
    for role in ("sashing", "cornerstone", "binding"):
        choose(room, role, "Forest")
    room.draw(ada, shop)
    words = words_of(room.text()).replace("\xa0", " ")
    assert "Buy" in words
    assert "2 yd of it set aside for others" in words


def test_a_chosen_cloth_that_is_put_away_stays_in_its_quilt_and_is_offered_to_no_other(room, ada, shop, aunt):
    choose(room, "sashing", "Forest")
    room.draw(ada, shop)
    Cloth.objects.get(name="Forest").put_away(by=ada)
    assert "In the picture" in room.text("?role=sashing")
    other = Order.objects.open(title="Another", customer=aunt, by=ada)
    assert "Forest" not in [cloth.name for cloth in Cloth.objects.for_quilt(other)]


def test_nothing_is_set_aside_before_there_is_a_layout(room):
    answer = room.client.post(f"{room.url}setting-aside/", follow=True)
    assert "Choose a layout first" in answer.content.decode()
    assert not Reservation.objects.exists()

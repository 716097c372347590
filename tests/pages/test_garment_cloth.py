"""A garment that serves as cloth: its rectangles, her yes to cut it, and the strips it gives."""

from __future__ import annotations

import pytest

from orders import planning
from orders.cloth import cutting
from orders.models import Bag, Cloth, ClothPiece, Consent, Order, Reservation, Shirt
from orders.quilt.answers import answer
from planner.units import INCH
from tests.cast import add_shirt
from tests.pages.quilt_room import QuiltRoom, words_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def trousers(client, ada, drawn):
    """Return flannel trousers of the order's bag: woven, firm, logged with no panel to keep."""
    client.force_login(ada)
    made = add_shirt(drawn.bags.get(), 13, kind="flannel trousers", knit=False, stretch="none")
    made.pieces.all().delete()
    return made


@pytest.fixture
def url(drawn, trousers):
    return f"/quilts/{drawn.number}/shirts/13/cloth/"


@pytest.fixture
def room(client, drawn, trousers):
    return QuiltRoom(client, drawn)


LEG = {"part": "left leg", "width": "20", "length": "30"}


def said(answer):
    return words_of(answer.content.decode()).replace("\xa0", " ")


def test_a_rectangle_is_kept_exactly_and_sent_twice_is_once(client, url, trousers):
    for _ in range(2):
        assert client.post(url, LEG | {"client_id": "leg-1"}).url == url
    piece = ClothPiece.objects.get(cloth__garment=trousers)
    assert (piece.part, piece.width, piece.length) == ("left leg", 20 * INCH, 30 * INCH)
    assert "Left leg 20 in across, 30 in along" in said(client.get(url))


def test_the_widest_rectangle_is_what_a_strip_may_be_cut_from(client, url, trousers):
    client.post(url, LEG)
    client.post(url, LEG | {"part": "right leg", "width": "22 1/2"})
    assert Cloth.objects.get(garment=trousers).usable == 45 * INCH // 2


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"part": ""}, "Say where"),
        ({"width": ""}, "Measure across"),
        ({"length": "-3"}, "not a length"),
        ({"width": "0"}, "or more"),
        ({"width": "500"}, "Look at it once more"),
    ],
)
def test_a_fault_stands_beside_its_field(client, url, change, fault):
    answer = client.post(url, LEG | change)
    assert answer.status_code == 422
    assert fault in answer.content.decode()
    assert not Cloth.objects.filter(kind="garment").exists()


def test_it_is_cloth_of_its_own_quilt_and_of_no_other(client, url, drawn, aunt, ada, trousers):
    client.post(url, LEG)
    other = Order.objects.open(title="Another", customer=aunt, by=ada)
    name = Cloth.objects.get(garment=trousers).name
    assert name in [each.name for each in planning.shelf(drawn)]
    assert name not in [each.name for each in planning.shelf(other)]
    assert name not in client.get("/shelf/").content.decode()


def test_a_garment_serves_one_quilt(client, url, drawn, aunt, ada, trousers):
    client.post(url, LEG)
    other = Order.objects.open(title="Another", customer=aunt, by=ada)
    other.bags.add(Bag.objects.get())
    answer = client.post(f"/quilts/{other.number}/shirts/13/cloth/", LEG)
    assert answer.status_code == 422
    assert "A garment serves one quilt" in answer.content.decode()


def test_it_stands_in_the_cloth_section_with_what_it_gives(client, url, room):
    client.post(url, LEG)
    words = said(room.look("?role=sashing"))
    assert "Flannel trousers 13, No. 1 from the customer" in words
    assert "Gives 12 of the 31 pieces" in words
    assert "Her yes to cut it is missing" in words


def test_let_it_give_first_and_the_bolt_gives_the_rest(client, url, room, drawn, shop, trousers):
    before = answer(drawn, shop, drawn=room.quilt).options[0].cuts["sashing"].used
    client.post(url, LEG)
    name = Cloth.objects.get(garment=trousers).name
    sent = room.send("giving", role="sashing", cloth=name, version=room.version)
    assert sent.url == f"{room.url}?role=sashing#cloth"
    order = Order.objects.get(pk=drawn.pk)
    offer = answer(order, shop, drawn=room.quilt).options[0]
    assert sum(column.count for strip in offer.given["sashing"].strips for column in strip.columns) == 12
    assert offer.cuts["sashing"].used < before
    assert "Gives first" in said(room.look("?role=sashing"))
    lists = {
        each.cloth: each
        for each in cutting.cutting_list(room.quilt, shop, planning.shelf(order), order=order)
    }
    assert lists[name].roles == ("sashing",)
    room.send("giving", role="sashing", cloth="", version=room.version)
    assert Order.objects.get(pk=drawn.pk).wish["gives"] == {}


def test_in_place_the_cloth_section_alone_is_answered(client, url, room, trousers):
    client.post(url, LEG)
    name = Cloth.objects.get(garment=trousers).name
    sent = {"role": "sashing", "cloth": name, "version": room.version}
    answered = client.post(f"{room.url}giving/", sent, headers={"HX-Request": "true"})
    assert answered.status_code == 200
    assert "Gives first" in said(answered)


def test_what_stretches_is_fused_behind_and_counted(client, url, room, shop, trousers):
    client.post(url, LEG)
    Shirt.objects.filter(pk=trousers.pk).update(knit=True, stretch="medium")
    assert "fuse light non-woven behind it" in said(client.get(url))
    name = Cloth.objects.get(garment=trousers).name
    offer = answer(Order.objects.get(), shop, drawn=room.quilt).options[0]
    room.send("giving", role="sashing", cloth=name, version=room.version)
    fused = answer(Order.objects.get(), shop, drawn=room.quilt).options[0]
    assert fused.interfacing[0].pieces == offer.interfacing[0].pieces + 12


def test_firm_cloth_has_no_word_about_fusing(client, url):
    client.post(url, LEG)
    assert "fuse" not in said(client.get(url))


def test_nothing_of_it_is_cut_or_set_aside_before_her_yes(client, url, room, trousers):
    client.post(url, LEG)
    cloth = Cloth.objects.get(garment=trousers)
    piece = cloth.pieces.get()
    room.send("giving", role="sashing", cloth=cloth.name, version=room.version)
    told = said(client.post(f"{room.url}setting-aside/", follow=True))
    assert "waits for her yes to cut it" in told
    assert not Reservation.objects.filter(cloth=cloth).exists()
    assert "Her yes to cut it is missing" in said(client.post(f"{url}{piece.pk}/end/", follow=True))
    piece.refresh_from_db()
    assert piece.used_up_at is None


def test_after_her_yes_it_is_set_aside_cut_and_the_garment_is_used(client, url, room, trousers):
    client.post(url, LEG)
    assert client.post(f"{url}yes/", {"said_by": "an aunt of ferncliff", "how": "phone"}).url == url
    cloth = Cloth.objects.get(garment=trousers)
    assert cloth.may_be_cut
    room.send("giving", role="sashing", cloth=cloth.name, version=room.version)
    room.send("setting-aside")
    assert Reservation.objects.get(cloth=cloth).role == "sashing"
    client.post(f"{url}{cloth.pieces.get().pk}/end/")
    trousers.refresh_from_db()
    assert trousers.state == Shirt.State.USED


def test_a_yes_is_the_approvers_and_is_written_once(client, url, trousers):
    client.post(url, LEG)
    wrong = client.post(f"{url}yes/", {"said_by": "A neighbor", "how": "phone"})
    assert wrong.status_code == 422
    assert "Type that name" in wrong.content.decode()
    for _ in range(2):
        client.post(f"{url}yes/", {"said_by": "An aunt of Ferncliff", "how": "phone"})
    assert Consent.objects.filter(kind="cut").count() == 1


def test_a_yes_taken_back_stops_the_blade(client, url, trousers, ada):
    client.post(url, LEG)
    client.post(f"{url}yes/", {"said_by": "An aunt of Ferncliff", "how": "phone"})
    Consent.objects.get(kind="cut").withdraw(by=ada)
    assert not Cloth.objects.get(garment=trousers).may_be_cut


def test_a_rectangle_that_is_no_cloth_comes_off_and_back(client, url, trousers):
    client.post(url, LEG)
    piece = ClothPiece.objects.get(cloth__garment=trousers)
    page = client.post(f"{url}{piece.pk}/end/", {"off": "1"}, follow=True).content.decode()
    assert f"{url}{piece.pk}/back/" in page
    client.post(f"{url}{piece.pk}/back/")
    trousers.refresh_from_db()
    assert trousers.state == Shirt.State.IN_WORK
    assert "Left leg" in said(client.get(url))


def test_a_garment_gives_no_backing(client, url, room, trousers):
    client.post(url, LEG)
    name = Cloth.objects.get(garment=trousers).name
    room.send("giving", role="backing", cloth=name, version=room.version)
    assert "gives" not in Order.objects.get().wish


def test_what_changes_something_is_no_link(client, url, room):
    client.post(url, LEG)
    piece = ClothPiece.objects.get(cloth__garment__isnull=False)
    for place in (f"{url}yes/", f"{url}{piece.pk}/end/", f"{url}{piece.pk}/back/", f"{room.url}giving/"):
        assert client.get(place).status_code == 405


def test_not_for_a_helper_nor_outside(client, url, bo):
    client.force_login(bo)
    assert client.get(url).status_code == 403
    assert client.post(url, LEG).status_code == 403
    client.logout()
    assert client.post(url, LEG).url.startswith("/sign-in/")


def test_another_orders_garment_is_not_here(client, url, drawn, aunt, ada):
    other = Order.objects.open(title="Another", customer=aunt, by=ada)
    assert client.get(f"/quilts/{other.number}/shirts/13/cloth/").status_code == 404

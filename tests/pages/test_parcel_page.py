"""The parcel: packed with its picture, its number, the day it is there; the way home; the same as before."""

from __future__ import annotations

from datetime import timedelta

import pytest

from orders.models import Order, Parcel
from tests.orders.pictures import drawing, saved, upload

pytestmark = pytest.mark.django_db
PACKED = {
    "address": "4 Towpath\nQuarry Gap", "carrier": "The van", "transit_days": "3", "value": "500.76",
    "weight": "3.25",
}  # fmt: skip


@pytest.fixture
def owner(client, ada):
    client.force_login(ada)
    return client


@pytest.fixture
def packed(order, ada):
    """Return the parcel of an order, packed and not gone."""
    facts = {"address": "4 Towpath", "carrier": "The van", "value": 50076, "transit_days": 3}
    return Parcel.objects.pack(order, by=ada, **facts)


def at(order, rest=""):
    return f"/quilts/{order.number}/hand-over/{rest}"


def test_it_is_packed_with_address_value_days_weight_and_its_picture(owner, order):
    answer = owner.post(at(order, "parcel/"), PACKED | {"photo": upload(saved(drawing()))})
    assert (answer.status_code, answer.url) == (302, at(order))
    parcel = Parcel.objects.get()
    assert (parcel.address, parcel.value, parcel.weight) == ("4 Towpath\nQuarry Gap", 50076, 1474)
    assert parcel.box is not None
    order.refresh_from_db()
    assert order.leaving == "parcel"
    assert "Packed for The van, 3 days on the way." in owner.get(at(order)).text


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"address": " "}, "Type the whole address."),
        ({"carrier": ""}, "Type who carries it."),
        ({"transit_days": "soon"}, "Type whole days"),
        ({"transit_days": "-1"}, "greater than or equal to 0"),
        ({"value": "a lot"}, "amount"),
        ({"weight": "heavy"}, "Type a number"),
        ({"weight": "0"}, "greater than or equal to 0.01"),
        ({"photo": None}, "Take a picture of the closed box"),
        ({"photo": upload(b"Dear diary", name="diary.jpg")}, "photo"),
    ],
)
def test_what_is_missing_is_named_beside_its_question(owner, order, change, fault):
    sent = PACKED | {"photo": upload(saved(drawing()))} | change
    answer = owner.post(
        at(order, "parcel/"), {name: value for name, value in sent.items() if value is not None}
    )
    assert answer.status_code == 422
    assert fault in answer.text
    assert not Parcel.objects.exists()


def test_a_picture_that_came_with_another_fault_is_not_asked_for_again(owner, order):
    first = owner.post(at(order, "parcel/"), PACKED | {"photo": upload(saved(drawing())), "carrier": ""})
    kept = first.context["form"]["kept_photo"].value()
    assert "The photo of the box is kept." in first.text
    assert owner.post(at(order, "parcel/"), PACKED | {"kept_photo": kept}).status_code == 302
    assert Parcel.objects.get().box_id == int(kept)


def test_a_drawn_quilt_says_what_it_weighs_by_its_layers(owner, drawn):
    assert "By its layers it weighs about" in owner.get(at(drawn, "parcel/")).text


def test_nobody_but_the_owner_sees_the_label_of_a_box(client, ada, bo, order):
    client.force_login(ada)
    client.post(at(order, "parcel/"), PACKED | {"photo": upload(saved(drawing()))})
    box = Parcel.objects.get().box_id
    places = [f"/photos/{box}/320.jpg", f"/photos/{box}/whole.jpg"]
    assert [client.get(place).status_code for place in places] == [200, 200]
    client.force_login(bo)
    assert [client.get(place).status_code for place in places] == [404, 404]


def test_its_number_and_its_arrival_are_written_down(owner, packed, order, shop, ada):
    packed.send(shop.today() - timedelta(days=4), by=ada)
    assert "Parcels not heard of" in owner.get("/").text
    owner.post(at(order, "parcel/number/"), {"tracking": "QX 114"})
    assert "QX 114" in owner.get(at(order, "parcel/")).text
    for _ in range(2):
        owner.post(at(order, "parcel/arrival/"), {"on": str(shop.today())})
    packed.refresh_from_db()
    assert (packed.tracking, packed.arrived_on) == ("QX 114", shop.today())
    assert order.events.filter(what="parcel arrived").count() == 1
    assert "It is there" in owner.get(at(order, "parcel/")).text
    assert "Parcels not heard of" not in owner.get("/").text


@pytest.mark.parametrize(
    ("days", "fault"), [(1, "still to come"), (-5, "before it went"), (None, "Pick the day")]
)
def test_it_arrives_neither_before_it_went_nor_in_days_to_come(owner, packed, order, shop, ada, days, fault):
    packed.send(shop.today() - timedelta(days=4), by=ada)
    on = "someday" if days is None else str(shop.today() + timedelta(days=days))
    answer = owner.post(at(order, "parcel/arrival/"), {"on": on})
    assert answer.status_code == 422
    assert fault in answer.text


def test_what_has_not_gone_cannot_arrive_and_what_is_not_packed_has_no_number(owner, order, ada):
    assert owner.post(at(order, "parcel/number/"), {"tracking": "x"}).status_code == 404
    Parcel.objects.pack(order, by=ada, address="x", carrier="x", value=1, transit_days=1)
    assert owner.post(at(order, "parcel/arrival/"), {"on": "2026-01-01"}).status_code == 404
    assert owner.post(at(order, "parcel/number/"), {"tracking": " "}).status_code == 422


def test_the_way_home_is_tapped_and_leads_on(owner, order):
    assert owner.post(at(order, "way/"), {"way": "delivery"}).url == at(order)
    assert "No address of An aunt of Ferncliff is written down." in owner.get(at(order)).text
    assert owner.post(at(order, "way/"), {"way": "parcel"}).url == at(order, "parcel/")
    assert "Not packed yet." in owner.get(at(order)).text
    assert owner.post(at(order, "way/"), {"way": "pigeon"}).status_code == 422


def test_helpers_and_strangers_do_not_get_near_an_address(client, bo, packed, order):
    rests = ("way/", "parcel/number/", "parcel/arrival/")
    assert client.get(at(order, "parcel/")).status_code == 302
    client.force_login(bo)
    assert client.get(at(order, "parcel/")).status_code == 403
    for rest in rests:
        assert client.post(at(order, rest), {}).status_code == 403
        assert client.get(at(order, rest)).status_code == 405
    assert client.post(f"/quilts/{order.number}/account/same-as/").status_code == 403


def test_a_quilt_that_is_not_there_has_no_parcel(owner, shop):
    assert owner.get("/quilts/99/hand-over/parcel/").status_code == 404
    assert owner.post("/quilts/99/hand-over/way/", {"way": "parcel"}).status_code == 404


@pytest.fixture
def again(order, ada):
    """Return a second order for the aunt, whose first has its cloth chosen."""
    order.cloth = {"sashing": "Forest"}
    order.save()
    return Order.objects.open(title="The pillow", customer=order.customer, by=ada)


def test_the_same_as_before_is_offered_copied_and_said(owner, order, again):
    place = f"/quilts/{again.number}/account/same-as/"
    assert "Same as one made before" in owner.get(f"/quilts/{again.number}/account/").text
    assert "Same as one made before" not in owner.get(f"/quilts/{order.number}/account/").text
    page = owner.post(place, {"pattern": order.pk}, follow=True)
    assert "as for No. 1. The price is reckoned anew." in page.text
    again.refresh_from_db()
    assert again.cloth == {"sashing": "Forest"}


def test_nothing_of_another_customer_and_nothing_agreed_is_copied(owner, order, again, ada):
    place = f"/quilts/{again.number}/account/same-as/"
    for said in ({"pattern": again.pk}, {"pattern": 99}, {}):
        assert owner.post(place, said).status_code == 422
    assert owner.get(place).status_code == 405
    again.accepted_at = again.opened_at
    again.save()
    assert owner.post(place, {"pattern": order.pk}).status_code == 409
    again.refresh_from_db()
    assert again.cloth == {}

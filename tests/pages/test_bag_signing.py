"""Both sign for the count while she stands there; then what is true of the whole bag, told once."""

from __future__ import annotations

import json

import pytest

from orders.models import Event, Signature

pytestmark = pytest.mark.django_db
LINES = [[10, 20, 30, 40], [50, 60]]


@pytest.fixture
def bag(order):
    return order.bags.get()


@pytest.fixture
def address(order, bag):
    return f"/quilts/{order.number}/bag/{bag.pk}/signing/"


@pytest.fixture
def whole(order, bag):
    return f"/quilts/{order.number}/bag/{bag.pk}/whole/"


@pytest.fixture
def helper(client, bo, order):
    client.force_login(bo)
    return client


def signed(**change):
    names = {"handed_in": "The aunt", "received": "Bo", "count": "12"}
    return names | {"handed_in_strokes": json.dumps(LINES), "received_strokes": ""} | change


def test_the_count_stands_there_in_words(helper, address):
    page = helper.get(address).content.decode()
    assert "Twelve garments" in page
    assert 'value="the aunt"' in page


def test_both_sign_with_a_finger_or_by_name_and_are_shown_with_the_bag(helper, address, order, whole):
    for _ in range(2):
        assert helper.post(address, signed()).url == whole
    found = [(each.role, each.name, each.strokes, each.count) for each in Signature.objects.all()]
    assert found == [("handed in", "The aunt", LINES, 12), ("received", "Bo", [], 12)]
    assert Event.objects.filter(what="signed").count() == 2
    room = " ".join(helper.get(f"/quilts/{order.number}/bag/").content.decode().split())
    assert 'aria-label="Signature of The aunt"' in room
    assert "Received by <b>Bo</b>" in room
    assert "Sign for it" not in room


def test_a_count_that_changed_meanwhile_is_signed_for_anew(helper, address, bag, bo):
    bag.count_again(13, by=bo)
    answer = helper.post(address, signed())
    assert answer.status_code == 422
    assert "Somebody counted again" in answer.content.decode()
    assert not Signature.objects.exists()
    assert helper.post(address, signed(count="13")).status_code == 302
    assert {each.count for each in Signature.objects.all()} == {13}


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"handed_in": ""}, "Type who handed it in"),
        ({"received": " "}, "Type who received it"),
        ({"handed_in_strokes": "scribble"}, "The lines were lost on the way"),
        ({"handed_in_strokes": "[[1, 2, 3]]"}, "The lines were lost on the way"),
        ({"handed_in_strokes": "[[1, -2]]"}, "The lines were lost on the way"),
        ({"handed_in_strokes": "[[1.5, 2]]"}, "The lines were lost on the way"),
        ({"handed_in_strokes": "[[true, 2]]"}, "The lines were lost on the way"),
        ({"handed_in_strokes": '{"a": 1}'}, "The lines were lost on the way"),
        ({"handed_in_strokes": json.dumps([[1, 2] * 5000])}, "The lines were lost on the way"),
        ({"handed_in_strokes": "[" * 20000}, "The lines were lost on the way"),
    ],
)
def test_what_is_no_signature_is_refused_and_the_names_stay(helper, address, change, fault):
    answer = helper.post(address, signed() | change)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert fault in page
    assert not Signature.objects.exists()


def test_sacks_that_nobody_looked_into_are_signed_for_as_such(helper, address, order, bag):
    type(bag).objects.filter(pk=bag.pk).update(count=None, sacks=3)
    assert "Three sealed bags" in helper.get(address).content.decode()
    assert helper.post(address, signed(count="")).url == f"/quilts/{order.number}/bag/"
    assert {each.count for each in Signature.objects.all()} == {None}


def test_what_is_true_of_the_whole_bag_is_told_on_one_screen_before_the_first_shirt(
    helper, whole, order, bag
):
    assert "True of the whole bag" in helper.get(whole).content.decode()
    said = {"version": "1", "washed_without_softener": "on", "smoke": "on", "allergies": "wool"}
    answer = helper.post(whole, said)
    bag.refresh_from_db()
    assert answer.url == f"/quilts/{order.number}/bag/log/?bag={bag.pk}"
    assert (bag.washed_without_softener, bag.smoke, bag.pets, bag.leftovers_back) == (
        True,
        True,
        False,
        False,
    )
    assert (bag.allergies, bag.count, bag.brought_by) == ("wool", 12, "the aunt")


def test_it_can_be_logged_later(helper, whole, order):
    assert helper.post(whole, {"version": "1", "later": "1"}).url == f"/quilts/{order.number}/bag/"


def test_a_second_phone_at_the_whole_bag_is_refused_once_and_loses_nothing(helper, whole, bag):
    helper.post(whole, {"version": "1", "allergies": "wool"})
    late = helper.post(whole, {"version": "1", "allergies": "latex"})
    assert late.status_code == 409
    for shown in ("Somebody else changed this", "wool", "latex"):
        assert shown in late.content.decode()


def test_a_remark_that_is_too_long_comes_back(helper, whole):
    answer = helper.post(whole, {"version": "1", "allergies": "x" * 201})
    assert answer.status_code == 422
    assert "x" * 201 in answer.content.decode()


def test_outside_another_order_and_unknown(client, address, whole, order, bag, ada):
    assert client.post(address, signed()).url.startswith("/sign-in/")
    client.force_login(ada)
    for place in (address, whole):
        assert client.get(place.replace(f"/{bag.pk}/", "/999/")).status_code == 404
        assert client.get(place.replace(f"/quilts/{order.number}/", "/quilts/99/")).status_code == 404

"""What happens to a line of the log, on the shirt's page."""

from __future__ import annotations

import pytest

from orders.models import Shirt

pytestmark = pytest.mark.django_db
NOUNS = ("striking", "quarantine", "release", "splitting", "welcome", "tag")


@pytest.fixture
def helper(client, order, twelve_shirts, bo):
    client.force_login(bo)
    return client


@pytest.fixture
def address(order):
    return f"/quilts/{order.number}/shirts/3/"


def shirt():
    return Shirt.objects.get(number=3)


def test_a_line_logged_by_mistake_is_taken_out_and_put_back(helper, address, order):
    page = helper.post(f"{address}striking/", {"why": "logged twice"}, follow=True).content.decode()
    assert "03 is taken out of the log. Its number is given to no other." in page
    assert "Taken out of the log" in page
    room = " ".join(helper.get(f"/quilts/{order.number}/bag/").content.decode().split())
    assert "<b>12</b> in = <b>11</b> in work" in room
    assert "<b>1</b> not logged yet" in room
    helper.post(f"{address}finding/")
    assert shirt().state == "in work"


def test_why_it_is_taken_out_is_asked(helper, address):
    answer = helper.post(f"{address}striking/", {"why": ""})
    assert answer.status_code == 422
    assert "Write why" in answer.content.decode()
    assert shirt().state == "in work"


def test_what_is_in_a_quilt_says_what_to_do_first(helper, address, order):
    shirt().pieces.update(order=order)
    page = helper.post(f"{address}striking/", {"why": "a rag"}, follow=True).content.decode()
    assert "03F is in a quilt. Leave it out there first." in page


@pytest.mark.parametrize(
    ("why", "caution"),
    [
        ("mold", "textile restorer"),
        ("insects", "pest professional"),
        ("soiled", "gloves on"),
        ("smell", "Air it"),
    ],
)
def test_what_is_kept_apart_says_how_to_handle_it(helper, address, why, caution):
    helper.post(f"{address}quarantine/", {"why": why})
    page = helper.get(address).content.decode()
    assert shirt().apart == why
    assert caution.lower() in page.lower()
    helper.post(f"{address}release/")
    assert shirt().apart == ""


def test_a_reason_that_does_not_exist_is_refused(helper, address):
    answer = helper.post(f"{address}quarantine/", {"why": "ghosts"})
    assert answer.status_code == 422
    assert "Tap why." in answer.content.decode()


def test_a_group_is_taken_apart_and_leads_to_the_new_line(helper, address, order):
    Shirt.objects.filter(number=3).update(garments=4)
    answer = helper.post(f"{address}splitting/", {"out": "1"})
    assert answer.url == address.replace("/3/", "/13/")
    assert (shirt().garments, Shirt.objects.get(number=13).garments) == (3, 1)


@pytest.mark.parametrize("out", ["", "0", "4", "many"])
def test_a_number_that_cannot_be_taken_out_is_refused_beside_its_field(helper, address, out):
    Shirt.objects.filter(number=3).update(garments=4)
    answer = helper.post(f"{address}splitting/", {"out": out})
    assert answer.status_code == 422
    assert shirt().garments == 4


def test_a_guest_is_said_to_be_one_and_may_belong_here(helper, address, order):
    Shirt.objects.filter(number=3).update(guest=True)
    assert "A guest: it matches no line" in helper.get(address).content.decode()
    helper.post(f"{address}welcome/")
    assert not shirt().guest
    assert order.bags.get().count == 12


def test_a_tag_to_be_written_anew_says_so_until_it_is(helper, address):
    Shirt.objects.filter(number=3).update(wrong_tag=7)
    assert "Its tag says 07." in helper.get(address).content.decode()
    helper.post(f"{address}tag/")
    assert shirt().wrong_tag is None


def test_what_it_lacks_is_sorted_by_what_it_keeps_from_being_done(helper, address):
    page = " ".join(helper.get(address).content.decode().split())
    assert "<b>Before the blade:</b> photo" in page
    assert "Before the quote:" not in page
    shirt().pieces.update(sizes_are_usual=True, print_kind="unknown")
    page = " ".join(helper.get(address).content.decode().split())
    assert "<b>Before the quote:</b> print size" in page
    assert "<b>Before the iron:</b> feel" in page


@pytest.mark.parametrize("noun", NOUNS)
def test_outside_unknown_and_get_are_refused(client, address, ada, twelve_shirts, noun):
    assert client.post(f"{address}{noun}/").url.startswith("/sign-in/")
    client.force_login(ada)
    assert client.get(f"{address}{noun}/").status_code == 405
    assert client.post(f"{address.replace('/3/', '/99/')}{noun}/").status_code == 404


@pytest.mark.parametrize("state", ["in work", "used", "returned"])
def test_the_log_says_when_it_was_written_whatever_became_of_the_shirt(helper, address, state):
    Shirt.objects.filter(number=3).update(state=state)
    page = helper.get(address).content.decode()
    assert "Logged today." in page.split("In the log</h2>")[1].split("</section>")[0]

"""The photo of a pile in a real browser: the count goes without it, and it follows when it can."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from orders.models import Bag, Order, Photo
from tests.pages.demo_tour import sign_in
from tests.pages.phone import photo_file

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.slow]


@pytest.fixture(autouse=True)
def _empty_disk(settings, tmp_path):
    settings.DATA_DIR = tmp_path


@pytest.fixture
def door(page, live_server, client, aunt, ada):
    """Return the page on which a bag comes in, with the photo of its pile taken."""
    order = Order.objects.open(title="Another", customer=aunt, by=ada)
    page.set_default_timeout(20_000)
    sign_in(page, live_server, client, ada)
    page.goto(f"{live_server.url}/quilts/{order.number}/bag/arrival/")
    page.get_by_label("How many, counted together").fill("20")
    page.locator("#id_photo").set_input_files(photo_file(1))
    return page


def take_in(page):
    page.get_by_role("button", name="Take the bag in").click()


def the_photo_is_sent(page):
    """Wait until the bag has the photo and nothing is left on the phone."""
    for _ in range(200):
        if Bag.objects.get().photos.exists():
            break
        page.wait_for_timeout(50)
    expect(page.locator("#phone-queue")).to_be_hidden()
    assert Bag.objects.get().photos.count() == Photo.objects.count() == 1


def test_the_count_never_waits_for_the_photo_of_the_pile(door):
    door.route("**/piles/**", lambda route: route.abort("internetdisconnected"))
    take_in(door)
    expect(door.get_by_role("heading", level=1)).to_have_text("Twenty garments")
    expect(door.locator("#phone-queue")).to_contain_text("On this phone, 1 still to send.")
    assert not Photo.objects.exists()
    door.unroute("**/piles/**")
    door.reload()
    the_photo_is_sent(door)


def test_a_photo_of_the_pile_outlives_a_network_that_is_gone_at_the_door(door):
    here = door.url
    door.route("**/bag/arrival/", lambda route: route.abort("internetdisconnected"))
    with door.expect_event("requestfailed"):
        take_in(door)
    door.unroute("**/bag/arrival/")
    door.goto(here)
    expect(door.get_by_text("The photo of the pile is kept on this phone.")).to_be_visible()
    door.get_by_label("How many, counted together").fill("20")
    take_in(door)
    expect(door.get_by_role("heading", level=1)).to_have_text("Twenty garments")
    the_photo_is_sent(door)


def test_a_bag_that_came_in_while_its_answer_was_lost_keeps_its_photo(door):
    here = door.url

    def lose_the_answer(route):
        route.fetch(max_redirects=0)
        route.abort("connectionreset")

    door.route("**/bag/arrival/", lose_the_answer)
    with door.expect_event("requestfailed"):
        take_in(door)
    door.unroute("**/bag/arrival/")
    door.goto(here.removesuffix("arrival/"))
    expect(door.get_by_role("heading", name="Twenty came in")).to_be_visible()
    the_photo_is_sent(door)
    door.goto(here)
    expect(door.locator("[data-pile-kept]")).to_be_hidden()

"""Every screen of the demo shop in a real browser, on a phone and on a laptop, by day and by night."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from django.urls import resolve, reverse

from orders.countries import ELSEWHERE
from orders.demo.tour import helpers_screens, owners_screens
from orders.models import Order, Person
from orders.models.paper import Link
from tests.pages.callers import OWNER, ROWS, STAFF
from tests.pages.demo_tour import open_with_few_photos, sign_in
from tests.pages.looking import faults_of

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.slow]
HEIGHTS = {390: 844, 1280: 900}
# Files, parts of a page that are fetched by themselves, and the pages of an empty shop.
NO_SCREENS = {
    "photo", "photo-whole", "photo-part", "photo-panel", "order-quilt-picture", "paper", "taken-file",
    "books-entries", "enquiry-ways", "order-ways-progress", "order-quilt-mixed-progress",
    "order-quilt-rearranging-progress", "weeks-if-progress", "set-up",
}  # fmt: skip
ALL_WRONG = """<!doctype html><html lang="en"><title>Page</title><main><h1>One</h1><h1>Two</h1>
<img alt="" width="40" height="90"
src="data:image/gif;base64,R0lGODdhAQABAIAAAP///////ywAAAAAAQABAAACAkQBADs=">
<a class="button main">Do this</a> <a class="button main">Or this</a> <input> <button>Small</button>
<p style="width: 2000px; color: #999">Hardly to be read.</p></main></html>"""


@pytest.fixture
def demo(settings, tmp_path):
    settings.DATA_DIR = tmp_path
    open_with_few_photos()


@pytest.fixture
def walk(page, live_server):
    """Return a way to walk through screens, which gathers what is wrong with each."""

    def walk(screens, width, *, status=200):
        page.set_viewport_size({"width": width, "height": HEIGHTS[width]})
        said = []
        page.on("console", lambda message: said.append(message.text))
        page.on("pageerror", lambda fault: said.append(str(fault)))
        faults = []
        for name, address in screens.items():
            said.clear()
            answer = page.goto(live_server.url + address)
            faults += [f"{name}: {fault}" for fault in (*faults_of(page, width), *said)]
            if answer.status != status:
                faults.append(f"{name}: status {answer.status}")
        return "\n".join(faults)

    return walk


@pytest.fixture
def signed_in(page, live_server, client):
    """Return a way to sign somebody in by role."""
    return lambda role: sign_in(page, live_server, client, Person.objects.get(role=role))


def test_the_look_finds_what_it_looks_for(page):
    page.set_viewport_size({"width": 390, "height": 844})
    page.set_content(ALL_WRONG)
    found = "\n".join(faults_of(page, 390))
    for words in (
        "color-contrast: <p", "label: <input>", "px too wide", "px high: <button>Small", "2 headings",
        "out of proportion: <img",
        "title 'Page'", "2 main buttons: ['Do this', 'Or this']", "in the dark: color-contrast",
    ):  # fmt: skip
        assert words in found


def left_out(screens):
    """Return the pages for people of the shop that none of these screens is."""
    shown = {resolve(address.partition("?")[0]).url_name for address in screens.values()}
    return {name for name, row in ROWS.items() if row.look in (STAFF, OWNER)} - shown - NO_SCREENS


@pytest.mark.parametrize("width", HEIGHTS)
def test_the_owner_can_read_and_reach_every_screen(demo, walk, signed_in, width):
    assert left_out(owners_screens()) == set()
    signed_in(Person.Role.OWNER)
    assert walk(owners_screens(), width) == ""


@pytest.mark.parametrize("width", HEIGHTS)
def test_a_helper_can_read_and_reach_every_screen(demo, walk, signed_in, width):
    signed_in(Person.Role.HELPER)
    assert walk(helpers_screens(), width) == ""


@pytest.mark.parametrize("width", HEIGHTS)
def test_a_customer_can_read_and_reach_her_page(demo, walk, width):
    owner = Person.objects.get(role=Person.Role.OWNER)
    for title in ("First birthday", "The band’s goodbye", "The aunt’s surprise", "His father’s shirts"):
        order = Order.objects.get(title=title)
        _, token = Link.objects.give_out(order, until=date.today() + timedelta(days=9), by=owner)
        assert walk({title: reverse("for-you-open", args=[token])}, width) == ""


@pytest.mark.parametrize("width", HEIGHTS)
def test_the_doors_can_be_read_and_reached(demo, walk, width):
    assert walk({"sign-in": reverse("sign-in")}, width) == ""
    found = walk({"closed": reverse("for-you-open", args=["no-such-token"])}, width, status=404)
    assert found == "closed: Failed to load resource: the server responded with a status of 404 (Not Found)"


@pytest.mark.parametrize("width", HEIGHTS)
def test_an_empty_shop_can_be_read_and_reached(walk, page, live_server, client, width):
    assert walk({"first owner": reverse("first-owner")}, width) == ""
    owner = Person.objects.create_person("Wren", role=Person.Role.OWNER, password="muslin by the window")
    sign_in(page, live_server, client, owner)
    places = {"place": reverse("set-up"), "elsewhere": f"{reverse('set-up')}?place={ELSEWHERE}"}
    places["shop"] = f"{reverse('set-up')}?place=GB"
    assert walk(places, width) == ""

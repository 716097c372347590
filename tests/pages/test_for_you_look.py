"""The customer's page in a real browser: readable in both lights, and her yes arrives."""

from datetime import timedelta

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.core.cache import cache
from playwright.sync_api import expect

from orders.account import money
from orders.models import Link

pytestmark = pytest.mark.django_db(transaction=True)
# WCAG 2.2 AA target size is off in axe unless asked for.
RULES = {"rules": {"target-size": {"enabled": True}}}


@pytest.fixture
def link(live_server, shop, ada):
    def given(order):
        cache.clear()
        _, token = Link.objects.give_out(order, until=shop.today() + timedelta(days=9), by=ada)
        return f"{live_server.url}/for-you/{token}/"

    return given


def faults(page):
    found = Axe().run(page, options=RULES).response["violations"]
    return [(fault["id"], [node["html"] for node in fault["nodes"]]) for fault in found]


@pytest.mark.parametrize("light", ["light", "dark"])
@pytest.mark.parametrize("width", [390, 1280])
def test_everyone_can_read_it(page, link, quote, drawn, light, width):
    page.emulate_media(color_scheme=light)
    page.set_viewport_size({"width": width, "height": 800})
    page.goto(link(drawn))
    assert page.url.endswith("/for-you/")
    assert page.evaluate("document.documentElement.scrollWidth") == width
    assert faults(page) == []


def test_her_yes_to_the_price_arrives_and_the_next_thing_is_told(page, link, quote, drawn):
    page.goto(link(drawn))
    page.get_by_label("Your name").fill("An aunt of Ferncliff")
    page.get_by_role("button", name="Yes to the price").click()
    expect(page.get_by_role("heading", name="Balance")).to_be_visible()
    assert money.owing_of(drawn).balance == 50076


def test_her_yes_arrives_without_any_script(new_context, link, quote, drawn):
    page = new_context(java_script_enabled=False).new_page()
    page.goto(link(drawn))
    page.get_by_label("Your name").fill("A passer-by")
    page.get_by_role("button", name="Yes to the price").click()
    expect(page.get_by_label("Your name")).to_have_value("A passer-by")
    page.get_by_label("Your name").fill("An aunt of Ferncliff")
    page.get_by_role("button", name="Yes to the price").click()
    expect(page.get_by_role("heading", name="Balance")).to_be_visible()


def test_a_named_link_takes_three_taps_to_a_yes_and_150_kb_with_its_fonts(
    page, live_server, quote, drawn, shop, ada
):
    cache.clear()
    until, name = shop.today() + timedelta(days=9), "An aunt of Ferncliff"
    _, token = Link.objects.give_out(drawn, until=until, by=ada, to=name)
    came = []
    page.on("response", lambda each: came.append(each))
    page.set_viewport_size({"width": 390, "height": 800})
    page.goto(f"{live_server.url}/for-you/{token}/")  # the first tap: the link itself
    page.wait_for_load_state("networkidle")
    weight = sum(len(each.body()) for each in came if each.status == 200)
    assert any("woff2" in each.url for each in came)
    assert 50_000 < weight < 150 * 1024
    page.get_by_label(f"I am {name}").click()
    page.get_by_role("button", name="Yes to the price").click()
    expect(page.get_by_role("heading", name="Balance")).to_be_visible()
    assert money.owing_of(drawn).balance == 50076

"""With script, a Done or an undo swaps the middle of its page; without, the same form loads the page anew."""

from __future__ import annotations

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from orders import planning
from orders.models import Design, Stage

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def work(shop, order, twelve_shirts, shelf, ada):
    """Return the order with its work laid out; Ada is at the bench whatever weekday it is."""
    ada.week.minutes = [300] * 7
    ada.week.save()
    best = planning.plan_order(order, shop).options[0]
    Design.objects.create(order=order).draw(best.layout.quilt, "Even grid", by=ada)
    planning.keep_blocks(order, best.layout.quilt)
    planning.lay_out_work(order, best.minutes, by=ada)
    return order


def come_in(page, live_server, password, address):
    page.goto(f"{live_server.url}{reverse('sign-in')}")
    page.get_by_label("Your name").fill("Ada")
    page.get_by_label("Password").fill(password)
    page.get_by_role("button", name="Sign in").click()
    page.goto(f"{live_server.url}{address}")


def test_start_and_done_keep_the_page_and_say_what_happened(page, live_server, work, password):
    faults = []
    page.on("console", lambda message: faults.append(message.text))
    come_in(page, live_server, password, reverse("today"))
    page.evaluate("window.untouched = true")
    page.get_by_role("button", name="Start").first.click()
    page.get_by_role("button", name="Done", exact=True).first.click()
    expect(page.get_by_role("button", name="Undo")).to_be_visible()
    assert page.evaluate("window.untouched")
    assert page.evaluate("document.activeElement.id") == "main"
    assert Stage.objects.filter(done_at__isnull=False).count() == 1
    assert faults == []


def test_what_is_refused_stands_on_the_page_too(page, live_server, work, password):
    come_in(page, live_server, password, reverse("order-bench", args=[work.number]))
    page.evaluate("window.untouched = true")
    cut = page.locator("li, tr, div").filter(has_text="Cut").get_by_role("button", name="Start")
    before = page.url
    cut.first.click()
    expect(page.locator("#main")).to_contain_text("yes")
    assert page.url.split("?")[0].split("#")[0] == before.split("?")[0].split("#")[0]


def test_without_script_the_same_button_does_the_same(browser, live_server, work, password):
    page = browser.new_context(java_script_enabled=False).new_page()
    come_in(page, live_server, password, reverse("today"))
    page.get_by_role("button", name="Start").first.click()
    expect(page.get_by_role("button", name="Done", exact=True).first).to_be_visible()

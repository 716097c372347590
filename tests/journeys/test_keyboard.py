"""A morning without a mouse: in by the door, the first stage begun and done, a payment taken."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from orders.account import money
from orders.demo.shop import OWNER, PASSWORD, open_demo
from orders.models import Errand, Order, Shop, Stage, WorkingWeek

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.slow]
MOST_STOPS = 90
# The ring lies round what is reached, or round the label or the card that it stands for.
IS_SHOWN = """it => {
  while (it && getComputedStyle(it).outlineStyle !== "solid") it = it.parentElement;
  return it !== null;
}"""


@pytest.fixture
def aunt():
    """Open the demo without its pictures and with work on every day; return one of its orders."""
    open_demo()
    Errand.objects.all().delete()
    Shop.objects.update(keeps_holidays=False)
    WorkingWeek.objects.filter(person__name=OWNER).update(minutes=[300] * 7)
    return Order.objects.get(title="The aunt’s surprise")


def tab_to(page, role, name, *, within=None):
    """Press Tab until this is reached; whatever is reached shows that it is."""
    place = (within or page).get_by_role(role, name=name).first
    expect(place).to_be_visible()
    for _ in range(MOST_STOPS):
        page.keyboard.press("Tab")
        if place.evaluate("it => it === document.activeElement"):
            assert place.evaluate(IS_SHOWN)
            return place
    raise AssertionError(f"{name} is not reached with {MOST_STOPS} tabs")


def press(page, role, name, *, within=None):
    tab_to(page, role, name, within=within)
    page.keyboard.press("Enter")


def signs_in(page, site):
    page.goto(f"{site}/")
    expect(page.get_by_label("Your name")).to_be_focused()
    page.keyboard.type(OWNER)
    page.keyboard.press("Tab")
    page.keyboard.type(PASSWORD)
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="You", exact=True)).to_be_visible()


def does_the_first_stage(page):
    press(page, "button", "Start")
    expect(page.get_by_text("In hand since")).to_be_visible()
    assert keeps_its_place(page)
    running = Stage.objects.running().get()
    press(page, "button", "Done")
    expect(page.get_by_role("status").get_by_role("button", name="Undo")).to_be_visible()
    assert keeps_its_place(page)
    running.refresh_from_db()
    assert running.done_at is not None


def keeps_its_place(page):
    """Say whether the next Tab goes on from within the page, not from its very start."""
    return page.evaluate("document.activeElement.closest('main') !== null")


def takes_a_payment(page, order):
    press(page, "link", "Quilts")
    press(page, "link", order.title)
    press(page, "link", re.compile("^Account"))
    amount = tab_to(page, "textbox", "Amount")
    page.keyboard.press("Control+A")
    page.keyboard.type("25")
    expect(amount).to_have_value("25")
    tab_to(page, "radio", "cash")
    page.keyboard.press("Space")
    press(page, "button", "Write the receipt")
    expect(page.get_by_text(re.compile("receipt ")).first).to_be_visible()


def test_a_morning_by_keyboard_alone(page, live_server, aunt):
    before = money.owing_of(aunt).balance
    signs_in(page, live_server.url)
    does_the_first_stage(page)
    takes_a_payment(page, aunt)
    expect(page.get_by_text("$25.00").first).to_be_visible()
    assert money.owing_of(aunt).balance == before - 2500

"""The door in a real browser, at the widths and in the lights it is used in."""

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

WIDTHS = [390, 820, 1280]
# WCAG 2.2 AA target size is off in axe unless asked for.
RULES = {"rules": {"target-size": {"enabled": True}}}


@pytest.fixture(params=["light", "dark"])
def lit_page(request, page):
    page.emulate_media(color_scheme=request.param)
    page.said = []
    page.on("console", lambda message: page.said.append(message.text))
    return page


def faults(page):
    found = Axe().run(page, options=RULES).response
    assert "color-contrast" in {rule["id"] for rule in found["passes"]}
    return [(fault["id"], [node["html"] for node in fault["nodes"]]) for fault in found["violations"]]


def measure(page, width):
    page.set_viewport_size({"width": width, "height": 800})
    too_wide = page.evaluate("document.documentElement.scrollWidth") - width
    small = [box for box in page.locator("input:not([type=hidden]), button, a").all() if height(box) < 44]
    return too_wide, len(small)


def height(locator):
    return locator.bounding_box()["height"]


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("width", WIDTHS)
def test_everyone_can_read_and_reach_the_door(lit_page, live_server, ada, width):
    lit_page.goto(f"{live_server.url}/sign-in/")
    assert measure(lit_page, width) == (0, 0)
    assert faults(lit_page) == []
    assert lit_page.said == []


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("width", WIDTHS)
def test_everyone_can_read_and_reach_the_questions_of_an_empty_shop(lit_page, live_server, width):
    lit_page.goto(f"{live_server.url}/sign-in/")
    assert measure(lit_page, width) == (0, 0)
    assert faults(lit_page) == []
    assert lit_page.said == []


@pytest.mark.django_db(transaction=True)
def test_a_wrong_password_leaves_the_cursor_where_it_is_needed(lit_page, live_server, shop, password):
    lit_page.goto(f"{live_server.url}/sign-in/")
    expect(lit_page.get_by_label("Your name")).to_be_focused()
    lit_page.keyboard.type("Ada")
    lit_page.keyboard.press("Tab")
    lit_page.keyboard.type("not this one")
    lit_page.keyboard.press("Enter")
    expect(lit_page.get_by_label("Your name")).to_have_value("Ada")
    expect(lit_page.get_by_label("Password")).to_be_focused()
    expect(lit_page.get_by_label("Password")).to_have_accessible_description(
        re.compile("type the password again")
    )
    assert faults(lit_page) == []

    lit_page.keyboard.type(password)
    lit_page.keyboard.press("Enter")
    expect(lit_page.get_by_role("heading", level=1)).to_have_text(re.compile(r"day \d"))
    assert faults(lit_page) == []

    lit_page.get_by_role("button", name="Sign out").click()
    expect(lit_page.get_by_role("heading", level=1)).to_have_text("Sign in")

"""The shared parts in a real browser: at three widths, in both lights, by keyboard and without script."""

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from tests.pages import shell_site

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.urls(shell_site.__name__)]
WIDTHS = [390, 820, 1280]
# WCAG 2.2 AA target size is off in axe unless asked for.
RULES = {"rules": {"target-size": {"enabled": True}}}
REACHED = "main a, main button, .rail a, .foot button, input:not([type=hidden]), select, textarea"


@pytest.fixture
def come_in(live_server, client, ada):
    """Return a way to sign Ada in on a page of the browser."""

    def come_in(page):
        client.force_login(ada)
        page.context.add_cookies(
            [{"name": "session", "value": client.cookies["session"].value, "url": live_server.url}]
        )
        page.said = []
        page.on("console", lambda message: page.said.append(message.text))
        return page

    shell_site.POSTS.clear()
    return come_in


@pytest.fixture
def shop_page(page, come_in):
    return come_in(page)


@pytest.fixture(params=["light", "dark"])
def lit_page(request, shop_page):
    shop_page.emulate_media(color_scheme=request.param)
    return shop_page


def faults(page):
    found = Axe().run(page, options=RULES).response
    assert "color-contrast" in {rule["id"] for rule in found["passes"]}
    return [(fault["id"], [node["html"] for node in fault["nodes"]]) for fault in found["violations"]]


def too_small(page):
    return [
        (place.evaluate("it => it.outerHTML.slice(0, 80)"), box["height"])
        for place in page.locator(REACHED).all()
        if (box := around(place)) and box["height"] < 44
    ]


def around(place):
    """Return the box that a finger can hit: a tick box is hit by its whole label."""
    label = place.locator("xpath=ancestor::label")
    return (label if label.count() else place).bounding_box()


@pytest.mark.parametrize("width", WIDTHS)
def test_everyone_can_read_and_reach_all_parts(lit_page, live_server, width):
    lit_page.set_viewport_size({"width": width, "height": 800})
    lit_page.goto(f"{live_server.url}/today/?tell=1")
    assert lit_page.evaluate("document.documentElement.scrollWidth") == width
    assert too_small(lit_page) == []
    assert faults(lit_page) == []
    lit_page.get_by_role("button", name="Pencil in").click()
    expect(lit_page.get_by_role("alert")).to_be_visible()
    assert faults(lit_page) == []
    lit_page.goto(f"{live_server.url}/today/#not-right")
    assert faults(lit_page) == []
    assert [words for words in lit_page.said if "422" not in words] == []


def test_nothing_runs_off_a_very_narrow_page(shop_page, live_server):
    shop_page.set_viewport_size({"width": 320, "height": 640})
    shop_page.goto(f"{live_server.url}/today/")
    assert shop_page.evaluate("document.documentElement.scrollWidth") == 320


def test_the_first_key_leads_past_the_rail(shop_page, live_server):
    shop_page.goto(f"{live_server.url}/short/")
    shop_page.keyboard.press("Tab")
    expect(shop_page.get_by_role("link", name="To the page")).to_be_in_viewport()
    shop_page.keyboard.press("Enter")
    shop_page.keyboard.press("Tab")
    expect(shop_page.get_by_label("Who asks")).to_be_focused()


def test_a_listed_fault_leads_to_its_field(shop_page, live_server):
    shop_page.goto(f"{live_server.url}/today/")
    shop_page.get_by_role("button", name="Pencil in").click()
    expect(shop_page.get_by_role("alert")).to_be_focused()
    shop_page.get_by_role("link", name="What: Tap one.").click()
    expect(shop_page.get_by_label("Quilt", exact=True)).to_be_focused()
    expect(shop_page.get_by_label("Shirts, roughly")).to_have_accessible_description("Type a number.")


TAP_THREE_TIMES = """async button => {
  button.click();
  await new Promise(then => setTimeout(then, 100));
  const after = [button.textContent, button.getAttribute("aria-disabled")];
  button.click();
  button.click();
  return after;
}"""


def test_a_form_says_so_within_a_tenth_of_a_second_and_is_sent_once(shop_page, live_server):
    shop_page.goto(f"{live_server.url}/today/")
    held = []
    shop_page.route("**/today/", lambda route: held.append(route))
    button = shop_page.get_by_role("button", name="Pencil in").element_handle()
    assert shop_page.evaluate(TAP_THREE_TIMES, button) == ["Saving…", "true"]
    shop_page.wait_for_timeout(100)
    assert len(held) == 1
    assert "way=kept" in held[0].request.post_data


def test_a_part_of_a_page_comes_back_with_its_fault_and_can_be_sent_again(shop_page, live_server):
    shop_page.goto(f"{live_server.url}/short/")
    shop_page.get_by_role("button", name="Keep").click()
    expect(shop_page.get_by_label("Who asks")).to_have_accessible_description("Type a name.")
    shop_page.get_by_label("Who asks").fill("A grandmother")
    shop_page.get_by_role("button", name="Keep").click()
    expect(shop_page.get_by_text("Type a name.")).to_have_count(0)
    assert shell_site.POSTS == ["kept", "kept"]
    assert shop_page.url.endswith("/short/")


def test_a_computer_that_does_not_answer_is_told(shop_page, live_server):
    shop_page.goto(f"{live_server.url}/short/")
    shop_page.route("**/fragment/", lambda route: route.abort())
    shop_page.get_by_role("button", name="Keep").click()
    expect(shop_page.get_by_role("status")).to_contain_text("did not answer")
    expect(shop_page.get_by_role("button", name="Keep")).to_be_enabled()


def test_words_are_copied(shop_page, live_server, context):
    context.grant_permissions(["clipboard-read", "clipboard-write"])
    shop_page.goto(f"{live_server.url}/short/")
    shop_page.get_by_role("button", name="Copy the words").click()
    expect(shop_page.get_by_role("status")).to_contain_text("copied")
    assert shop_page.evaluate("navigator.clipboard.readText()") == "Your quilt waits for your yes."


def test_a_form_works_without_any_script(browser, come_in, live_server):
    context = browser.new_context(java_script_enabled=False)
    page = come_in(context.new_page())
    page.goto(f"{live_server.url}/short/")
    expect(page.get_by_role("button", name="Copy the words")).to_be_hidden()
    page.get_by_role("button", name="Keep").click()
    expect(page.get_by_text("Type a name.")).to_be_visible()
    page.get_by_label("Who asks").fill("A grandmother")
    page.get_by_role("button", name="Keep").click()
    expect(page.get_by_label("Who asks")).to_have_value("A grandmother")
    assert shell_site.POSTS == ["kept", "kept"]
    context.close()


def test_paper_shows_the_page_and_not_the_ways_around(shop_page, live_server):
    shop_page.emulate_media(media="print", color_scheme="dark")
    shop_page.goto(f"{live_server.url}/today/?tell=1")
    for way in ("nav.rail", ".foot", ".skip", ".said", ".within"):
        expect(shop_page.locator(way)).to_be_hidden()
    ground = shop_page.evaluate("getComputedStyle(document.body).backgroundColor")
    assert ground == "rgb(255, 255, 255)"


def test_nothing_moves_for_who_asked_for_stillness(shop_page, live_server):
    shop_page.emulate_media(reduced_motion="reduce")
    shop_page.goto(f"{live_server.url}/short/")
    button = shop_page.get_by_role("button", name="Keep")
    times = button.evaluate("it => getComputedStyle(it).transitionDuration")
    assert set(re.findall(r"[\d.]+", times)) == {"0"}

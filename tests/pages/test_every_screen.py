"""Every screen of the demo shop in a real browser, on a phone and on a laptop, by day and by night."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe

from orders.demo.tour import helpers_screens, owners_screens
from orders.models import Person
from tests.pages.demo_tour import open_with_few_photos, sign_in

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.slow]
HEIGHTS = {390: 844, 1280: 900}
# WCAG 2.2 AA target size is off in axe unless asked for.
RULES = {"rules": {"target-size": {"enabled": True}}}
COLORS = {"runOnly": ["color-contrast"]}
# A link inside a sentence is as high as its line; what stands alone is as high as a finger.
REACHED = "main button, main .button, .rail a, .rooms a, input:not([type=hidden]), select, textarea, summary"


@pytest.fixture(autouse=True)
def _demo(settings, tmp_path):
    settings.DATA_DIR = tmp_path
    open_with_few_photos()


@pytest.fixture
def walk(page, live_server, client):
    """Return a way to walk through screens as somebody, which gathers what is wrong with each."""

    def walk(person, screens, width):
        sign_in(page, live_server, client, person)
        page.set_viewport_size({"width": width, "height": HEIGHTS[width]})
        said = []
        page.on("console", lambda message: said.append(message.text))
        page.on("pageerror", lambda fault: said.append(str(fault)))
        faults = []
        for name, address in screens.items():
            said.clear()
            answer = page.goto(live_server.url + address)
            faults += [f"{name}: {fault}" for fault in (*faults_of(page, width), *said)]
            if answer.status != 200:
                faults.append(f"{name}: status {answer.status}")
        return "\n".join(faults)

    return walk


def faults_of(page, width):
    page.emulate_media(color_scheme="light", reduced_motion="reduce")
    yield from axe_says(page, RULES)
    if (wide := page.evaluate("document.documentElement.scrollWidth")) > width:
        yield f"{wide - width} px too wide"
    yield from (f"only {high:.0f} px high: {html}" for html, high in too_small(page))
    if (count := page.get_by_role("heading", level=1).count()) != 1:
        yield f"{count} headings of level 1"
    title = page.title().removesuffix(" · Batting Order")
    if not title.strip() or title == page.title():
        yield f"title {page.title()!r}"
    if (count := len(main_buttons(page))) > 1:
        yield f"{count} main buttons: {main_buttons(page)}"
    page.emulate_media(color_scheme="dark", reduced_motion="reduce")
    yield from (f"in the dark: {fault}" for fault in axe_says(page, COLORS))


def axe_says(page, options):
    found = Axe().run(page, options=options).response
    assert "color-contrast" in {rule["id"] for rule in found["passes"]}
    return [
        f"{fault['id']}: {node['html'][:160]}" for fault in found["violations"] for node in fault["nodes"]
    ]


def too_small(page):
    return page.evaluate(
        """reached => [...document.querySelectorAll(reached)].flatMap(place => {
          if (!place.checkVisibility({ visibilityProperty: true })) return [];
          const hit = place.closest("label") ?? place;
          const high = hit.getBoundingClientRect().height;
          return high && high < 43.5 ? [[place.outerHTML.slice(0, 120), high]] : [];
        })""",
        REACHED,
    )


def main_buttons(page):
    return [
        button.inner_text() for button in page.locator(".button.main:not(.skip)").all() if button.is_visible()
    ]


@pytest.mark.parametrize("width", HEIGHTS)
def test_the_owner_can_read_and_reach_every_screen(walk, width):
    owner = Person.objects.get(role=Person.Role.OWNER)
    assert walk(owner, owners_screens(), width) == ""


@pytest.mark.parametrize("width", HEIGHTS)
def test_a_helper_can_read_and_reach_every_screen(walk, width):
    helper = Person.objects.get(role=Person.Role.HELPER)
    assert walk(helper, helpers_screens(), width) == ""

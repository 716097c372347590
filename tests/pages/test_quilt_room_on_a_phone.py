"""The Quilt room on a phone: the block that was tapped stays in sight, and the ways lie in one row."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from orders.models import Move
from orders.quilt import layouts
from orders.quilt.answers import answer
from planner.units import INCH
from tests.cast import PASSWORD

IN_SIGHT = """() => {
  const block = document.querySelector(".big-quilt a[aria-current] .ring").getBoundingClientRect();
  return block.top >= 0 && block.bottom <= document.getElementById("label").getBoundingClientRect().top;
}"""

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.slow]


@pytest.fixture
def room(page, live_server, order, shop, twelve_shirts, ada):
    """Return the page of a quilt of twelve, on a phone."""
    order.wish = {"tolerance": 12 * INCH}
    order.save()
    offer = answer(order, shop).options[0]
    layouts.choose(order, offer.layout.quilt, "3 by 4", minutes=offer.minutes, seen=0, by=ada)
    page.set_viewport_size({"width": 390, "height": 844})
    page.emulate_media(reduced_motion="reduce")
    page.goto(f"{live_server.url}/sign-in/?next=/quilts/{order.number}/quilt/")
    page.get_by_label("Your name").fill("Ada")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    expect(page.locator("#picture")).to_be_attached()
    return page


@pytest.mark.parametrize("corner", [0, -1])
def test_the_block_that_is_tapped_is_not_under_its_label(room, corner):
    room.set_viewport_size({"width": 390, "height": 600})
    block = room.locator(".big-quilt > a").nth(corner)
    name = block.get_attribute("aria-label")
    block.evaluate("each => each.scrollIntoView({ block: 'end' })")
    block.click()
    expect(room.locator("#label")).to_contain_text(name)
    expect(room.locator("#label :focus")).to_have_count(1)
    room.wait_for_function(IN_SIGHT, timeout=5000)


def test_the_ways_lie_in_one_row_that_can_be_swiped(room):
    ways = room.locator(".ways .way")
    assert ways.count() > 2
    assert len({round(each.bounding_box()["y"]) for each in ways.all()}) == 1
    assert room.evaluate("document.documentElement.scrollWidth") == 390
    room.wait_for_function("document.querySelector('.ways').scrollLeft === 0")
    ways.last.scroll_into_view_if_needed()
    assert ways.last.evaluate("way => way.getBoundingClientRect().right <= innerWidth")


def test_a_tap_on_an_older_picture_says_that_somebody_was_here_first(room, order, ada):
    room.locator(".big-quilt > a").first.click()
    expect(room.locator("#label")).to_be_visible()
    order.refresh_from_db()
    cells = order.design.quilt.cells
    layouts.trade(order, cells[2].id, cells[3].id, seen=1, by=ada)
    before = Move.objects.count()
    room.get_by_role("button", name="Turn round").click()
    expect(room.get_by_role("heading", level=1)).to_have_text("Somebody else was here first", timeout=20_000)
    assert Move.objects.count() == before
    room.get_by_role("link", name="Open it as it stands now").click()
    expect(room.get_by_role("button", name="Undo")).to_be_visible(timeout=20_000)

"""The iron on a tablet in a real browser: it goes on without a network, catches up once, hears a scanner."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from orders.models import Block, Event, Piece
from orders.models.event import Tap
from tests.orders.workbench import cut
from tests.pages.demo_tour import sign_in
from tests.pages.phone import Cuts

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.slow]


@pytest.fixture
def iron(page, live_server, client, order, twelve_shirts, shop, shelf, ada):
    """Return the page of the iron: two vinyl prints at 270 °F, ten at 300."""
    Piece.objects.filter(shirt__number__in=[3, 7]).update(print_kind="vinyl")
    cut(order, shop, ada)
    page.set_default_timeout(20_000)
    sign_in(page, live_server, client, ada)
    page.goto(f"{live_server.url}/bench/iron/")
    expect(page.locator(".batch.stepping").first).to_be_visible()
    return page


def fused():
    return Block.objects.filter(progress="fused").count()


def test_a_batch_goes_on_without_a_network_and_is_applied_once_when_it_is_back(iron):
    cuts = Cuts(before=frozenset({1}), after=frozenset({2}))
    iron.route("**/bench/taps/", cuts)
    iron.get_by_role("button", name="All 2 of this batch done").click()
    expect(iron.locator("#bench-waiting")).to_contain_text("1 tap is kept on this tablet")
    expect(iron.get_by_role("button", name="All 10 of this batch done")).to_be_visible()
    iron.get_by_role("button", name="All 10 of this batch done").click()
    expect(iron.get_by_text("Nothing waits for the iron")).to_be_visible()
    assert len(cuts.failed) == 2
    assert fused() == 12
    assert Event.objects.filter(what="bench", facts__stage="fuse").count() == Tap.objects.count() == 2


def test_a_tap_that_is_kept_survives_a_reload(iron):
    iron.route("**/bench/taps/", lambda route: route.abort("internetdisconnected"))
    iron.get_by_role("button", name="All 2 of this batch done").click()
    expect(iron.locator("#bench-waiting")).to_contain_text("kept on this tablet")
    iron.unroute("**/bench/taps/")
    with iron.expect_response("**/bench/taps/"):
        iron.reload()
    expect(iron.locator("#bench-waiting")).to_be_hidden()
    assert iron.evaluate("benchTaps.all().then((all) => all.length)") == 0
    assert fused() == 2


def test_a_scanner_an_arrow_and_a_pedal_bring_the_piece_to_the_front(iron, order):
    iron.keyboard.type(f"{order.number}-07F")
    iron.keyboard.press("Enter")
    here = iron.locator(".batch:visible .is-here[data-piece]")
    expect(here).to_have_attribute("data-piece", f"{order.number}-07F")
    iron.keyboard.press("ArrowLeft")
    expect(here).to_have_attribute("data-piece", f"{order.number}-03F")
    iron.keyboard.press("PageDown")
    expect(here).to_have_attribute("data-piece", f"{order.number}-07F")
    iron.keyboard.press("PageDown")
    expect(iron.get_by_role("button", name="All 2 of this batch done")).to_be_focused()
    iron.keyboard.type(f"{order.number}-01F")
    iron.keyboard.press("Enter")
    expect(iron.locator("#said")).to_contain_text("is not in this pile")
    assert fused() == 0


def test_ctrl_z_takes_the_last_batch_back_and_leaves_what_is_typed_alone(iron):
    iron.get_by_role("button", name="All 2 of this batch done").click()
    expect(iron.locator("#said").get_by_role("button", name="Undo")).to_be_visible()
    assert fused() == 2
    with iron.expect_navigation():
        iron.keyboard.press("Control+z")
    expect(iron.locator("#said")).to_be_visible()
    assert fused() == 0
    assert Event.objects.filter(what="taken back").count() == 1


def test_the_screen_is_asked_to_stay_awake_when_the_page_opens_and_when_it_is_seen_again(iron):
    iron.add_init_script(
        "window.asked = []; Object.defineProperty(navigator, 'wakeLock',"
        " {value: {request: async (what) => { window.asked.push(what); return {}; }}});"
    )
    iron.reload()
    expect(iron.locator(".batch.stepping").first).to_be_visible()
    assert iron.evaluate("window.asked") == ["screen"]
    iron.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    assert iron.evaluate("window.asked") == ["screen", "screen"]


def test_the_browser_really_keeps_the_screen_awake_on_this_machine_and_under_https(iron):
    """A browser counts this machine's own address as safe; the lock is its own, not a stand-in."""
    iron.add_init_script(
        "window.held = []; const ask = navigator.wakeLock.request.bind(navigator.wakeLock);"
        "navigator.wakeLock.request = async (what) => {"
        " const lock = await ask(what); window.held.push([lock.type, lock.released]); return lock; };"
    )
    iron.reload()
    expect(iron.locator(".batch.stepping").first).to_be_visible()
    iron.wait_for_function("window.held.length > 0")
    assert iron.evaluate("window.held") == [["screen", False]]

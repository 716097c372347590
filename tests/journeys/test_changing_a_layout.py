"""A layout changed by tap, by drag, by finger and by keyboard alone, and all of it taken back."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from orders.models import Order, Piece
from orders.quilt import layouts
from orders.quilt.answers import answer
from tests.cast import PASSWORD
from tests.pages.quilt_room import add_back

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.slow]


@pytest.fixture
def drawn(order, shop, twelve_shirts, ada):
    """Return the order with the first layout that was offered; shirt 05 has a back, too."""
    add_back(5)
    offer = answer(order, shop).options[0]
    layouts.choose(order, offer.layout.quilt, "3 by 4", minutes=offer.minutes, seen=0, by=ada)
    return order


def comes_in(hands, order):
    hands.open(f"/sign-in/?next=/quilts/{order.number}/quilt/")
    hands.type("Your name", "Ada")
    hands.type("Password", PASSWORD)
    hands.tap("Sign in")
    hands.sees(re.compile("Tap a block for its label"))


def wall(hands):
    return hands.page.get_by_role("region", name="The quilt picture")


def blocks(hands):
    """Return the blocks in reading order, as they can be read."""
    links = wall(hands).locator(".big-quilt a").all()
    return [link.get_attribute("aria-label") for link in links]


def middle(hands, name):
    box = wall(hands).get_by_role("link", name=name, exact=True).bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def undo_says(hands, words):
    expect(wall(hands).get_by_role("button", name=f"Undo: {words}")).to_be_visible()


def in_the_quilt(order):
    quilt = Order.objects.get(pk=order.pk).design.quilt
    return quilt, {cell.piece for cell in quilt.cells}


@pytest.mark.parametrize("width", [390, 1280])
def test_a_layout_is_changed_by_tap_and_by_drag_and_all_is_taken_back(hands, drawn, width):
    hands.page.set_viewport_size({"width": width, "height": 844})
    first, _ = in_the_quilt(drawn)
    comes_in(hands, drawn)
    taps_a_label(hands)
    shows_the_other_side(hands)
    leaves_one_out(hands)
    drags_one_onto_another(hands)
    puts_a_border_round(hands)
    assert in_the_quilt(drawn)[1] == {f"{n:02d}F" for n in range(1, 13) if n not in (4, 5)} | {"05B", None}
    takes_all_back(hands)
    assert in_the_quilt(drawn)[0] == first
    assert set(Piece.objects.filter(side="front").values_list("wanted", flat=True)) == {"must"}
    hands.tap("Do it again: Strips of 1 in round 05F")
    undo_says(hands, "Strips of 1 in round 05F")
    assert [said for said in hands.said if "422" not in said] == []  # of the reason that was not given
    print(f"\nAt {width} px: {hands.figures()}")


def taps_a_label(hands):
    hands.follow("05F", within=wall(hands))
    hands.follow("Add strips", within=wall(hands))
    width = wall(hands).get_by_label("How wide, finished")
    width.fill("3")
    hands.sees("There is room for 1 in at most.")
    width.fill("1")
    hands.sees(re.compile(r"The shirt shows 12\s×\s12\sin"))
    hands.sees("Not kept yet.")
    hands.tap("Add strips", within=wall(hands))
    undo_says(hands, "Strips of 1 in round 05F")


def shows_the_other_side(hands):
    hands.follow("05F", within=wall(hands))
    hands.follow("Other side", within=wall(hands))
    hands.tap(re.compile("^05B, tee back"), within=wall(hands))
    undo_says(hands, "05B shown instead of 05F")


def leaves_one_out(hands):
    hands.follow("04F", within=wall(hands))
    hands.follow("Leave out", within=wall(hands))
    hands.tap("Leave it out")
    hands.sees("Give the reason in a few words")
    hands.type("Why is it left out?", "a stain she does not want")
    hands.tap("Leave it out")
    undo_says(hands, "04F left out")
    hands.sees("a stain she does not want")


def drags_one_onto_another(hands):
    wall(hands).scroll_into_view_if_needed()
    mouse, before = hands.page.mouse, blocks(hands)
    mouse.move(*middle(hands, before[0]))
    mouse.down()
    mouse.move(*middle(hands, before[3]), steps=5)
    mouse.move(*middle(hands, before[4]), steps=5)
    expect(wall(hands).locator(".lifted")).to_have_count(1)
    mouse.up()
    undo_says(hands, f"{before[0]} and {before[4]} traded places")
    after = blocks(hands)
    assert (after[0], after[4]) == (before[4], before[0])


def puts_a_border_round(hands):
    hands.unfold("A border round it")
    hands.type("At both sides", "3")
    hands.sees("56 across, 66 down, before the first wash.")
    hands.type("At top and bottom", "3")
    hands.sees("56 across, 72 down, before the first wash.")
    hands.tap("Keep this border")
    undo_says(hands, "A border of 3 in all round")


def takes_all_back(hands):
    for _ in range(5):
        again = wall(hands).get_by_role("button", name=re.compile("^Do it again"))
        before = again.inner_text() if again.count() else ""
        hands.tap(re.compile("^Undo"), within=wall(hands))
        expect(again).not_to_have_text(before) if before else expect(again).to_be_visible()
    expect(wall(hands).get_by_role("button", name=re.compile("^Undo"))).to_have_count(0)
    hands.sees("50 across, 66 down, before the first wash.")


def test_by_keyboard_alone_blocks_are_reached_opened_traded_and_taken_back(hands, drawn):
    comes_in(hands, drawn)
    keyboard = hands.page.keyboard
    wall(hands).get_by_role("link", name="01F", exact=True).focus()
    for key in ("ArrowRight", "ArrowDown", "ArrowDown", "ArrowLeft", "ArrowUp"):
        keyboard.press(key)
    is_on(hands, "04F")
    keyboard.press("Enter")
    is_on(hands, "Trade places")
    keyboard.press("Escape")
    is_on(hands, "04F")
    keyboard.press("Enter")
    is_on(hands, "Trade places")
    keyboard.press("Tab")
    is_on(hands, "Turn round", role="button")
    keyboard.press("Enter")
    undo_says(hands, "04F turned round")
    is_on(hands, "04F")
    keyboard.press("Enter")
    is_on(hands, "Trade places")
    keyboard.press("Enter")
    expect(wall(hands).get_by_label("Trade with")).to_be_focused()
    wall(hands).get_by_role("link", name="04F", exact=True).focus()
    keyboard.press("ArrowRight")
    keyboard.press("Enter")
    undo_says(hands, "04F and 05F traded places")
    is_on(hands, "04F")
    assert blocks(hands)[3:5] == ["05F", "04F"]
    wall(hands).get_by_role("button", name=re.compile("^Undo")).focus()
    keyboard.press("Enter")
    undo_says(hands, "04F turned round")
    expect(wall(hands).get_by_role("button", name=re.compile("^Undo"))).to_be_focused()
    keyboard.press("Enter")
    expect(wall(hands).get_by_role("button", name=re.compile("^Undo"))).to_have_count(0)
    assert hands.said == []


def is_on(hands, name, *, role="link"):
    expect(wall(hands).get_by_role(role, name=name, exact=True)).to_be_focused()


def test_a_finger_that_swipes_scrolls_and_one_that_rests_lifts_the_block(hands, drawn):
    page = hands.page
    page.set_viewport_size({"width": 390, "height": 844})
    comes_in(hands, drawn)
    page.evaluate("document.getElementById('picture').scrollIntoView()")
    finger = Finger(page)
    finger.down(*middle(hands, "04F"))
    finger.to(*middle(hands, "01F"))
    finger.up()
    page.wait_for_function("scrollY > 0")
    assert not wall(hands).get_by_role("button", name=re.compile("^Undo")).count()
    page.evaluate("document.getElementById('picture').scrollIntoView()")
    page.wait_for_timeout(400)
    finger_rests_and_carries(hands, finger)


def finger_rests_and_carries(hands, finger):
    at = wall(hands).bounding_box()["y"]
    finger.down(*middle(hands, "04F"))
    expect(wall(hands).locator(".lifted")).to_have_count(1)
    finger.to(*middle(hands, "08F"))
    finger.up()
    undo_says(hands, "04F and 08F traded places")
    assert abs(wall(hands).bounding_box()["y"] - at) < 2


class Finger:
    """A finger on a touch screen, as the browser's own protocol sends it."""

    def __init__(self, page):
        self.session = page.context.new_cdp_session(page)
        self.at = (0, 0)

    def _send(self, kind, *points):
        self.session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": list(points)})

    def down(self, x, y):
        self.at = (x, y)
        self._send("touchStart", {"x": x, "y": y})

    def to(self, x, y):
        for step in range(1, 11):
            share = step / 10
            here = {"x": self.at[0] + (x - self.at[0]) * share, "y": self.at[1] + (y - self.at[1]) * share}
            self._send("touchMove", here)
        self.at = (x, y)

    def up(self):
        self._send("touchEnd")


def test_without_script_the_same_links_and_forms_do_it(browser, live_server, drawn):
    page = browser.new_context(java_script_enabled=False).new_page()
    page.goto(f"{live_server.url}/sign-in/?next=/quilts/{drawn.number}/quilt/")
    page.get_by_label("Your name").fill("Ada")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    page.get_by_role("link", name="05F", exact=True).click()
    page.get_by_role("link", name="Trade places").click()
    page.get_by_role("link", name="09F", exact=True).click()
    page.get_by_role("button", name="Trade places").click()
    page.get_by_role("button", name="Undo: 05F and 09F traded places").click()
    page.get_by_role("button", name="Do it again: 05F and 09F traded places").click()
    expect(page.get_by_role("button", name="Undo: 05F and 09F traded places")).to_be_visible()

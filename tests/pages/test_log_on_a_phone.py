"""Logging on a phone in a real browser: few taps, no waiting, nothing lost or doubled on a bad network."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from orders.models import Event, Photo, Shirt
from tests.pages.demo_tour import sign_in
from tests.pages.phone import Cuts, Thumb, photo_file

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.slow]
KINDS = ["Cotton tee", "Cotton tee", "Sport tee", "Sweatshirt", "Jeans"]
KEPT = ["Front", "Front", "Back", "Both", "Front"]
FEELS = ["Rubbery", "Not felt yet", "Smooth film", "Shiny", "Nothing"]


@pytest.fixture
def browser_context_args(browser_context_args):
    return browser_context_args | {
        "viewport": {"width": 390, "height": 760}, "has_touch": True, "is_mobile": True,
    }  # fmt: skip


@pytest.fixture(autouse=True)
def _empty_disk(settings, tmp_path):
    settings.DATA_DIR = tmp_path


@pytest.fixture
def log(page, live_server, client, order, bo):
    """Return the thumb of a helper whose phone shows the log of an order."""
    order.bags.update(count=30)
    page.set_default_timeout(20_000)
    sign_in(page, live_server, client, bo)
    page.goto(f"{live_server.url}/quilts/{order.number}/bag/log/")
    expect(page.locator("form[data-file]")).to_be_attached()
    return Thumb(page)


def logs(thumb, count, *, start=0):
    """Log so many shirts, each a little different from the one before."""
    for number in range(start, start + count):
        picture = photo_file(number)
        thumb.photograph(picture) if number == start else thumb.next_shirt(picture)
        thumb.tap("What is it?", KINDS[number % 5])
        thumb.tap("Which print do we keep?", KEPT[number % 5])
        thumb.tap("How does the print feel?", FEELS[number % 5])


def test_thirty_shirts_on_a_network_cut_ten_times_are_thirty_shirts(log, page, order):
    cuts = Cuts(before=frozenset({3, 11, 22, 40, 58}), after=frozenset({5, 16, 27, 44, 61}))
    page.route("**/bag/log/lines/**", cuts)
    logs(log, 30)
    page.get_by_role("button", name="That was all").tap()
    page.wait_for_url("**/bag/")
    log.all_sent()
    assert len(cuts.failed) == 10
    shirts = Shirt.objects.order_by("number")
    assert [shirt.number for shirt in shirts] == list(range(1, 31))
    assert Event.objects.filter(what="logged").count() == 30
    assert Photo.objects.count() == len({photo.sha256 for photo in Photo.objects.all()}) == 30
    assert all(shirt.photos.count() == 1 for shirt in shirts)
    assert all(shirt.wrong_tag is None for shirt in shirts)
    assert {piece.print_kind for piece in shirts[2].pieces.all()} == {"vinyl"}
    assert shirts[3].pieces.get(side="back").photo is None  # it waits for a photo of its own
    assert max(Photo.objects.values_list("width", flat=True)) <= 2048
    print(f"\ntaps a shirt: {log.taps}; most {max(log.taps)}, {max(log.seconds()):.2f} s by the model")
    thinking = log.seconds_with_a_thought_a_tap()
    print(
        f"a thought before every tap: mean {sum(thinking) / 30:.2f} s, all answers new {max(thinking):.2f} s"
    )
    assert max(log.taps) <= 4
    assert max(log.seconds()) <= 8


def test_the_form_never_waits_for_the_network_and_a_reload_loses_nothing(log, page, order):
    page.route("**/bag/log/lines/**", lambda route: route.abort("internetdisconnected"))
    logs(log, 3)
    expect(page.get_by_role("heading", level=1)).to_have_text("2 logged")
    expect(page.locator("#unsent")).to_have_text("On this phone, 2 still to send")
    expect(page.locator("#phone-queue")).to_be_hidden()  # or all taps would move under her thumb
    expect(page.locator("#photo-said")).to_be_visible()
    page.wait_for_timeout(300)
    assert not Shirt.objects.exists()
    page.unroute_all()
    page.reload()
    log.all_sent()
    expect(page.locator("#photo-said")).to_have_text(
        "The photo is kept on this phone. Tap it to take another."
    )
    assert page.get_by_label("Sport tee", exact=True).is_checked()
    assert page.get_by_label("Number on its tag").input_value() == "03"
    page.get_by_role("button", name="That was all").tap()
    page.wait_for_url("**/bag/")
    log.all_sent()
    found = [(shirt.number, shirt.kind, shirt.photos.count()) for shirt in Shirt.objects.all()]
    assert found == [(1, "tee", 1), (2, "tee", 1), (3, "sport tee", 1)]


def test_two_phones_at_one_bag_get_their_own_numbers_and_the_second_is_told(log, page, order, ada):
    page.route("**/bag/log/lines/**", lambda route: route.abort("internetdisconnected"))
    logs(log, 2)
    other = Shirt.objects.create(bag=order.bags.get(), number=1, kind="tee")
    page.unroute_all()
    page.evaluate("window.dispatchEvent(new Event('online'))")
    expect(page.locator("#phone-line + ul, #phone-queue ul")).to_contain_text(
        "This one is 02: 01 was taken meanwhile. Write 02 on its tag."
    )
    assert Shirt.objects.get(number=2).wrong_tag == 1
    with page.expect_file_chooser():
        page.get_by_role("button", name="Next shirt").tap()  # the one under way had been offered 2 as well
    expect(page.locator("#phone-queue ul")).to_contain_text("This one is 03: 02 was taken meanwhile.")
    expect(page.get_by_label("Number on its tag")).to_have_value("04")
    page.get_by_role("button", name="It is written").first.tap()
    expect(page.get_by_role("button", name="It is written")).to_have_count(1)
    page.get_by_role("button", name="It is written").tap()
    expect(page.locator("#phone-queue")).to_be_hidden()
    assert Shirt.objects.get(number=2).wrong_tag is None
    other.refresh_from_db()
    assert other.number == 1


def test_a_line_that_is_refused_can_be_changed_and_is_sent_then(log, page, order):
    Shirt.objects.create(bag=order.bags.get(), number=7, kind="hat")
    log.photograph(photo_file(1))
    page.get_by_label("Number on its tag").fill("7")
    with page.expect_file_chooser():
        page.get_by_role("button", name="Next shirt").tap()
    expect(page.locator("#phone-queue")).to_contain_text("07 is a hat that is logged already")
    page.get_by_role("button", name="Change it").tap()
    expect(page.locator("#photo-said")).to_contain_text("kept on this phone")
    page.get_by_label("Number on its tag").fill("8")
    page.get_by_role("button", name="That was all").tap()
    page.wait_for_url("**/bag/")
    log.all_sent()
    assert Shirt.objects.get(number=8).photos.count() == 1


def test_a_large_picture_is_made_smaller_on_the_phone_and_a_strange_file_is_refused_in_words(log, page):
    log.photograph(photo_file(1, (4000, 3000)))
    log.next_shirt({"name": "IMG.jpg", "mimeType": "image/jpeg", "buffer": b"Dear diary, this is no photo."})
    expect(page.locator("#photo-said")).to_contain_text("cannot show it")
    page.get_by_role("button", name="That was all").tap()
    page.wait_for_url("**/bag/")
    expect(page.locator("#phone-queue")).to_contain_text("The photo of 02 was not taken.", timeout=30_000)
    photo = Photo.objects.get()
    assert (photo.width, photo.height) == (2048, 1536)
    page.get_by_role("button", name="Drop it").tap()
    expect(page.locator("#phone-queue")).to_be_hidden()
    assert Shirt.objects.count() == 2


def test_an_untouched_form_makes_no_shirt_up(log, page):
    with page.expect_file_chooser():
        page.get_by_role("button", name="Next shirt").tap()
    page.get_by_role("button", name="That was all").tap()
    page.wait_for_url("**/bag/")
    log.all_sent()
    assert not Shirt.objects.exists()


def test_a_phone_that_is_signed_out_keeps_its_lines_and_says_what_to_do(log, page, context):
    cookies = context.cookies()
    context.clear_cookies()
    logs(log, 2)
    expect(page.locator("#phone-queue")).to_contain_text("Sign in again on another page")
    context.add_cookies(cookies)
    page.evaluate("window.dispatchEvent(new Event('online'))")
    expect(page.locator("#phone-queue")).to_be_hidden()
    assert Shirt.objects.count() == 1


def test_after_a_sign_in_on_another_page_what_waits_is_sent_without_a_reload(log, page, context, live_server):
    page.route("**/bag/log/lines/**", lambda route: route.abort("internetdisconnected"))
    logs(log, 2)
    # Whoever signs in is given a new token, so the one that this page was drawn with is stale.
    context.clear_cookies(name="csrf")
    context.add_cookies([{"name": "csrf", "value": "b" * 32, "url": live_server.url}])
    page.unroute("**/bag/log/lines/**")
    page.evaluate("window.dispatchEvent(new Event('online'))")
    log.all_sent()
    assert Shirt.objects.get().photos.count() == 1


def test_the_photo_of_the_pile_is_made_smaller_before_it_is_sent(log, page, order, live_server):
    page.goto(f"{live_server.url}/quilts/{order.number}/bag/arrival/")
    page.get_by_label("How many, counted together").fill("3")
    picture = photo_file(1, (3000, 4000))
    page.get_by_label("Photo of the pile").set_input_files(picture)
    for _ in range(200):
        if page.evaluate("document.getElementById('id_photo').files[0].size") < len(picture["buffer"]):
            break
        page.wait_for_timeout(50)
    page.get_by_role("button", name="Take the bag in").tap()
    page.wait_for_url("**/signing/")
    for _ in range(200):
        if Photo.objects.exists():
            break
        page.wait_for_timeout(50)
    assert (Photo.objects.get().width, Photo.objects.get().height) == (1536, 2048)
    page.get_by_role("button", name="Both have signed").tap()
    page.wait_for_url("**/whole/")
    assert order.bags.get(count=3).signatures.count() == 2


def test_a_finger_signs_on_the_screen(log, page, order, live_server):
    bag = order.bags.get()
    page.goto(f"{live_server.url}/quilts/{order.number}/bag/{bag.pk}/signing/")
    pad = page.locator("[data-pad=id_handed_in_strokes] canvas")
    pad.scroll_into_view_if_needed()
    at = pad.bounding_box()
    page.mouse.move(at["x"] + 20, at["y"] + 20)
    page.mouse.down()
    page.mouse.move(at["x"] + 80, at["y"] + 50, steps=5)
    page.mouse.up()
    page.get_by_role("button", name="Both have signed").tap()
    page.wait_for_url("**/whole/")
    drawn, typed = bag.signatures.all()
    assert len(drawn.strokes) == 1
    assert len(drawn.strokes[0]) == 12
    assert typed.strokes == []

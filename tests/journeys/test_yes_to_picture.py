"""A customer on her phone: from the link in a message to her yes, in four taps and without typing."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.core.cache import cache
from PIL import Image
from playwright.sync_api import expect

from orders.models import Consent, LeaveToMove, Link, Piece
from orders.yes import yes_to_picture
from tests.orders.photo_files import put_photo
from tests.pages.looking import faults_of

pytestmark = pytest.mark.django_db(transaction=True)


def test_four_taps_on_a_phone_are_her_yes(page, live_server, agreed, shop, ada, settings, tmp_path):
    settings.DATA_DIR = tmp_path
    photo = put_photo(Image.new("RGB", (600, 700), "seagreen"))
    Piece.objects.filter(shirt__number=2).update(photo=photo)
    asked = yes_to_picture.ask(agreed, shop, by=ada)
    cache.clear()
    _, token = Link.objects.give_out(agreed, until=shop.today() + timedelta(days=9), by=ada)
    page.set_viewport_size({"width": 390, "height": 844})
    page.set_content(f'<a href="{live_server.url}/for-you/{token}/">Your quilt</a>')

    with page.expect_response(lambda answer: answer.url.endswith(".webp")) as picture:
        page.get_by_role("link", name="Your quilt").click()  # one
    assert picture.value.ok
    expect(page.get_by_role("heading", name="The yes to the picture")).to_be_visible()
    expect(page.locator(".big-quilt image")).to_have_count(1)
    assert list(faults_of(page, 390)) == []
    page.emulate_media(color_scheme="light")
    page.get_by_label("Equal blocks may trade places").check()  # two
    page.get_by_label("I am An aunt of Ferncliff").check()  # three
    page.get_by_role("button", name="Yes, sew it like this").click()  # four

    expect(page.get_by_role("heading", name="The yes to the picture")).to_have_count(0)
    consent = Consent.objects.get(kind="picture")
    assert (consent.version, consent.said_by, consent.how) == (asked, "An aunt of Ferncliff", "page")
    assert LeaveToMove.objects.get().may

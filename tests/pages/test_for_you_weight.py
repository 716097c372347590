"""Each page of the customer, with its fonts and what she sees of it first, comes within 150 KB."""

from __future__ import annotations

import gzip
from datetime import timedelta

import numpy as np
import pytest
from django.core.cache import cache
from PIL import Image

from orders.models import Link, Order, Piece
from orders.yes import yes_to_picture
from tests.cast import add_shirt
from tests.orders.photo_files import put_photo

pytestmark = pytest.mark.django_db(transaction=True)
MOST = 150 * 1024
HEADERS = 300  # bytes of an answer's own, about
PHONE = {"width": 390, "height": 844}
SQUEEZED = ("text/", "javascript", "svg")  # as the site sends them; the server of the tests does not


@pytest.fixture
def opens(new_context, live_server, shop, ada):
    """Open a page of an order on a phone that has kept nothing; return what came before any scrolling."""
    cache.clear()

    def opened(order: Order, place: str = "") -> dict[str, int]:
        until = shop.today() + timedelta(days=9)
        _, token = Link.objects.give_out(order, until=until, by=ada)
        phone = new_context(viewport=PHONE, device_scale_factor=2)
        phone.request.get(f"{live_server.url}/for-you/{token}/")
        page, came = phone.new_page(), []
        page.on("response", lambda each: came.append(each))
        page.goto(f"{live_server.url}/for-you/{place}")
        page.wait_for_load_state("networkidle")
        answers = {each.url: each for each in came if each.status == 200}
        return {url: _on_the_wire(each) for url, each in answers.items()}

    return opened


def _on_the_wire(answer) -> int:
    body, kind = answer.body(), answer.headers.get("content-type", "")
    return HEADERS + len(gzip.compress(body) if any(each in kind for each in SQUEEZED) else body)


def photographed(pieces) -> None:
    """Give each piece a photo of sequins, one every four pixels and no two alike: no shirt is busier."""
    grain = np.random.default_rng(7)
    for piece in pieces:
        sequins = Image.fromarray(grain.integers(0, 255, (125, 100, 3), dtype=np.uint8)).resize((400, 500))
        Piece.objects.filter(pk=piece.pk).update(photo=put_photo(sequins, shirt=piece.shirt))


def fonts_in(came: dict[str, int]) -> set[str]:
    return {url.rpartition("/")[2] for url in came if url.endswith(".woff2")}


def pictures_in(came: dict[str, int]) -> list[str]:
    return [url for url in came if url.endswith(".webp")]


def test_the_page_that_asks_about_a_picture_of_twelve_photos(opens, agreed, shop, ada, settings, tmp_path):
    settings.DATA_DIR = tmp_path
    photographed(Piece.objects.select_related("shirt"))
    yes_to_picture.ask(agreed, shop, by=ada)
    put_photo(Image.new("RGB", (1600, 1200), "teal"), order=agreed)
    came = opens(agreed)
    assert fonts_in(came) == {"fraunces-latin-560.woff2", "atkinson-400.woff2", "atkinson-700.woff2"}
    assert len(pictures_in(came)) == 1
    assert 50_000 < sum(came.values()) <= MOST, came


def test_the_page_that_shows_the_quilt_in_work(opens, agreed, shop, settings, tmp_path):
    settings.DATA_DIR = tmp_path
    noise = np.random.default_rng(7).integers(0, 255, (1200, 1600, 3), dtype=np.uint8)
    put_photo(Image.fromarray(noise), order=agreed)
    came = opens(agreed)
    assert len(pictures_in(came)) == 1
    assert 50_000 < sum(came.values()) <= MOST, came


def test_the_page_of_the_yes_to_cut_thirty_shirts(opens, order, twelve_shirts, settings, tmp_path):
    settings.DATA_DIR = tmp_path
    bag = order.bags.get()
    for number in range(13, 31):
        add_shirt(bag, number)
    photographed(Piece.objects.select_related("shirt"))
    came = opens(order, "cut/")
    assert fonts_in(came) == {"fraunces-latin-560.woff2", "atkinson-400.woff2", "atkinson-700.woff2"}
    assert len(pictures_in(came)) >= 9
    assert 50_000 < sum(came.values()) <= MOST, came

"""The colors of a shirt on its page, and the page where one tap corrects them."""

from __future__ import annotations

import io

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from orders.background import errands, photos
from orders.bag import intake
from orders.colors.colors_seen import in_hundredths
from orders.forms.taps import SHOWN, SHOWN_WIDE
from orders.models import Order
from tests.planner.colour.studio import GARMENTS, SOFT, photograph

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _empty_disk(settings, tmp_path):
    settings.DATA_DIR = tmp_path


@pytest.fixture
def helper(client, order, bo):
    client.force_login(bo)
    return client


def with_photo(order, ada, color="red"):
    """Log a shirt with a drawn photo; the background has not run."""
    file = io.BytesIO()
    Image.fromarray(photograph(GARMENTS[color], SOFT, 0).image).save(file, "PNG")
    photo = photos.receive(SimpleUploadedFile("shirt.png", file.getvalue()), by=ada)
    return intake.log_shirt(
        order.bags.get(), order, intake.Said("tee", "front", "vinyl"), by=ada, photo=photo
    )


@pytest.fixture
def shirt(order, ada):
    return with_photo(order, ada)


@pytest.fixture
def address(order, shirt):
    return f"/quilts/{order.number}/shirts/{shirt.number}/"


@pytest.fixture
def colors(address):
    return address + "panels/front/colors/"


def text(answer) -> str:
    return answer.content.decode()


def test_the_shirts_page_shows_outline_and_colors_as_soon_as_they_are_read(helper, address):
    assert "Being read from the photo" in text(helper.get(address))
    errands.run_due()
    page = text(helper.get(address))
    assert "Red, the cloth" in page
    assert "<polygon points=" in page
    assert "Colors are approximate." in page


def test_a_tap_is_kept_where_it_was_made_and_the_colors_are_read_anew(helper, colors, shirt):
    errands.run_due()
    answer = helper.post(colors, {"what": "other", "at.x": "140", "at.y": "10"})
    assert answer.url == colors + "?what=other"
    photo = shirt.photos.get()
    [[x, y]] = photo.taps["other"]
    assert x == pytest.approx(10_000 * 140.5 / SHOWN, abs=1)
    assert y == pytest.approx(10_000 * 10.5 / (SHOWN * photo.height / photo.width), abs=30)
    waiting = text(helper.get(answer.url))
    assert "Being read" in waiting
    assert "hx-get" in waiting
    errands.run_due()
    done = text(helper.get(answer.url))
    assert "Being read" not in done
    assert "hx-get" not in done
    assert "Forget what was tapped" in done


def test_a_tap_on_the_larger_picture_of_a_wide_screen_is_the_same_spot(helper, colors, shirt):
    photo = shirt.photos.get()
    high = round(SHOWN_WIDE * photo.height / photo.width)
    helper.post(colors, {"what": "other", "wide.x": str(SHOWN_WIDE // 4), "wide.y": str(high // 2)})
    photo.refresh_from_db()
    assert photo.taps["other"][0] == pytest.approx([2500, 5000], abs=30)


def test_a_spot_can_be_typed_and_goes_before_the_corner_that_the_enter_key_taps(helper, colors, shirt):
    helper.post(colors, {"what": "paper", "left": "7", "top": "5", "at.x": "0", "at.y": "0"})
    assert shirt.photos.get().taps["neutral"] == {"kind": "paper", "at": [700, 500]}


@pytest.mark.parametrize(
    ("sent", "fault"),
    [
        ({"what": "other"}, "Tap the spot on the photo"),
        ({"at.x": "5", "at.y": "5"}, "Say what you tap."),
        ({"what": "shoe", "at.x": "5", "at.y": "5"}, "Select a valid choice"),
        ({"what": "shirt", "left": "7"}, "Type both."),
        ({"what": "shirt", "left": "700", "top": "1"}, "0 to 100"),
        ({"what": "shirt", "at.x": "x", "at.y": "5"}, "Tap the spot on the photo"),
    ],
)
def test_a_tap_that_says_nothing_comes_back_with_its_fault(helper, colors, shirt, sent, fault):
    answer = helper.post(colors, sent)
    assert answer.status_code == 422
    assert fault in text(answer)
    assert shirt.photos.get().taps == {}


def test_a_neutral_tapped_on_the_shirt_says_why_it_cannot_be_one(helper, colors):
    errands.run_due()
    helper.post(colors, {"what": "card", "left": "50", "top": "80"})
    errands.run_due()
    assert "is a color, not white or gray" in text(helper.get(colors))


def test_taps_are_forgotten_by_one_button(helper, colors, shirt):
    helper.post(colors, {"what": "other", "left": "50", "top": "2"})
    assert helper.post(colors + "fresh/").url == colors
    assert "other" not in shirt.photos.get().taps
    errands.run_due()
    assert "Forget what was tapped" not in text(helper.get(colors))


def test_a_color_picked_by_hand_is_named_as_such(helper, address, colors, shirt, ada):
    errands.run_due()
    piece = shirt.pieces.get()
    intake.write_panel(piece, seen=piece.version, by=ada, ground="#123456", ground_is_about=False)
    assert "picked by hand" in text(helper.get(address))
    assert "picked by hand" in text(helper.get(colors))


@pytest.mark.parametrize("shares", [[1.0], [0.916, 0.048, 0.019, 0.017], [0.5, 0.5], [1 / 3] * 3])
def test_the_per_cents_add_up_to_a_hundred(shares):
    percents = in_hundredths(shares)
    assert sum(percents) == 100
    assert all(abs(percent - 100 * share) < 1 for percent, share in zip(percents, shares, strict=True))


def test_a_panel_without_a_photo_says_so(helper, order, ada):
    bare = intake.log_shirt(order.bags.get(), order, intake.Said("tee", "front", "vinyl"), by=ada)
    colors = f"/quilts/{order.number}/shirts/{bare.number}/panels/front/colors/"
    assert "no photo yet" in text(helper.get(colors))
    assert "no photo yet" in text(helper.post(colors, {"what": "shirt", "left": "1", "top": "1"}))


def test_another_orders_shirt_and_an_unknown_panel_are_not_found(helper, order, colors, aunt, ada):
    other = Order.objects.open(title="Another", customer=aunt, by=ada)
    assert helper.get(colors.replace(f"/{order.number}/", f"/{other.number}/", 1)).status_code == 404
    assert helper.get(colors.replace("front", "sleeve")).status_code == 404


def test_signed_out_nobody_sees_or_taps(client, colors):
    for answer in (client.get(colors), client.post(colors, {"what": "shirt", "left": "1", "top": "1"})):
        assert answer.status_code == 302
        assert "sign-in" in answer.url


def test_looking_changes_nothing_and_forgetting_is_no_looking(helper, colors, shirt):
    errands.run_due()
    before = shirt.photos.get().colors
    helper.get(colors)
    assert shirt.photos.get().colors == before
    assert helper.get(colors + "fresh/").status_code == 405


def test_more_panels_with_photos_cost_no_more_queries(
    helper, order, ada, address, django_assert_max_num_queries
):
    errands.run_due()
    shirt = order.bags.get().shirts.get()

    def queries() -> int:
        with django_assert_max_num_queries(60) as counted:
            helper.get(address)
        return len(counted)

    before = queries()
    first = shirt.pieces.get()
    for side in ("back", "sleeve-l"):
        first.pk, first.side = None, side
        first.save()
    assert queries() == before

"""Measuring a panel: typed in one field, tapped on its photo, or from the list of the bag."""

from __future__ import annotations

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from orders.models import Photo, Piece
from planner.units import INCH
from tests.cast import add_shirt

pytestmark = pytest.mark.django_db
AT_LEFT = ((10, 10), (30, 10), (30, 10 + 20 * 4 / 3 * 11 / 8.5), (10, 10 + 20 * 4 / 3 * 11 / 8.5))
PRINT = ((50, 20), (70, 20), (70, 60), (50, 60))


@pytest.fixture
def photo(db):
    return Photo.objects.create(sha256="e" * 64, sent_sha256="f" * 64, width=1600, height=1200, is_ready=True)


@pytest.fixture
def piece(twelve_shirts, photo):
    piece = twelve_shirts[2].pieces.get()
    Piece.objects.filter(pk=piece.pk).update(photo=photo, sizes_are_usual=True)
    return piece


@pytest.fixture
def helper(client, piece, bo):
    client.force_login(bo)
    return client


@pytest.fixture
def address(order):
    return f"/quilts/{order.number}/shirts/3/panels/front/"


def tapped(*, known=AT_LEFT, kept=PRINT, cloth=None, **change):
    """Return the form for a letter sheet upright at the left and a print at the right, seen from above."""
    said = {"reference": "letter", "version": 1}
    for quad, corners in (("known", known), ("kept", kept), ("cloth", cloth)):
        for corner, (x, y) in zip(("tl", "tr", "br", "bl"), corners or ((None, None),) * 4, strict=True):
            said[f"{quad}_{corner}_x"] = "" if x is None else f"{x:.2f}"
            said[f"{quad}_{corner}_y"] = "" if y is None else f"{y:.2f}"
    if cloth:
        said["with_cloth"] = "on"
    return said | change


def test_a_size_typed_in_one_field_is_kept(helper, address, piece):
    answer = helper.post(address + "size/", {"size": "11 1/2 x 13", "version": 1}, follow=True)
    piece.refresh_from_db()
    assert (piece.print_width, piece.print_height) == (23 * INCH // 2, 13 * INCH)
    assert (piece.sizes_are_usual, piece.measured_how) == (False, "by hand")
    assert "03F: 11½ × 13\N{NO-BREAK SPACE}in. Kept." in answer.content.decode()


def test_corners_tapped_on_the_photo_become_a_size_with_its_doubt(helper, address, piece):
    """A sheet 8 1/2 in wide fills 20 % of the photo, so 20 % is 8 1/2 in, and 40 % of its height 12 3/4."""
    answer = helper.post(address + "measuring/", tapped(), follow=True)
    piece.refresh_from_db()
    assert abs(piece.print_width - 17 * INCH // 2) <= INCH // 16
    assert abs(piece.print_height - 51 * INCH // 4) <= INCH // 8
    assert 0 < piece.plus_minus <= 3 * INCH // 4
    page = answer.content.decode()
    assert "± " in page
    assert "From the photo, by a letter sheet" in page
    assert 'points="50,20 70,20 70,60 50,60"' in page


def test_the_cloth_beyond_is_measured_when_it_is_wanted(helper, address, piece):
    cloth = ((45, 15), (80, 15), (80, 80), (45, 80))
    helper.post(address + "measuring/", tapped(cloth=cloth))
    piece.refresh_from_db()
    assert abs(piece.free_right - 17 * INCH // 4) <= INCH // 4
    assert abs(piece.free_left - 17 * INCH // 8) <= INCH // 4


def test_sent_twice_is_kept_once_and_an_older_page_is_refused_with_its_taps(helper, address, piece):
    for _ in range(2):
        assert helper.post(address + "measuring/", tapped()).status_code == 302
    other = tapped(kept=((50, 20), (75, 20), (75, 60), (50, 60)))
    answer = helper.post(address + "measuring/", other)
    assert answer.status_code == 409
    page = answer.content.decode()
    assert "Somebody else changed this panel" in page
    assert 'points="50.00,20.00 75.00,20.00' in page
    assert helper.post(address + "measuring/", other | {"version": 2}).status_code == 302


def test_a_typed_size_that_is_older_than_the_record_shows_both(helper, address, piece):
    helper.post(address + "size/", {"size": "10×12", "version": 1})
    answer = helper.post(address + "size/", {"size": "9×9", "version": 1})
    assert answer.status_code == 409
    assert "Stands there now" in answer.content.decode()


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"reference": ""}, "Tap what lies in the picture."),
        ({"kept_tl_x": "101"}, "Type per cent of the picture"),
        ({"kept_tl_x": "left"}, "Type per cent of the picture"),
        ({"kept_tr_x": "50", "kept_tr_y": "40"}, "What you measure: three of the corners lie on one line"),
        ({"with_cloth": "on"}, "Type per cent of the picture"),
    ],
)
def test_taps_that_cannot_be_come_back_with_what_to_do(helper, address, piece, change, words):
    answer = helper.post(address + "measuring/", tapped(**change))
    assert answer.status_code == 422
    assert words in answer.content.decode()
    piece.refresh_from_db()
    assert piece.sizes_are_usual


def test_a_size_that_is_none_comes_back_filled(helper, address):
    answer = helper.post(address + "size/", {"size": "eleven", "version": 1})
    assert answer.status_code == 422
    assert 'value="eleven"' in answer.content.decode()


def test_a_panel_without_a_photo_can_still_be_typed(helper, address, piece):
    Piece.objects.filter(pk=piece.pk).update(photo=None)
    page = helper.get(address + "measuring/").content.decode()
    assert "There is no photo of this panel yet" in page
    assert "across × down" in page
    assert helper.post(address + "measuring/", tapped()).status_code == 422


def test_the_list_of_the_bag_names_what_wants_measuring_and_takes_a_size(helper, order, piece):
    address = f"/quilts/{order.number}/bag/measuring/"
    assert "1 panel to measure" in helper.get(address).content.decode()
    size = f"/quilts/{order.number}/shirts/3/panels/front/size/"
    answer = helper.post(size, {"size": "10×12", "version": 1, "list": "1"}, follow=True)
    assert answer.redirect_chain[-1][0] == address
    assert "Everything is measured" in answer.content.decode()


def test_a_longer_list_asks_no_more_queries(helper, order, piece, photo):
    def asked():
        with CaptureQueriesContext(connection) as queries:
            assert helper.get(f"/quilts/{order.number}/bag/measuring/").status_code == 200
        return len(queries)

    asked()
    few = asked()
    for number in range(13, 33):
        add_shirt(order.bags.get(), number)
    Piece.objects.update(photo=photo, sizes_are_usual=True)
    assert asked() == few


def test_plain_cloth_is_asked_for_as_cloth(helper, address, piece):
    Piece.objects.filter(pk=piece.pk).update(kept_as="plain", print_width=0, print_height=0)
    assert "Cloth, across × down" in helper.get(address + "measuring/").content.decode()


def test_a_panel_that_is_not_here_is_not_found(helper, order):
    for path in ("shirts/3/panels/back/measuring/", "shirts/99/panels/front/measuring/"):
        assert helper.get(f"/quilts/{order.number}/{path}").status_code == 404


def test_looking_changes_nothing(helper, address, piece):
    helper.get(address + "measuring/")
    assert helper.get(address + "size/").status_code == 405
    piece.refresh_from_db()
    assert piece.version == 1


def test_the_door_is_shut_to_whoever_is_signed_out(client, address, piece):
    assert client.get(address + "measuring/").url.startswith("/sign-in/")
    assert client.post(address + "size/", {"size": "1×1"}).url.startswith("/sign-in/")

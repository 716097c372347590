"""One panel of a shirt: measured, wanted or left out, colored, found on the photo."""

from __future__ import annotations

import pytest

from orders.forms.panel import PanelForm
from orders.models import Piece
from orders.quilt.little_quilt import PLAIN
from planner.units import INCH

pytestmark = pytest.mark.django_db


@pytest.fixture
def helper(client, order, twelve_shirts, bo):
    client.force_login(bo)
    return client


@pytest.fixture
def address(order):
    return f"/quilts/{order.number}/shirts/3/"


@pytest.fixture
def piece(twelve_shirts):
    return twelve_shirts[2].pieces.get()


def said(version=1, **change):
    fields = {
        "print_kind": "vinyl", "wanted": "must", "why_out": "", "ground": "#2350b0", "version": version,
        "print_width": "10 3/8", "print_height": "12", "free_top": "2 1/2", "free_right": "3",
        "free_bottom": "5", "free_left": "3", "box_x": "20", "box_y": "10", "box_width": "60",
        "box_height": "55",
    }  # fmt: skip
    return {f"front-{name}": value for name, value in (fields | change).items()}


def test_what_was_measured_is_kept_to_the_eighth(helper, address, piece):
    assert helper.post(address + "panels/front/", said(heavy="on")).url == address
    piece.refresh_from_db()
    assert (piece.print_width, piece.free_top) == (10 * INCH + 3 * INCH // 8, 5 * INCH // 2)
    assert (piece.print_kind, piece.heavy, piece.box["width"]) == ("vinyl", True, 60)
    page = helper.get(address).content.decode()
    assert 'value="10 3/8"' in page
    assert 'value="2 1/2"' in page


def test_centimeters_are_taken_and_shown_as_they_were_typed(helper, address, piece):
    helper.post(address + "panels/front/", said(print_width="31.4 cm"))
    assert 'value="31.4 cm"' in helper.get(address).content.decode()


def test_usual_sizes_stay_usual_until_they_are_measured(helper, address, piece):
    same = dict.fromkeys(("free_right", "free_left"), "4") | {
        "print_width": "11", "print_height": "12", "free_top": "3", "free_bottom": "6",
    }  # fmt: skip
    Piece.objects.filter(pk=piece.pk).update(sizes_are_usual=True)
    assert "Usual sizes: measure them." in helper.get(address).content.decode()
    helper.post(address + "panels/front/", said(**same))
    piece.refresh_from_db()
    assert piece.sizes_are_usual
    helper.post(address + "panels/front/", said(version=2, measured="on", **same))
    piece.refresh_from_db()
    assert not piece.sizes_are_usual


def test_a_changed_size_counts_as_measured(helper, address, piece):
    Piece.objects.filter(pk=piece.pk).update(sizes_are_usual=True)
    helper.post(address + "panels/front/", said())
    piece.refresh_from_db()
    assert not piece.sizes_are_usual


def test_a_color_is_about_until_somebody_picks_one(helper, address, piece):
    Piece.objects.filter(pk=piece.pk).update(ground_is_about=True, ground="#2350b0")
    assert "About, from its photo" in helper.get(address).content.decode()
    helper.post(address + "panels/front/", said())
    piece.refresh_from_db()
    assert piece.ground_is_about
    helper.post(address + "panels/front/", said(version=2, ground="#A02030"))
    piece.refresh_from_db()
    assert (piece.ground, piece.ground_is_about) == ("#a02030", False)


def test_the_plain_color_of_the_picker_is_no_color(helper, address, piece):
    helper.post(address + "panels/front/", said(ground=PLAIN))
    piece.refresh_from_db()
    assert piece.ground == ""


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"print_width": "12.3 in"}, "12 19/64 in or 12 5/16 in"),
        ({"print_width": "wide"}, "is not a length"),
        ({"print_width": "-3"}, "is not a length"),
        ({"print_width": ""}, "Type 0 where there is none"),
        ({"print_width": "900"}, "This is more than 80 in"),
        ({"print_width": "0"}, "A print has both sizes"),
        (dict.fromkeys(PanelForm.SIZES, "0"), "There is no cloth at all"),
        ({"wanted": "out", "why_out": ""}, "Say why"),
        ({"ground": "reddish"}, "Pick a color"),
        ({"box_x": "70"}, "beyond the photo"),
        ({"box_x": "-1"}, "whole per cent"),
        ({"box_width": "half"}, "whole per cent"),
        ({"print_kind": "sticky"}, "Select a valid choice"),
    ],
)  # fmt: skip
def test_a_fault_stands_beside_its_field_and_what_was_typed_stays(helper, address, piece, change, fault):
    answer = helper.post(address + "panels/front/", said(**({"why_out": "too faded"} | change)))
    page = answer.content.decode()
    assert answer.status_code == 422
    assert fault in page
    assert piece.print_width == Piece.objects.get(pk=piece.pk).print_width
    assert "why_out" in change or "too faded" in page


def test_left_out_keeps_its_reason_and_taken_back_in_loses_it(helper, address, piece):
    helper.post(address + "panels/front/", said(wanted="out", why_out="She would rather keep it whole"))
    piece.refresh_from_db()
    assert (piece.wanted, piece.why_out) == ("out", "She would rather keep it whole")
    helper.post(
        address + "panels/front/", said(version=2, wanted="may", why_out="She would rather keep it whole")
    )
    piece.refresh_from_db()
    assert (piece.wanted, piece.why_out) == ("may", "")


def test_a_second_phone_sees_both_and_loses_nothing(helper, address, piece):
    helper.post(address + "panels/front/", said(print_width="10"))
    late = helper.post(address + "panels/front/", said(print_width="9 1/4", print_kind="foil"))
    page = late.content.decode()
    assert late.status_code == 409
    for shown in ("Somebody else changed this", "9 1/4", "Shiny", "Smooth film"):
        assert shown in page
    piece.refresh_from_db()
    assert piece.print_width == 10 * INCH
    helper.post(address + "panels/front/", said(version=2, print_width="9 1/4"))
    piece.refresh_from_db()
    assert piece.print_width == 9 * INCH + INCH // 4


def test_one_more_panel_starts_from_the_usual_and_is_added_once(helper, address, twelve_shirts):
    for _ in range(2):
        assert helper.post(address + "panels/", {"side": "pocket"}).url == address
    pocket = twelve_shirts[2].pieces.get(side="pocket")
    assert pocket.sizes_are_usual
    assert "03P" in helper.get(address).content.decode()
    assert helper.post(address + "panels/", {"side": "hood lining"}).status_code == 422


def test_a_panel_that_is_not_kept_is_not_here(helper, address):
    assert helper.post(address + "panels/back/", said()).status_code == 404


def test_a_size_typed_over_a_measured_one_is_by_hand_and_exact(helper, address, piece):
    Piece.objects.filter(pk=piece.pk).update(plus_minus=INCH // 4, measured_how="card, lens not known")
    same = dict.fromkeys(("free_right", "free_left"), "4") | {
        "print_width": "11", "print_height": "12", "free_top": "3", "free_bottom": "6",
    }  # fmt: skip
    helper.post(address + "panels/front/", said(**same))
    piece.refresh_from_db()
    assert (piece.plus_minus, piece.measured_how) == (INCH // 4, "card, lens not known")
    helper.post(address + "panels/front/", said(version=2, **(same | {"print_width": "10"})))
    piece.refresh_from_db()
    assert (piece.plus_minus, piece.measured_how) == (0, "by hand")

"""Sizes from the photo of a panel or from the tape; the pictures are made up (tests/planner/measure)."""

from __future__ import annotations

import numpy as np
import pytest
from PIL import Image

from orders.bag import measuring
from orders.bag.keeping import has_print, is_plain, kept_as
from orders.models import Event, Photo, Piece, Shirt, Stale
from planner.measure import CARD
from planner.problems import BadInput
from planner.units import INCH, MM, Sides, Size
from tests.planner.measure.drawn_pictures import drawn
from tests.planner.measure.pictures import Picture, inches, oblong, seen, turned

pytestmark = pytest.mark.django_db
POSE = {"above": 40.0, "tilt": 12.0, "toward": 50.0, "roll": 4.0}


@pytest.fixture
def photo(db):
    """Return a photo of 4000 by 3000 pixels, of which only the size is known."""
    return Photo.objects.create(sha256="a" * 64, sent_sha256="b" * 64, width=4000, height=3000)


@pytest.fixture
def piece(twelve_shirts, photo):
    Piece.objects.update(photo=photo, sizes_are_usual=True)
    return Piece.objects.select_related("photo", "shirt", "order").get(shirt=twelve_shirts[2])


def as_taps(pixels):
    share = pixels / np.array([4000, 3000]) * measuring.WHOLE
    return tuple((round(x), round(y)) for x, y in share.tolist())


def taps(*, wide=10.5, high=12.25, reference="letter", cloth=None):
    known = inches(measuring.reference_of(reference, "in"))
    lying = turned(oblong(*known), 15) + np.array([11.0, 1.0])
    kept, free = oblong(wide, high), None
    if cloth:
        top, right, bottom, left = cloth
        corners = [(-left, -top), (right, -top), (right, bottom), (-left, bottom)]
        free = np.array([[x + wide / 2 * np.sign(x), y + high / 2 * np.sign(y)] for x, y in corners])
    return measuring.Taps(
        reference,
        as_taps(seen(lying, **POSE)),
        as_taps(seen(kept, **POSE)),
        None if free is None else as_taps(seen(free, **POSE)),
    )


@pytest.mark.parametrize("reference", ["mat", "letter", "a4", "card"])
def test_a_print_is_read_to_the_sixteenth_by_anything_of_known_size(piece, reference):
    reading = measuring.read(piece.photo, taps(reference=reference), unit="in")
    # Taps are kept to a ten-thousandth of the picture, less than half a pixel of this one.
    assert abs(reading.size.width - 10.5 * INCH) <= INCH // 16
    assert abs(reading.size.height - 12.25 * INCH) <= INCH // 16
    assert reading.size.width % (INCH // 16) == 0
    assert reading.plus_minus % (INCH // 16) == 0


def test_edges_that_the_photo_shows_make_it_sharper(piece, settings, tmp_path):
    settings.DATA_DIR = tmp_path
    lying = turned(oblong(*inches(CARD)), 15) + np.array([11.0, 1.0])
    made = Picture(CARD, seen(lying, **POSE), np.zeros((4, 2)), (0, 0))
    by_taps = measuring.read(piece.photo, taps(reference="card"), unit="in")
    piece.photo.file.parent.mkdir(parents=True)
    light = drawn(made, np.random.default_rng(3)).astype("uint8")
    Image.fromarray(light).save(piece.photo.file, "JPEG", quality=88)
    by_edges = measuring.read(piece.photo, taps(reference="card"), unit="in")
    assert "its edges found" in by_edges.how
    assert "its edges found" not in by_taps.how
    assert by_edges.plus_minus < by_taps.plus_minus
    assert abs(by_edges.size.width - 10.5 * INCH) <= INCH // 16
    assert abs(by_edges.size.height - 12.25 * INCH) <= INCH // 16


def test_a_metric_shop_reads_whole_millimeters_and_has_a_mat_of_thirty_centimeters(piece):
    assert measuring.reference_of("mat", "cm").size == Size(300 * MM, 300 * MM)
    reading = measuring.read(piece.photo, taps(), unit="cm")
    assert reading.size.width % MM == 0 == reading.plus_minus % MM


def test_rounding_is_part_of_the_plus_or_minus():
    from planner.measure import Measured

    step = INCH // 16
    said = Measured(10 * INCH + 100, 12 * INCH - 200, step, "grid, lens known")
    reading = measuring.rounded(said, Sides(step + 5, step - 1, 0, 7 * step), step=step)
    assert reading.size == Size(10 * INCH, 12 * INCH)
    assert reading.plus_minus == 2 * step  # a sixteenth, and half of one for the rounding, rounded up
    assert reading.free == Sides(step, 0, 0, 7 * step)


def test_a_reading_is_kept_with_its_doubt_its_way_and_its_taps(piece, ada):
    tapped = taps(cloth=(2, 3, 5, 4))
    reading = measuring.read(piece.photo, tapped, unit="in")
    measuring.write_reading(piece, reading, tapped, seen=piece.version, by=ada)
    piece.refresh_from_db()
    assert (piece.plus_minus, piece.sizes_are_usual) == (reading.plus_minus, False)
    assert piece.measured_how == "sheet, lens not known"
    assert piece.taps["kept"] == [list(each) for each in tapped.kept]
    assert abs(piece.free_bottom - 5 * INCH) <= INCH // 8
    assert Event.objects.get(what="measured").facts["before"] == [11 * INCH, 12 * INCH]


def test_measured_twice_is_measured_once_and_an_older_page_is_refused(piece, ada):
    measuring.write_typed(piece, Size(10 * INCH, 9 * INCH), seen=1, by=ada)
    measuring.write_typed(piece, Size(10 * INCH, 9 * INCH), seen=1, by=ada)
    assert Event.objects.filter(what="measured").count() == 1
    with pytest.raises(Stale):
        measuring.write_typed(piece, Size(10 * INCH, 8 * INCH), seen=1, by=ada)


def test_a_typed_print_leaves_as_much_cloth_as_there_was(piece, ada):
    cloth = (11 + 4 + 4) * INCH, (12 + 3 + 6) * INCH
    measuring.write_typed(piece, Size(9 * INCH, 13 * INCH), seen=1, by=ada)
    assert piece.print_width + piece.free_left + piece.free_right == cloth[0]
    assert piece.print_height + piece.free_top + piece.free_bottom == cloth[1]
    assert piece.free_top == 3 * INCH
    assert piece.free_left == piece.free_right
    assert piece.plus_minus == 0


def test_a_print_larger_than_the_cloth_that_was_known_leaves_none_beyond(piece, ada):
    measuring.write_typed(piece, Size(30 * INCH, 30 * INCH), seen=1, by=ada)
    assert (piece.free_left, piece.free_top, piece.free_bottom) == (0, 0, 0)


def test_plain_cloth_is_measured_as_a_whole_and_has_no_print(piece, ada):
    piece.kept_as = "plain"
    measuring.write_typed(piece, Size(7 * INCH, 16 * INCH), seen=1, by=ada)
    assert (piece.print_width, piece.print_height) == (0, 0)
    assert piece.free_left + piece.free_right == 7 * INCH
    assert piece.free_top + piece.free_bottom == 16 * INCH


def test_what_comes_out_too_coarse_is_not_kept(piece):
    tiny = measuring.Taps(
        "card",
        ((1000, 1000), (1180, 1000), (1180, 1150), (1000, 1150)),
        ((6000, 5000), (8000, 5000), (8000, 8000), (6000, 8000)),
    )
    with pytest.raises(measuring.TooCoarse):
        measuring.read(piece.photo, tiny, unit="in")


def test_corners_that_are_none_are_told_by_what_they_are_of(piece):
    line = measuring.Taps("card", ((0, 0), (100, 0), (200, 0), (300, 0)), taps().kept)
    with pytest.raises(BadInput) as caught:
        measuring.read(piece.photo, line, unit="in")
    assert measuring.why_refused(caught.value).startswith("The thing of known size: three of the corners")


def test_the_panels_that_want_measuring_are_those_nobody_measured_or_left_out(order, piece, ada):
    assert len(measuring.wanting(order)) == 12
    measuring.write_typed(piece, Size(10 * INCH, 9 * INCH), seen=1, by=ada)
    Piece.objects.filter(shirt__number=7).update(wanted="out", why_out="stained")
    assert [each.shirt.number for each in measuring.wanting(order)] == [1, 2, 4, 5, 6, 8, 9, 10, 11, 12]


@pytest.mark.parametrize(
    ("kind", "side", "size", "word"),
    [
        ("tee", "front", 11, "print"),
        ("tee", "front", 0, "print"),
        ("tee", "front-3", 11, "print"),
        ("dress shirt", "left-front", 0, "plain"),
        ("dress shirt", "back", 0, "plain"),
        ("dress shirt", "back", 12, "print"),
        ("dress shirt", "cuff-l", 0, "feature"),
        ("jeans", "leg-l", 0, "plain"),
        ("jeans", "back-pocket-r", 0, "feature"),
        ("tie", "blade", 0, "strip"),
    ],
)
def test_a_panel_is_kept_as_what_it_usually_is(kind, side, size, word):
    shirt = Shirt(kind=kind)
    piece = Piece(shirt=shirt, side=side, print_width=size, print_height=size)
    assert kept_as(piece) == word
    assert is_plain(piece) == (word in ("plain", "strip"))
    assert has_print(piece) == (word == "print")
    assert kept_as(Piece(shirt=shirt, side=side, kept_as="strip")) == "strip"


def test_a_print_that_nobody_felt_is_not_there_is_plain_cloth():
    assert kept_as(Piece(shirt=Shirt(kind="tee"), side="back", print_kind="none")) == "plain"

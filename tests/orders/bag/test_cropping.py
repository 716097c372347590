"""The block over the shirt: drawn in proportion, moved as far as the cloth goes, kept for the cut."""

from __future__ import annotations

import pytest

from orders.bag import cropping
from orders.models import ApprovedPiece, Cut, Event, Photo, Piece
from orders.models.blade import covers, cut
from orders.planning import piece_of
from orders.yes import yes_to_cut
from orders.yes.yes_to_cut import Said
from planner.layout import fit
from planner.units import INCH, Size

pytestmark = pytest.mark.django_db
BLOCK = Size(14 * INCH, 14 * INCH)


@pytest.fixture
def photo(db):
    return Photo.objects.create(sha256="c" * 64, sent_sha256="d" * 64, width=1000, height=2000)


@pytest.fixture
def piece(twelve_shirts, photo):
    """Return a print of 11 by 12 in, tapped at 100 pixels to 5.5 in of an upright photo."""
    kept = [[4000, 3000], [6000, 3000], [6000, 3000 + 1091], [4000, 3000 + 1091]]
    Piece.objects.update(photo=photo, taps={"reference": "letter", "kept": kept})
    return Piece.objects.select_related("photo", "shirt", "order").get(shirt=twelve_shirts[2])


def width_of(points):
    xs = [x for x, _ in points]
    return max(xs) - min(xs)


def test_block_seam_and_margin_are_drawn_in_proportion_to_the_print(piece, order):
    over = cropping.drawn_over(piece, BLOCK, order, unit="in")
    inch = 20 / 11  # the print is 20 % of the photo wide
    assert width_of(over.line("print")) == pytest.approx(20, abs=0.02)
    assert width_of(over.line("finished")) == pytest.approx(14 * inch, abs=0.05)
    assert width_of(over.line("cut")) == pytest.approx(14.5 * inch, abs=0.05)
    assert width_of(over.line("margin")) == pytest.approx(13 * inch, abs=0.05)
    assert width_of(over.line("cloth")) == pytest.approx(19 * inch, abs=0.05)
    assert over.to_right == pytest.approx((inch, 0), abs=0.02)


def test_without_taps_the_print_is_put_into_its_box_in_its_true_shape(piece, order):
    piece.taps, piece.box = None, {"x": 20, "y": 20, "width": 60, "height": 20}
    corners = cropping.place_of_print(piece)
    wide = (corners[1][0] - corners[0][0]) * 1000
    high = (corners[3][1] - corners[0][1]) * 2000
    assert wide / high == pytest.approx(11 / 12, rel=0.001)
    assert corners[0][1] == pytest.approx(2000)


def test_a_crop_that_is_kept_is_what_fit_and_the_yes_then_see(piece, order, ada):
    cropping.keep_crop(
        piece, BLOCK, order, seen=1, by=ada, unit="in", kept_as="print", shift_x=INCH // 2, shift_y=-INCH // 4
    )
    piece.refresh_from_db()
    assert (piece.shift_x, piece.shift_y) == (INCH // 2, -INCH // 4)
    plain = piece_of(Piece.objects.get(pk=piece.pk))
    assert fit(plain, BLOCK, margin=0).crop.x == -3 * INCH // 2 + INCH // 2
    assert piece.facts()["shift"] == [INCH // 2, -INCH // 4]
    assert piece.box["x"] == round(40 + (-1.5 + 0.5) * 20 / 11)
    assert Event.objects.get(what="crop drawn").facts["shift"] == [INCH // 2, -INCH // 4]


def test_kept_twice_is_kept_once(piece, order, ada):
    for _ in range(2):
        cropping.keep_crop(
            piece, BLOCK, order, seen=1, by=ada, unit="in", kept_as="print", shift_x=INCH, shift_y=0
        )
    assert Event.objects.filter(what="crop drawn").count() == 1


def test_a_block_is_moved_no_further_than_the_cloth_goes(piece, order, ada):
    over = cropping.keep_crop(
        piece, BLOCK, order, seen=1, by=ada, unit="in", kept_as="print", shift_x=30 * INCH, shift_y=0
    )
    # 4 in of cloth beyond the print, less the seam, less the 1 1/2 in that the block reaches anyway.
    assert piece.shift_x == 4 * INCH - INCH // 4 - 3 * INCH // 2
    assert over.fit.crop.right == 11 * INCH + 4 * INCH - INCH // 4


def test_a_crop_that_was_moved_after_the_yes_is_asked_again(piece, order, ada):
    sizes = {piece.name: [29 * INCH // 2, 29 * INCH // 2]}
    cropping.keep_crop(
        piece, BLOCK, order, seen=1, by=ada, unit="in", kept_as="print", shift_x=INCH // 2, shift_y=0
    )
    yes_to_cut.say_for_pile(order, [piece], Said("An aunt of Ferncliff", "person"), by=ada)
    agreed = ApprovedPiece.objects.get(piece=piece).facts
    assert covers(agreed, piece, sizes=sizes)
    cropping.keep_crop(
        piece, BLOCK, order, seen=2, by=ada, unit="in", kept_as="print", shift_x=-INCH, shift_y=0
    )
    assert not covers(agreed, piece, sizes=sizes)


def test_a_piece_that_is_cut_stays_where_it_was(piece, order, ada):
    yes_to_cut.say_for_pile(order, [piece], Said("An aunt of Ferncliff", "person"), by=ada)
    cut([piece], by=ada)
    assert Cut.objects.count() == 1
    with pytest.raises(cropping.CannotCrop):
        cropping.keep_crop(
            piece, BLOCK, order, seen=1, by=ada, unit="in", kept_as="print", shift_x=INCH, shift_y=0
        )


def test_plain_cloth_has_a_block_and_a_seam_but_no_margin(piece, order, ada):
    Piece.objects.filter(pk=piece.pk).update(
        print_width=0, print_height=0, free_left=8 * INCH, free_right=8 * INCH, free_top=8 * INCH
    )
    plain = Piece.objects.select_related("photo", "shirt", "order").get(pk=piece.pk)
    over = cropping.drawn_over(plain, Size(12 * INCH, 12 * INCH), order, unit="in")
    assert [name for name, _ in over.lines] == ["cloth", "cut", "finished"]
    assert over.fit.ok
    assert width_of(over.line("cloth")) == pytest.approx(20, abs=0.02)


def test_a_garment_without_cloth_for_the_seams_still_draws(piece, order):
    Piece.objects.filter(pk=piece.pk).update(
        print_width=0, print_height=0, free_left=10, free_right=10, free_top=10, free_bottom=10
    )
    tiny = Piece.objects.select_related("photo", "shirt", "order").get(pk=piece.pk)
    assert not cropping.drawn_over(tiny, BLOCK, order, unit="in").fit.ok


def test_the_block_it_has_in_the_layout_comes_first(drawn):
    piece = Piece.objects.filter(shirt__number=3).select_related("photo", "shirt", "order").get()
    own = next(cell.at.size for cell in drawn.design.quilt.cells if cell.piece == piece.name)
    blocks = cropping.blocks_for(piece, drawn)
    assert blocks[0] == own
    assert len(blocks) == len(set(blocks)) >= 3


def test_a_box_stays_within_its_photo():
    assert cropping.box_of(((-5.0, 3.2), (120.0, 3.2), (120.0, 99.9), (-5.0, 99.9))) == {
        "x": 0, "y": 3, "width": 100, "height": 97,
    }  # fmt: skip
    assert cropping.box_of(((130.0, 130.0),) * 4)["width"] == 1


@pytest.mark.parametrize(
    ("x", "y", "words"),
    [
        (0, 0, ""),
        (INCH // 2, -INCH // 4, "1/2 in to the right, 1/4 in up"),
        (-INCH, 0, "1 in to the left"),
        (0, 3 * INCH // 8, "3/8 in down"),
    ],
)
def test_the_bench_is_told_how_far_off_the_middle_it_is_cut(x, y, words):
    assert cropping.off_middle(Piece(shift_x=x, shift_y=y), "in") == words

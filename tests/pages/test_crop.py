"""The block drawn over a shirt: looked at, moved by numbers, kept; and what does not fit, on the pages."""

from __future__ import annotations

import pytest

from orders.bench import work
from orders.models import Photo, Piece
from orders.quilt import layouts
from orders.yes import yes_to_cut
from orders.yes.yes_to_cut import Said
from planner.quilt import Cell, Quilt
from planner.units import INCH, Rect

pytestmark = pytest.mark.django_db
BLOCK = f"{12 * INCH}x{12 * INCH}"


@pytest.fixture
def piece(twelve_shirts):
    photo = Photo.objects.create(
        sha256="e" * 64, sent_sha256="f" * 64, width=1200, height=1600, is_ready=True
    )
    piece = twelve_shirts[2].pieces.get()
    Piece.objects.filter(pk=piece.pk).update(photo=photo, print_width=9 * INCH, print_height=9 * INCH)
    return piece


@pytest.fixture
def helper(client, piece, bo):
    client.force_login(bo)
    return client


@pytest.fixture
def address(order):
    return f"/quilts/{order.number}/shirts/3/panels/front/crop/"


def said(**change):
    place = {"print_x": "30", "print_y": "30", "print_width": "40", "print_height": "30"}
    return (
        {"block": BLOCK, "shift_x": "1/2", "shift_y": "-1/4", "kept_as": "print", "version": 1}
        | place
        | change
    )


def test_the_block_its_seam_its_margin_and_the_cloth_are_drawn(helper, address):
    page = helper.get(f"{address}?block={BLOCK}").content.decode()
    for line in ("cloth", "print", "cut", "finished", "margin"):
        assert f'data-line="{line}"' in page
    assert "a finished block of 12 × 12 in" in page
    assert "It fits whole" in page


def test_where_it_was_moved_to_is_kept_and_shown_again(helper, address, piece):
    answer = helper.post(address, said(), follow=True)
    assert answer.redirect_chain[-1][0] == f"{address}?block={BLOCK}"
    piece.refresh_from_db()
    assert (piece.shift_x, piece.shift_y, piece.kept_as) == (INCH // 2, -INCH // 4, "print")
    assert piece.taps == {
        "reference": "",
        "kept": [[3000, 3000], [7000, 3000], [7000, 6000], [3000, 6000]],
    }
    # 9 in of print are 40 % across: the block begins 1 1/2 in left of it, less the 1/2 in it was moved.
    assert piece.box["x"] == round(30 - 40 / 9)
    page = answer.content.decode()
    assert 'value="1/2"' in page
    assert 'value="-1/4"' in page


def test_sent_twice_is_kept_once_and_an_older_page_is_refused(helper, address, piece):
    for _ in range(2):
        assert helper.post(address, said()).status_code == 302
    piece.refresh_from_db()
    assert piece.version == 2
    answer = helper.post(address, said(shift_x="1"))
    assert answer.status_code == 409
    assert "Stands there now" in answer.content.decode()


def test_a_print_that_was_measured_on_its_photo_keeps_its_place(helper, address, piece):
    kept = [[3000, 3000], [7000, 3000], [7000, 6000], [3000, 6000]]
    Piece.objects.filter(pk=piece.pk).update(taps={"reference": "card", "kept": kept})
    assert "print_width" not in helper.get(address).content.decode()
    helper.post(address, said(print_x="1"))
    piece.refresh_from_db()
    assert piece.taps["kept"] == kept


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"block": "1x1"}, "Pick one of the blocks."),
        ({"shift_x": "half"}, "is not a length"),
        ({"kept_as": "hat"}, "Select a valid choice"),
        ({"print_width": "80"}, "This goes beyond the photo"),
        ({"print_height": "0.5"}, "This must be 1 % or more."),
    ],
)
def test_what_cannot_be_comes_back_with_what_to_do(helper, address, piece, change, words):
    answer = helper.post(address, said(**change))
    assert answer.status_code == 422
    assert words in answer.content.decode()
    piece.refresh_from_db()
    assert piece.shift_x == 0


def test_without_a_photo_the_numbers_still_work(helper, address, piece):
    Piece.objects.filter(pk=piece.pk).update(photo=None)
    assert "The numbers work all the same" in helper.get(address).content.decode()
    assert helper.post(address, said()).status_code == 302


def test_a_block_of_the_address_that_is_none_is_the_first_one(helper, address):
    assert helper.get(f"{address}?block=nonsense").status_code == 200


def test_signed_out_nothing_is_drawn(client, address, piece):
    assert client.get(address).url.startswith("/sign-in/")


def test_the_bag_names_what_does_not_fit_and_what_is_not_measured(helper, order, piece):
    Piece.objects.filter(pk=piece.pk).update(print_height=30 * INCH, sizes_are_usual=True)
    page = helper.get(f"/quilts/{order.number}/bag/").content.decode()
    assert "1 of 12 will not sit whole in the block" in page
    assert "03F" in page
    assert f'href="/quilts/{order.number}/bag/measuring/"' in page


def test_what_nobody_measured_is_promised_by_usual_sizes_alone(helper, order, piece):
    bag = f"/quilts/{order.number}/bag/"
    assert '<h2 id="fit">Every print sits whole' in helper.get(bag).content.decode()
    Piece.objects.update(sizes_are_usual=True)
    assert "By usual sizes, every print sits whole in its block" in helper.get(bag).content.decode()


def test_on_the_account_it_stands_before_the_price(client, drawn, ada):
    client.force_login(ada)
    block = drawn.design.quilt.cells[0].at.size
    Piece.objects.filter(shirt__number=2).update(print_height=block.height)
    page = client.get(f"/quilts/{drawn.number}/account/").content.decode()
    assert page.index("will not sit whole in its block") < page.index('id="price"')
    Piece.objects.filter(shirt__number=2).update(print_height=12 * INCH)
    assert (
        "Every print sits whole in its block"
        in client.get(f"/quilts/{drawn.number}/account/").content.decode()
    )


def test_the_table_says_how_far_off_the_middle_a_piece_is_cut(client, agreed, ada):
    Piece.objects.filter(shirt__number=2).update(shift_x=INCH // 2)
    placed = [
        block.piece for block in agreed.blocks.select_related("piece__shirt__asked_singly") if block.piece
    ]
    yes_to_cut.say_for_pile(agreed, placed, Said("An aunt of Ferncliff", "person"), by=ada)
    for kind in ("log", "design", "wash"):
        work.finish(agreed.stages.get(kind=kind), by=ada)
    client.force_login(ada)
    page = client.get(f"/quilts/{agreed.number}/bench/table/").content.decode()
    assert page.count("1/2 in to the right of the print’s middle") == 1


def test_what_has_no_block_may_be_unmeasured_without_a_doubt_of_the_others(helper, drawn, ada):
    first = drawn.design.quilt.cells[0]
    Piece.objects.exclude(shirt__number=int(first.piece[:2])).update(sizes_are_usual=True)
    bag = f"/quilts/{drawn.number}/bag/"
    assert "By usual sizes, every print" in helper.get(bag).content.decode()
    alone = Cell("01", Rect(0, 0, first.at.width, first.at.height), first.piece)
    one = Quilt(alone.at.size, (alone,))
    layouts.choose(drawn, one, "one", minutes=(), seen=layouts.move_number(drawn), by=ada)
    page = helper.get(bag).content.decode()
    assert '<h2 id="fit">Every print sits whole' in page
    assert "11 panels not measured yet" in page

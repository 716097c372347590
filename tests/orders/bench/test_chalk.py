"""The square to cut lies on the photo where the blade goes, as large as it says, or nowhere."""

import pytest

from orders.bench.bench import bench_of
from orders.bench.chalk import chalk_of
from orders.models import Photo
from planner.units import INCH
from tests.orders.workbench import draw

pytestmark = pytest.mark.django_db


@pytest.fixture
def laid(order, twelve_shirts, shop, shelf, ada):
    order.cloth = {"sashing": "Forest", "binding": "Forest", "cornerstone": "Gold"}
    order.save()
    return draw(order, shop, ada)


def first(order):
    return bench_of(order, rough=2 * INCH).items[0].cuttings[0]


@pytest.fixture
def photo(ada):
    return Photo.objects.create(sha256="a" * 64, sent_sha256="b" * 64, width=1000, height=1000)


@pytest.fixture
def placed(laid, photo):
    """A print of 10 × 10 in that fills the middle 40 of 100 parts of its photo, with cloth enough around."""
    piece = first(laid).piece
    piece.photo, piece.print_width, piece.print_height = photo, 10 * INCH, 10 * INCH
    piece.free_top = piece.free_right = piece.free_bottom = piece.free_left = 6 * INCH
    piece.taps = {"kept": [[3000, 3000], [7000, 3000], [7000, 7000], [3000, 7000]]}
    piece.save()
    return laid


def test_a_first_cut_of_sixteen_inches_is_sixty_four_parts_round_the_print(placed):
    """Worked by hand: 10 in are 40 parts, so 16 in are 64, from 18 to 82 round the middle."""
    cutting = first(placed)
    assert cutting.sizes.rough.width == 16 * INCH
    corners = [(18, 18), (82, 18), (82, 82), (18, 82)]
    for place, corner in zip(chalk_of(cutting), corners, strict=True):
        assert place == pytest.approx(corner, abs=0.1)


def test_a_block_moved_off_the_middle_moves_the_chalk(placed):
    piece = first(placed).piece
    piece.shift_x = INCH
    piece.save()
    assert chalk_of(first(placed))[0][0] == pytest.approx(22, abs=0.1)


def test_nothing_is_chalked_where_nobody_knows_the_place(placed):
    piece = first(placed).piece
    piece.taps, piece.box = None, None
    piece.save()
    assert chalk_of(first(placed)) == ()

"""What leftovers still give: pillows of whole panels nobody cut, in as few shirts as can be."""

import pytest

from orders.bag.pillows import Given, enough_for, pillows_in
from orders.models import Piece, Shirt
from planner.units import INCH

pytestmark = pytest.mark.django_db


def given(*rows):
    return [Given(f"{number:02d}", squares, halves, False) for number, (squares, halves) in enumerate(rows)]


@pytest.mark.parametrize(
    ("rows", "count"),
    [
        ([], 0),
        ([(1, 1)], 0),  # a front and half a back
        ([(1, 1), (1, 1)], 1),  # two fronts, two halves: one has its envelope
        ([(1, 1), (1, 1), (1, 1)], 2),  # one envelope back, one square back
        ([(2, 0)], 1),
        ([(0, 9)], 0),  # backs alone are no pillow
        ([(4, 0)], 2),
    ],
)
def test_a_pillow_is_a_square_and_behind_it_a_square_or_two_halves(rows, count):
    assert pillows_in(given(*rows)) == count


@pytest.fixture
def cut(order, twelve_shirts, shop):
    """03, 08 and 11 are cut at the front; their backs, 20 by 28 in, were measured and are whole."""
    for shirt in Shirt.objects.filter(number__in=[3, 8, 11]):
        Piece.objects.filter(shirt=shirt).update(order=order, cut_width=14 * INCH, cut_height=14 * INCH)
        Shirt.objects.filter(pk=shirt.pk).update(state="used", leftovers=Shirt.Leftovers.HERE)
        Piece.objects.create(
            shirt=shirt, side="back", print_width=0, print_height=0, free_left=10 * INCH,
            free_right=10 * INCH, free_top=14 * INCH, free_bottom=14 * INCH, sizes_are_usual=False,
        )  # fmt: skip
    return order


def test_enough_left_of_03_08_and_11_for_two_16_in_pillows(cut, shop):
    found = enough_for(cut, shop)
    assert (found.count, found.shirts, found.is_about) == (2, ("03", "08", "11"), False)


def test_a_panel_that_another_quilt_took_gives_nothing(cut, shop):
    Piece.objects.filter(side="back", shirt__number=8).update(order=cut)
    assert enough_for(cut, shop).count == 1


def test_usual_sizes_are_said_to_be_usual(cut, shop):
    Piece.objects.filter(side="back").update(sizes_are_usual=True)
    found = enough_for(cut, shop)
    assert found is None or found.is_about


def test_nothing_cut_leaves_nothing_to_ask_about(order, twelve_shirts, shop):
    assert enough_for(order, shop) is None

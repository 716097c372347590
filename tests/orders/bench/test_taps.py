"""Taps that arrive late or twice: each is applied once, and what was taken back meanwhile is refused."""

import pytest

from orders.bench import taps, work
from orders.models import Cut, Event
from orders.models.event import Tap
from tests.orders.workbench import draw, say_yes_to_cut

pytestmark = pytest.mark.django_db


@pytest.fixture
def laid(order, twelve_shirts, shop, shelf, ada):
    return draw(order, shop, ada)


def pile(order):
    return list(order.blocks.exclude(piece=None).order_by("cell").values_list("pk", flat=True))


def test_a_tap_that_comes_twice_is_applied_once(laid, ada):
    say_yes_to_cut(laid, ada)
    first, again = (taps.apply("tap-1", "cut", pile(laid), by=ada) for _ in range(2))
    assert [deed.pk for deed in first] == [deed.pk for deed in again]
    assert (Cut.objects.count(), Event.objects.filter(what="bench").count(), Tap.objects.count()) == (
        12,
        1,
        1,
    )


def test_a_tap_that_comes_again_after_it_was_taken_back_does_not_do_it_again(laid, ada):
    say_yes_to_cut(laid, ada)
    taps.apply("tap-1", "cut", pile(laid), by=ada)
    deed = taps.apply("tap-2", "fuse", pile(laid), by=ada)[0]
    work.take_back(deed, by=ada)
    taps.apply("tap-2", "fuse", pile(laid), by=ada)
    assert set(laid.blocks.exclude(piece=None).values_list("progress", flat=True)) == {"cut"}


def test_a_cut_whose_yes_was_taken_back_a_second_ago_is_refused_and_says_what_to_do(laid, ada):
    say_yes_to_cut(laid, ada).withdraw(by=ada)
    with pytest.raises(work.NotYet, match=r"no yes to cut.*If it is done already, tap Not right"):
        taps.apply("late", "cut", pile(laid), by=ada)
    assert not Cut.objects.exists()
    assert not Tap.objects.exists()


def test_a_tap_with_one_block_that_may_not_be_done_does_none_of_it(laid, ada):
    say_yes_to_cut(laid, ada, but=1)
    with pytest.raises(work.NotYet):
        taps.apply("tap", "cut", pile(laid), by=ada)
    assert not Cut.objects.exists()


def test_a_cut_recorded_twice_by_two_tablets_is_one_cut(laid, ada):
    say_yes_to_cut(laid, ada)
    taps.apply("tablet-a", "cut", pile(laid), by=ada)
    assert taps.apply("tablet-b", "cut", pile(laid), by=ada) == []
    assert Cut.objects.count() == 12


def test_a_tap_for_a_quilt_that_has_left_is_refused(laid, ada):
    say_yes_to_cut(laid, ada)
    laid.cancel(by=ada)
    with pytest.raises(work.NotYet, match="has left the workroom"):
        taps.apply("tap", "cut", pile(laid), by=ada)

"""Pins and needles are counted back before a quilt is finished; a quilt on the frame stays on it."""

import pytest

from orders.bench import needles, on_the_frame, work
from orders.bench.needles import Count
from orders.models import Event, Machine, Order
from tests.orders.workbench import draw

pytestmark = pytest.mark.django_db


@pytest.fixture
def laid(order, twelve_shirts, shop, shelf, ada):
    return draw(order, shop, ada)


def test_nothing_is_finished_before_pins_and_needles_are_counted(laid, ada):
    with pytest.raises(work.NotYet, match="Count the pins and needles"):
        work.finish(laid.stages.get(kind="finish"), by=ada)
    needles.count(laid, Count(3, 3, 40, 40), by=ada)
    assert work.finish(laid.stages.get(kind="finish"), by=ada)


@pytest.mark.parametrize(
    ("counted", "words"),
    [
        (Count(3, 2, 40, 40), "1 needle of"),
        (Count(3, 3, 40, 38), "2 pins of"),
        (Count(3, 1, 40, 39), "2 needles and 1 pin of"),
        (Count(3, 4, 40, 40), "More came back"),
    ],
)
def test_a_count_that_does_not_add_up_says_what_is_missing(laid, ada, counted, words):
    needles.count(laid, counted, by=ada)
    assert words in needles.why_not_finished(laid)


def test_counted_again_the_new_count_stands_and_the_same_is_once(laid, ada):
    needles.count(laid, Count(3, 2, 40, 40), by=ada)
    for _ in range(2):
        needles.count(laid, Count(3, 3, 40, 40), by=ada)
    assert needles.why_not_finished(laid) == ""
    assert Event.objects.filter(what=needles.COUNTED).count() == 2


@pytest.fixture
def with_a_frame(shop):
    for step in shop.rules["steps"]:
        if step["stage"] == "quilt":
            step["machine"] = "frame"
    shop.save()
    Machine.objects.create(name="frame")
    return shop


def test_a_quilt_on_the_frame_stays_on_it_while_it_is_laid_down(laid, with_a_frame, aunt, ada):
    work.start(laid.stages.get(kind="quilt"), by=ada)
    stage = laid.stages.get(kind="quilt")
    stage.spent, stage.started_at = 30, None
    stage.save()
    assert on_the_frame.on_the_frame() == [laid]
    other = Order.objects.open(title="Another", customer=aunt, by=ada)
    theirs = other.stages.create(kind="quilt", position=1, minutes=60)
    with pytest.raises(work.NotYet, match="is on the frame and stays on it"):
        work.start(theirs, by=ada)
    work.finish(laid.stages.get(kind="quilt"), by=ada)
    work.start(theirs, by=ada)


def test_two_frames_hold_two_quilts(laid, with_a_frame, aunt, ada):
    Machine.objects.update(units=2)
    work.start(laid.stages.get(kind="quilt"), by=ada)
    other = Order.objects.open(title="Another", customer=aunt, by=ada)
    work.start(other.stages.create(kind="quilt", position=1, minutes=60), by=ada)

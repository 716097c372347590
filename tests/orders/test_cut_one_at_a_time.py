"""What opinions differ about, or was agreed for one day alone, is held and tapped by itself."""

from datetime import timedelta

import pytest

from orders.bench import work
from orders.bench.bench import bench_of
from orders.demo.clock import standing_at
from orders.models import Block, Cut, Look, Order, Person, Piece
from orders.yes import yes_to_cut
from orders.yes.yes_to_cut import Said
from planner.units import INCH
from tests.orders.workbench import draw, let_help, say_yes_to_cut
from tests.orders.yeses import AUNT, NOON, ask_singly, piece, pieces

pytestmark = pytest.mark.django_db
SISTER = "Her sister"


@pytest.fixture
def laid(order, twelve_shirts, shop, shelf, ada, bo):
    """Return an order whose shirts 3 and 7 need two yeses each; the rest has its yes in the pile."""
    draw(order, shop, ada)
    let_help(bo, "cut")
    say_yes_to_cut(order, ada)
    for number in (3, 7):
        ask_singly(ada, number, AUNT, SISTER)
    return Order.objects.get(pk=order.pk)


def say(order, number, *names, by):
    for name in names:
        yes_to_cut.say_for_one(order, piece(number), Said(name, "person"), by=by)


def look(order, number, *people):
    for person in people:
        yes_to_cut.look(order, piece(number), by=person)


def names(found):
    return [each.name for each in found]


def at_the_table(order):
    lies = bench_of(Order.objects.get(pk=order.pk), rough=2 * INCH)
    return lies.to_cut(), lies.one_by_one(), lies.not_to_cut()


def block(number):
    return Block.objects.get(piece__shirt__number=number)


def test_a_contested_piece_lies_in_no_pile_before_or_after_its_yeses(laid, ada, bo):
    pile, alone, waits = at_the_table(laid)
    assert (len(pile), names(alone), names(waits)) == (10, [], ["1-03F", "1-07F"])
    say(laid, 7, AUNT, SISTER, by=ada)
    look(laid, 7, ada, bo)
    pile, alone, waits = at_the_table(laid)
    assert (len(pile), names(alone), names(waits)) == (10, ["1-07F"], ["1-03F"])


def test_a_pile_with_a_contested_piece_in_it_is_refused_whole(laid, ada, bo):
    say(laid, 7, AUNT, SISTER, by=ada)
    look(laid, 7, ada, bo)
    for blocks in ([block(7).pk], [block(6).pk, block(7).pk]):
        with pytest.raises(work.NotYet, match=r"1-07F cannot be cut with a pile\. Hold each beside"):
            work.do_pile(laid, "cut", blocks, by=ada)
    assert not Cut.objects.exists()


def test_done_on_the_stage_does_not_sweep_a_contested_piece_along(laid, ada, bo):
    for number in (3, 7):
        say(laid, number, AUNT, SISTER, by=ada)
        look(laid, number, ada, bo)
    with pytest.raises(work.NotYet, match="1-03F, 1-07F cannot be cut with a pile"):
        work.finish(laid.stages.get(kind="cut"), by=ada)
    assert not Cut.objects.exists()


def test_each_is_cut_by_its_own_tap_and_the_last_finishes_the_stage(laid, ada, bo):
    for number in (3, 7):
        say(laid, number, AUNT, SISTER, by=ada)
        look(laid, number, ada, bo)
    usual = [each.pk for each in laid.blocks.exclude(piece__shirt__number__in=[3, 7])]
    work.do_pile(laid, "cut", usual, by=ada)
    assert work.cut_one(laid, piece(3), by=bo).facts.get("finished") is None
    assert (block(3).progress, block(7).progress) == ("cut", "planned")
    assert work.cut_one(laid, piece(3), by=bo) is None
    assert work.cut_one(laid, piece(7), by=bo).facts["finished"]
    assert laid.stages.get(kind="cut").done_at
    assert Cut.objects.count() == 12


def test_one_name_is_not_enough_and_a_second_look_comes_first(laid, ada, bo):
    say(laid, 7, AUNT, by=ada)
    look(laid, 7, ada, bo)
    with pytest.raises(work.NotYet, match="1-07F has no yes to cut"):
        work.cut_one(laid, piece(7), by=ada)
    say(laid, 7, SISTER, by=ada)
    Look.objects.filter(by=bo).delete()
    with pytest.raises(work.NotYet, match="wants a second look"):
        work.cut_one(laid, piece(7), by=ada)


def test_a_yes_for_the_day_is_tapped_singly_and_over_at_midnight_it_is_in_no_pile(laid, ada):
    with standing_at(NOON):
        yes_to_cut.say_for_pile(laid, pieces(5), Said(AUNT, "phone"), by=ada)
        yes_to_cut.take_back_piece(laid, piece(5), by=ada)
        yes_to_cut.say_for_pile(laid, pieces(5), Said(AUNT, "phone", for_the_day=True), by=ada)
        pile, alone, _ = at_the_table(laid)
        assert (len(pile), names(alone)) == (9, ["1-05F"])
        with pytest.raises(work.NotYet, match="1-05F cannot be cut with a pile"):
            work.do_pile(laid, "cut", [block(4).pk, block(5).pk], by=ada)
    with standing_at(NOON + timedelta(days=1)):
        pile, alone, waits = at_the_table(laid)
        assert (len(pile), names(alone)) == (9, [])
        assert "1-05F" in names(waits)
        with pytest.raises(work.NotYet, match="1-05F has no yes to cut"):
            work.cut_one(laid, piece(5), by=ada)
        with pytest.raises(work.NotYet, match="1-05F has no yes to cut"):
            work.do_pile(laid, "cut", [block(4).pk, block(5).pk], by=ada)


def test_a_yes_withdrawn_a_second_ago_leaves_the_pile_and_the_tap(laid, ada, bo):
    say(laid, 7, AUNT, SISTER, by=ada)
    look(laid, 7, ada, bo)
    for number in (4, 7):
        assert yes_to_cut.take_back_piece(laid, piece(number), by=ada)
    pile, alone, waits = at_the_table(laid)
    assert (len(pile), names(alone), names(waits)) == (9, [], ["1-03F", "1-04F", "1-07F"])
    with pytest.raises(work.NotYet, match="1-07F has no yes to cut"):
        work.cut_one(laid, piece(7), by=ada)


def test_a_held_block_and_a_piece_without_a_block_are_not_cut_by_themselves(laid, ada, bo):
    say(laid, 7, AUNT, SISTER, by=ada)
    look(laid, 7, ada, bo)
    Block.objects.filter(pk=block(7).pk).update(held="the blade is blunt")
    with pytest.raises(work.NotYet, match="1-07F is held: the blade is blunt"):
        work.cut_one(laid, piece(7), by=ada)
    stray = Piece.objects.create(shirt=piece(7).shirt, side="back")
    with pytest.raises(work.NotYet, match="has no block in the layout"):
        work.cut_one(laid, stray, by=ada)


def test_a_helper_who_does_not_cut_may_not_tap_it_either(laid, ada, bo):
    let_help(bo, "trim")
    with pytest.raises(work.NotYet, match="does not do this stage"):
        work.cut_one(laid, piece(7), by=Person.objects.get(pk=bo.pk))

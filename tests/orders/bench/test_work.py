"""Work at the bench: no cut without a yes, done twice is done once, and what can be taken back."""

from datetime import timedelta

import pytest
from django.utils import timezone

from orders.bench import work
from orders.models import Block, Cut, Event, Order, Piece, Shirt, Stage
from tests.orders.workbench import do, draw, let_help, say_yes_to_cut, say_yes_to_picture

pytestmark = pytest.mark.django_db
NOW = timezone.now()


@pytest.fixture
def laid(order, twelve_shirts, shop, shelf, ada):
    return draw(order, shop, ada)


def stage(order, kind):
    return order.stages.get(kind=kind)


def ids(order, progress=None):
    blocks = order.blocks.exclude(piece=None).order_by("cell")
    return [block.pk for block in blocks if progress in (None, block.progress)]


def progress(order):
    return list(order.blocks.values_list("progress", flat=True))


def test_nothing_is_cut_without_a_yes(laid, ada):
    for deed in (
        lambda: work.start(stage(laid, "cut"), by=ada),
        lambda: work.finish(stage(laid, "cut"), by=ada),
        lambda: work.do_pile(laid, "cut", ids(laid), by=ada),
    ):
        with pytest.raises(work.NotYet, match=r"no yes to cut. Ask An aunt of Ferncliff"):
            deed()
    assert not Cut.objects.exists()
    assert set(progress(laid)) == {"planned"}


def test_one_piece_without_a_yes_stops_the_whole_pile(laid, ada):
    say_yes_to_cut(laid, ada, but=1)
    with pytest.raises(work.NotYet, match=r"1-\d\dF has no yes to cut"):
        work.do_pile(laid, "cut", ids(laid), by=ada)
    assert not Cut.objects.exists()
    assert work.do_pile(laid, "cut", ids(laid)[:-1], by=ada).facts["count"] == 11
    assert Cut.objects.count() == 11
    assert stage(laid, "cut").done_at is None


def test_a_yes_taken_back_counts_as_none(laid, ada):
    say_yes_to_cut(laid, ada).withdraw(by=ada)
    with pytest.raises(work.NotYet):
        work.do_pile(laid, "cut", ids(laid), by=ada)


def test_the_whole_pile_cut_finishes_the_stage_and_is_done_once(laid, ada):
    say_yes_to_cut(laid, ada)
    deed = work.do_pile(laid, "cut", ids(laid), by=ada)
    assert work.do_pile(laid, "cut", ids(laid), by=ada) is None
    assert (deed.facts["count"], Cut.objects.count()) == (12, 12)
    assert stage(laid, "cut").done_at
    assert Shirt.objects.filter(state="used").count() == 12
    assert Event.objects.filter(what="bench").count() == 1


def test_done_on_a_stage_does_its_pile(laid, ada):
    say_yes_to_cut(laid, ada)
    work.finish(stage(laid, "cut"), by=ada)
    assert set(progress(laid)) == {"cut"}
    assert work.finish(stage(laid, "cut"), by=ada) is None


def test_no_block_skips_a_stage(laid, ada):
    say_yes_to_cut(laid, ada)
    work.do_pile(laid, "cut", ids(laid)[:5], by=ada)
    with pytest.raises(work.NotYet, match="is not cut yet"):
        work.do_pile(laid, "fuse", ids(laid), by=ada)
    assert work.do_pile(laid, "fuse", ids(laid)[:5], by=ada).facts["count"] == 5
    with pytest.raises(work.NotYet, match="is not cut yet"):
        work.finish(stage(laid, "trim"), by=ada)


def test_a_held_block_is_named_with_its_reason(laid, ada):
    say_yes_to_cut(laid, ada)
    Block.objects.filter(pk=ids(laid)[3]).update(held="her brother says no")
    with pytest.raises(work.NotYet, match="is held: her brother says no"):
        work.do_pile(laid, "cut", ids(laid), by=ada)


def test_rows_are_joined_only_with_a_yes_to_the_picture(laid, ada):
    laid.design.freeze(by=ada)
    Block.objects.update(progress="trimmed")
    with pytest.raises(work.NotYet, match="no yes to the picture"):
        work.finish(stage(laid, "join"), by=ada)
    say_yes_to_picture(laid, ada)
    work.finish(stage(laid, "join"), by=ada)
    assert set(progress(laid)) == {"joined"}


def test_a_fusing_that_was_not_can_be_taken_back_once(laid, ada):
    say_yes_to_cut(laid, ada)
    work.finish(stage(laid, "cut"), by=ada)
    deed = work.finish(stage(laid, "fuse"), by=ada)
    assert work.take_back(deed, by=ada) is True
    assert set(progress(laid)) == {"cut"}
    assert stage(laid, "fuse").done_at is None
    assert work.take_back(deed, by=ada) is False


def test_taking_back_one_pile_leaves_the_other(laid, ada):
    say_yes_to_cut(laid, ada)
    work.finish(stage(laid, "cut"), by=ada)
    work.do_pile(laid, "fuse", ids(laid)[:4], by=ada)
    second = work.do_pile(laid, "fuse", ids(laid)[4:9], by=ada)
    work.take_back(second, by=ada)
    assert sorted(progress(laid)).count("fused") == 4


def test_a_cut_stays_cut_when_its_done_is_taken_back(laid, ada):
    say_yes_to_cut(laid, ada)
    deed = work.finish(stage(laid, "cut"), by=ada)
    work.take_back(deed, by=ada)
    assert stage(laid, "cut").done_at is None
    assert set(progress(laid)) == {"cut"}
    assert Cut.objects.count() == 12


def test_a_done_is_not_taken_back_once_the_next_stage_has_begun(laid, ada):
    say_yes_to_cut(laid, ada)
    deed = work.finish(stage(laid, "cut"), by=ada)
    work.start(stage(laid, "fuse"), by=ada)
    with pytest.raises(work.NotYet, match="next stage has begun"):
        work.take_back(deed, by=ada)


def test_a_person_has_one_thing_in_hand(laid, ada):
    work.start(stage(laid, "log"), by=ada, now=NOW - timedelta(minutes=25))
    work.start(stage(laid, "wash"), by=ada, now=NOW)
    assert [each.kind for each in Stage.objects.running()] == ["wash"]
    assert stage(laid, "log").spent == 25


def test_starting_twice_is_starting_once(laid, ada):
    work.start(stage(laid, "log"), by=ada, now=NOW - timedelta(minutes=25))
    work.start(stage(laid, "log"), by=ada, now=NOW)
    work.pause(stage(laid, "log"), by=ada, now=NOW)
    work.pause(stage(laid, "log"), by=ada, now=NOW)
    assert stage(laid, "log").spent == 25
    assert Event.objects.filter(what="started").count() == 1


def test_a_helper_does_only_what_the_workroom_lists(laid, ada, bo):
    let_help(bo, "cut")
    say_yes_to_cut(laid, ada)
    work.do_pile(laid, "cut", ids(laid), by=bo)
    with pytest.raises(work.NotYet, match="Bo does not do this stage"):
        work.do_pile(laid, "fuse", ids(laid), by=bo)
    with pytest.raises(work.NotYet):
        work.start(stage(laid, "fuse"), by=bo)


def test_a_helper_stops_at_what_bears_little_heat(laid, ada, bo):
    let_help(bo, "cut", "fuse")
    Piece.objects.filter(shirt__number=4).update(print_kind="vinyl")
    say_yes_to_cut(laid, ada)
    work.finish(stage(laid, "cut"), by=bo)
    with pytest.raises(work.NotYet, match="1-04F bears less heat"):
        work.finish(stage(laid, "fuse"), by=bo)
    cool = laid.blocks.get(piece__shirt__number=4).pk
    work.do_pile(laid, "fuse", [pk for pk in ids(laid) if pk != cool], by=bo)
    work.do_pile(laid, "fuse", [cool], by=ada)
    assert stage(laid, "fuse").done_at


def test_a_pin_is_put_in_and_taken_out(laid, ada, shop):
    work.pin(stage(laid, "quilt"), shop.today(), by=ada)
    work.pin(stage(laid, "quilt"), shop.today(), by=ada)
    assert stage(laid, "quilt").pinned_for == shop.today()
    work.pin(stage(laid, "quilt"), None, by=ada)
    assert list(Event.objects.filter(what__startswith="pin").values_list("what", flat=True)) == [
        "pinned", "pin taken out",
    ]  # fmt: skip


def test_fillers_are_made_up_before_they_are_joined(laid, ada):
    Block.objects.create(order=laid, cell="filler")
    say_yes_to_cut(laid, ada)
    say_yes_to_picture(laid, ada)
    Block.objects.exclude(piece=None).update(progress="trimmed")
    with pytest.raises(work.NotYet, match="1 block filler is not made up yet"):
        work.finish(stage(laid, "join"), by=ada)
    Stage.objects.get_or_create(order=laid, kind="make up", defaults={"position": 6, "minutes": 8})
    work.finish(stage(laid, "make up"), by=ada)
    work.finish(stage(laid, "join"), by=ada)
    assert set(progress(laid)) == {"joined"}


def test_a_repair_needs_no_picture(laid, ada):
    Order.objects.update(kind="repair")
    Block.objects.all().delete()
    do(laid, ada, "log")
    work.start(Stage.objects.get(order=Order.objects.get(), kind="join"), by=ada)
    assert Stage.objects.running().get().kind == "join"

"""The Bench room and its piles, to be read at a meter: sizes, limits, whose yes, and one tap for the pile."""

import pytest

from orders.bench.work import do_pile
from orders.models import Block, Cut, Event, Piece, Shop
from tests.orders.workbench import do, draw, let_help, say_yes_to_cut, say_yes_to_picture

pytestmark = pytest.mark.django_db


@pytest.fixture
def laid(order, twelve_shirts, shop, shelf, ada):
    order.cloth = {"sashing": "Forest", "binding": "Forest", "cornerstone": "Gold"}
    order.save()
    return draw(order, shop, ada)


@pytest.fixture
def signed_in(client, ada):
    client.force_login(ada)
    return client


def page(client, address):
    answer = client.get(address)
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split()).replace("\N{NO-BREAK SPACE}", " ")


def room(order, place=""):
    return f"/quilts/{order.number}/bench/{place}{'/' if place else ''}"


def blocks(order, progress="planned"):
    found = order.blocks.exclude(piece=None).order_by("cell")
    return [block.pk for block in found if block.progress == progress]


def done(client, order, place, pks, but=()):
    return client.post(room(order, place), {"block": pks, "but": but})


@pytest.fixture
def press(shop, ada):
    from orders.models import HeatTool

    made = HeatTool.objects.create(name="heat press", kind="press", least=150, most=430, step=5)
    made.owner = ada
    return made


def test_the_room_lists_stages_piles_and_the_cutting_list(signed_in, laid):
    seen = page(signed_in, room(laid))
    for words in ("Log the shirts", "At the iron", "Cutting list", "Forest", "cornerstones", "2½ in"):
        assert words in seen
    assert "Rotary cutter" in seen


def test_a_room_without_a_layout_says_what_comes_first(signed_in, order):
    seen = page(signed_in, room(order))
    assert "Draw it in the Quilt room first" in seen
    for place in ("table", "iron", "ruler", "machine"):
        assert signed_in.get(room(order, place)).status_code == 200


def test_the_table_shows_name_sizes_and_whose_yes(signed_in, laid, ada):
    say_yes_to_cut(laid, ada, but=2)
    seen = page(signed_in, room(laid, "table"))
    assert "1-01F" in seen
    assert "rough" in seen
    assert "the aunt’s yes, today" in seen
    assert "All 10 cut" in seen
    assert seen.count("has no yes to cut") == 2


def test_the_sizes_are_those_of_the_plan(signed_in, laid, ada):
    say_yes_to_cut(laid, ada)
    sizes = next(each for each in signed_in.get(room(laid, "table")).context["bench"].items).cuttings[0].sizes
    drawn = laid.design.quilt
    assert sizes.cut.width == drawn.cells[0].at.width + 2 * drawn.seam


def test_all_of_the_pile_is_cut_with_one_tap(signed_in, laid, ada):
    say_yes_to_cut(laid, ada)
    assert done(signed_in, laid, "table", blocks(laid)).url == room(laid)
    assert Cut.objects.count() == 12
    assert laid.stages.get(kind="cut").done_at


def test_all_but_two_leaves_two(signed_in, laid, ada):
    say_yes_to_cut(laid, ada)
    pile = blocks(laid)
    assert done(signed_in, laid, "table", pile, but=pile[:2]).url == room(laid, "table")
    assert Cut.objects.count() == 10
    assert blocks(laid) == pile[:2]


def test_a_pile_sent_twice_is_done_once(signed_in, laid, ada):
    say_yes_to_cut(laid, ada)
    pile = blocks(laid)
    for _ in range(2):
        assert done(signed_in, laid, "table", pile).status_code == 302
    assert (Cut.objects.count(), Event.objects.filter(what="bench").count()) == (12, 1)


def test_no_piece_is_cut_without_its_own_yes(signed_in, laid, ada):
    say_yes_to_cut(laid, ada, but=1)
    answer = done(signed_in, laid, "table", blocks(laid))
    assert answer.status_code == 422
    assert "has no yes to cut" in answer.content.decode()
    assert not Cut.objects.exists()


@pytest.mark.parametrize("data", [{}, {"block": ["many"]}, {"block": ["999999"]}])
def test_a_pile_of_nothing_is_refused(signed_in, laid, ada, data):
    say_yes_to_cut(laid, ada)
    assert signed_in.post(room(laid, "table"), data).status_code == 422


def test_a_pile_with_everything_left_out_is_refused(signed_in, laid, ada):
    say_yes_to_cut(laid, ada)
    answer = done(signed_in, laid, "table", blocks(laid), but=blocks(laid))
    assert answer.status_code == 422
    assert "Leave at least one in" in answer.content.decode()


def test_a_block_of_another_quilt_is_not_in_the_pile(signed_in, laid, ada, aunt):
    from orders.models import Order

    other = Order.objects.open(title="Other", customer=aunt, by=ada)
    strange = Block.objects.create(order=other, cell="01").pk
    say_yes_to_cut(laid, ada)
    assert done(signed_in, laid, "table", [strange]).status_code == 422


@pytest.fixture
def all_cut(laid, ada):
    """All cut; two vinyl prints bear only 270 °F, the rest 300."""
    Piece.objects.filter(shirt__number__in=[3, 7]).update(print_kind="vinyl")
    say_yes_to_cut(laid, ada)
    do_pile(laid, "cut", blocks(laid), by=ada)
    return laid


def test_the_iron_begins_with_the_coolest_batch(signed_in, all_cut):
    seen = page(signed_in, room(all_cut, "iron"))
    assert "Turn to" in seen
    assert "limit 270 °F" in seen
    assert "Print face down" in seen
    assert "All 2 of this batch done" in seen
    assert seen.index("limit 270 °F") < seen.index("300 °F")


def test_a_press_shows_its_degrees(signed_in, all_cut, press):
    press.be_usual(by=press.owner)
    seen = page(signed_in, room(all_cut, "iron"))
    assert "Set 270 °F" in seen
    assert "Turn to" not in seen


def test_a_shop_in_centimeters_sees_celsius_never_hotter(signed_in, all_cut):
    Shop.objects.update(unit="cm")
    assert "limit 132 °C" in page(signed_in, room(all_cut, "iron"))  # 270 °F is 132.2 °C


def test_a_press_that_runs_hot_is_set_lower(signed_in, all_cut, press):
    press.hotter = 12
    press.save()
    press.be_usual(by=press.owner)
    seen = page(signed_in, room(all_cut, "iron"))
    assert "Set 255 °F" in seen
    assert "12° hotter" in seen


def test_a_tool_that_cannot_hold_the_limit_is_refused_with_two_ways_out(signed_in, all_cut, press):
    press.least = 280
    press.save()
    press.be_usual(by=press.owner)
    seen = page(signed_in, room(all_cut, "iron"))
    assert "Not with the heat press" in seen
    assert "Take the iron instead. Turn to one dot." in seen
    assert "Sew the interfacing in, cold" in seen


def test_the_other_tool_can_be_taken_in_hand(signed_in, all_cut, press):
    seen = page(signed_in, f"{room(all_cut, 'iron')}?tool={press.pk}")
    assert "Set 270 °F" in seen
    assert "Turn to" not in seen


def test_an_iron_too_cool_for_the_interfacing_says_so(signed_in, all_cut, press):
    """Vinyl bears 270 °F and tricot bonds at 270; one dot of an iron is 230 at the most."""
    seen = page(signed_in, room(all_cut, "iron"))
    assert "The interfacing may not hold at this heat" in seen
    assert "Take the heat press instead. Set 270 °F." in seen


@pytest.mark.parametrize("tool", ["abc", "999", "-1"])
def test_a_tool_nobody_has_is_the_usual_one(signed_in, all_cut, press, tool):
    assert "Turn to" in page(signed_in, f"{room(all_cut, 'iron')}?tool={tool}")


def test_a_batch_done_brings_the_next(signed_in, all_cut):
    cool = list(all_cut.blocks.filter(piece__print_kind="vinyl").values_list("pk", flat=True))
    assert done(signed_in, all_cut, "iron", cool).url == room(all_cut, "iron")
    assert "limit 300 °F" in page(signed_in, room(all_cut, "iron"))


def test_a_helper_stops_where_the_limit_is_low(client, all_cut, bo):
    let_help(bo, "fuse")
    client.force_login(bo)
    seen = page(client, room(all_cut, "iron"))
    assert "Stop: limit 270 °F. The owner presses 2 blocks." in seen
    assert "All 10 of this batch done" in seen
    cool = list(all_cut.blocks.filter(piece__print_kind="vinyl").values_list("pk", flat=True))
    answer = done(client, all_cut, "iron", cool)
    assert answer.status_code == 422
    assert "Stop: the owner presses it" in answer.content.decode()


def test_a_helper_who_does_not_fuse_gets_no_button(client, all_cut, bo):
    let_help(bo, "cut")
    client.force_login(bo)
    seen = page(client, room(all_cut, "iron"))
    assert "Not on your list" in seen
    assert "of this batch done" not in seen


def test_trimming_shows_the_cut_size(signed_in, all_cut, ada):
    do_pile(all_cut, "fuse", blocks(all_cut, "cut"), by=ada)
    seen = page(signed_in, room(all_cut, "ruler"))
    assert "All 12 trimmed" in seen
    assert done(signed_in, all_cut, "ruler", blocks(all_cut, "fused")).url == room(all_cut)


def test_rows_are_sewn_one_after_the_other(signed_in, all_cut, ada):
    Block.objects.update(progress="trimmed")
    say_yes_to_picture(all_cut, ada)
    rows = signed_in.get(room(all_cut, "machine")).context["bench"].rows()
    assert sum(len(row.items) for row in rows) == 12
    first = [item.block.pk for item in rows[0].items]
    assert done(signed_in, all_cut, "machine", first).status_code == 302
    assert all_cut.blocks.filter(progress="joined").count() == len(first)
    assert "Sewn" in page(signed_in, room(all_cut, "machine"))


def test_a_row_is_not_sewn_without_a_yes_to_the_picture(signed_in, all_cut, ada):
    Block.objects.update(progress="trimmed")
    answer = done(signed_in, all_cut, "machine", blocks(all_cut, "trimmed"))
    assert answer.status_code == 422
    assert "no yes to the picture" in answer.content.decode()


def test_a_helper_sees_no_money_and_no_way_to_reach_anybody(client, laid, bo, ada, aunt):
    let_help(bo, "cut", "trim")
    say_yes_to_cut(laid, ada)
    client.force_login(bo)
    for place in ("", "table", "iron", "ruler", "machine"):
        seen = page(client, room(laid, place))
        for hidden in ("$", "555", aunt.phone, "Account"):
            assert hidden not in seen


def test_another_place_or_quilt_is_not_here(signed_in, laid):
    assert signed_in.get(room(laid, "attic")).status_code == 404
    assert signed_in.get("/quilts/99/bench/").status_code == 404


def test_a_larger_quilt_asks_no_more_queries(signed_in, laid, ada, django_assert_max_num_queries):
    say_yes_to_cut(laid, ada)
    with django_assert_max_num_queries(45):
        page(signed_in, room(laid))
    with django_assert_max_num_queries(40):
        page(signed_in, room(laid, "table"))


def test_what_is_done_is_told_in_the_order_of_the_work(signed_in, laid, ada):
    do(laid, ada, "log")
    seen = page(signed_in, room(laid))
    assert seen.index("Logged") < seen.index("Draw the layout")


def test_hard_items_are_named_at_the_machine(signed_in, all_cut):
    Piece.objects.filter(shirt__number=5).update(print_kind="twill")
    seen = page(signed_in, room(all_cut, "machine"))
    assert f"{all_cut.number}-05F sewn-on letters" in seen

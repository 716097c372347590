"""Blocks pinned and rearranged: one move that undo takes back, at once or in the background."""

from __future__ import annotations

import pytest

from orders import planning
from orders.background import errands
from orders.models import Block, Consent, Errand, Order, Piece, Shirt, Stale
from orders.planning import piece_id
from orders.quilt import arranging, layouts
from orders.quilt.answers import answer
from orders.quilt.arranging import Asked
from orders.quilt.block_cautions import said_of_teams
from orders.quilt.block_moves import CannotMove
from planner.layout import grid_quilt, why
from planner.problems import Limit
from planner.units import INCH, Size

pytestmark = pytest.mark.django_db


@pytest.fixture
def drawn(order, shop, twelve_shirts, ada):
    """Return the order drawn as the bag lies: six blue shirts, and six of gold below."""
    blue_above_gold()
    offer = planning.plan_order(order, shop).options[0]
    layouts.choose(order, offer.layout.quilt, "3 by 4", minutes=offer.minutes, seen=0, by=ada)
    return order


def blue_above_gold():
    Piece.objects.filter(shirt__number__lte=6).update(ground="#2350b0")
    Piece.objects.filter(shirt__number__gt=6).update(ground="#e2a71e")


@pytest.fixture
def few(monkeypatch):
    """Let a quilt of twelve blocks count as a large one, and search it for a moment only."""
    monkeypatch.setattr(arranging, "FEW_BLOCKS", 4)
    monkeypatch.setattr(arranging, "LONG", 800)


def standing(order):
    quilt = Order.objects.get(pk=order.pk).design.quilt
    return {cell.id: cell.at for cell in quilt.cells}


def move_of(order):
    return Order.objects.get(pk=order.pk).design.last_move


def test_rearranging_is_one_move_that_undo_takes_back(drawn, ada):
    before = standing(drawn)
    words = arranging.rearrange(drawn, Asked(), seen=1, by=ada)
    after = standing(drawn)
    assert words.startswith("The best found;")
    assert after != before
    assert set(after.values()) == set(before.values())
    assert (move_of(drawn).words, move_of(drawn).asked["mood"]) == ("Rearranged, calm", "calm")
    assert drawn.events.filter(what="layout drawn", facts__words="Rearranged, calm").count() == 1
    layouts.undo(drawn, seen=2, by=ada)
    assert standing(drawn) == before


def test_it_lies_better_than_before(drawn, ada):
    bag = arranging.bag_of(drawn)
    before = arranging.reasons_for(move_of(drawn), bag)
    arranging.rearrange(drawn, Asked(), seen=1, by=ada)
    after = arranging.reasons_for(move_of(drawn), bag)
    assert any("pairs of like color lie side by side" in each for each in before)
    assert "No two blocks of like color lie side by side." in after


def test_asked_for_twice_it_is_done_once(drawn, ada):
    for _ in range(2):
        arranging.rearrange(drawn, Asked(), seen=1, by=ada)
    assert drawn.design.moves.count() == 2


def test_an_older_page_is_refused(drawn, ada):
    layouts.turn(drawn, "03", seen=1, by=ada)
    with pytest.raises(Stale):
        arranging.rearrange(drawn, Asked(), seen=1, by=ada)
    assert drawn.design.moves.count() == 2


def test_where_nothing_better_is_found_nothing_is_moved(drawn, ada):
    arranging.rearrange(drawn, Asked(), seen=1, by=ada)
    before = standing(drawn)
    words = arranging.rearrange(drawn, Asked(), seen=2, by=ada)
    assert words == "Nothing better was found: the blocks stay as they lie."
    assert standing(drawn) == before
    assert drawn.design.moves.count() == 2


def test_before_there_is_a_layout_there_is_nothing_to_rearrange(order, twelve_shirts, ada):
    with pytest.raises(CannotMove, match="Choose one first"):
        arranging.rearrange(order, Asked(), seen=0, by=ada)


def test_a_pin_is_a_move_that_undo_takes_back_and_holds_a_block_where_it_lies(drawn, ada):
    before = standing(drawn)
    assert layouts.pin(drawn, "01", seen=1, by=ada) == "01F pinned"
    layouts.pin(drawn, "02", seen=2, by=ada)
    assert move_of(drawn).pins == ["01", "02"]
    arranging.rearrange(drawn, Asked(mood="lively"), seen=3, by=ada)
    after = standing(drawn)
    assert (after["01"], after["02"]) == (before["01"], before["02"])
    assert after != before
    assert move_of(drawn).pins == ["01", "02"]
    for seen in (4, 3):
        layouts.undo(drawn, seen=seen, by=ada)
    assert move_of(drawn).pins == ["01"]


def test_a_pin_sent_twice_is_one_pin_and_can_be_taken_out(drawn, ada):
    for _ in range(2):
        layouts.pin(drawn, "01", seen=1, by=ada)
    assert drawn.design.moves.count() == 2
    layouts.unpin(drawn, "01", seen=2, by=ada)
    assert move_of(drawn).pins == []
    with pytest.raises(Stale):
        layouts.pin(drawn, "03", seen=1, by=ada)


def test_a_block_that_leaves_the_layout_takes_its_pin_along(drawn, ada):
    layouts.pin(drawn, "01", seen=1, by=ada)
    layouts.leave_out(drawn, "01", why="a stain", seen=2, by=ada)
    assert move_of(drawn).pins == []


def test_a_block_that_is_sewn_in_stays(drawn, ada):
    before = standing(drawn)
    sewn = ["01", "02", "03"]
    drawn.blocks.filter(cell__in=sewn).update(progress=Block.Progress.JOINED)
    arranging.rearrange(drawn, Asked(), seen=1, by=ada)
    after = standing(drawn)
    assert [after[id] for id in sewn] == [before[id] for id in sewn]
    assert after != before


def test_favorites_and_neighbors_are_heard_and_kept_with_the_move(drawn, ada):
    asked = Asked(favorites=("12F",), together=(("01F", "08F"),), apart=(("03F", "04F"),), tuck_top=14 * INCH)
    arranging.rearrange(drawn, asked, seen=1, by=ada)
    assert Asked.of(move_of(drawn).asked) == asked
    said = arranging.reasons_for(move_of(drawn), arranging.bag_of(drawn))
    assert "01F and 08F lie side by side, as you wished." in said
    assert "03F and 04F lie apart, as you wished." in said
    assert any(each.startswith("12F, the favorite, lies in the upper middle") for each in said)
    layouts.leave_out(drawn, "08", why="a stain", seen=2, by=ada)
    assert not any("08F" in each for each in arranging.reasons_for(move_of(drawn), arranging.bag_of(drawn)))


def test_wishes_against_each_other_name_the_two(drawn, ada):
    asked = Asked(together=(("01F", "12F"),), apart=(("12F", "01F"),))
    with pytest.raises(CannotMove, match="01F and 12F are wanted both side by side and apart"):
        arranging.rearrange(drawn, asked, seen=1, by=ada)
    assert drawn.design.moves.count() == 1


def test_a_piece_that_has_its_yes_keeps_the_size_the_yes_was_for(drawn, ada):
    piece = Piece.objects.get(shirt__number=1)
    Consent.objects.to_cut(drawn, [piece], said_by="the aunt", how="person", by=ada)
    quilt = grid_quilt(3, 4, Size(14 * INCH, 14 * INCH), pieces=[f"{n:02d}F" for n in range(1, 13)])
    fixed = arranging._fixed(arranging.bag_of(drawn), drawn, quilt)
    half = INCH // 2
    assert fixed.piece("01F").cut == Size(14 * INCH + half, 14 * INCH + half)
    assert fixed.piece("02F").cut is None


def test_a_large_quilt_is_rearranged_in_the_background(drawn, ada, few):
    before = standing(drawn)
    for _ in range(2):
        words = arranging.rearrange(drawn, Asked(mood="lively"), seen=1, by=ada)
    assert words == "It is being rearranged. You can go on with something else."
    assert Errand.objects.filter(kind="arrange").count() == 1
    assert arranging.in_the_background(drawn).is_open
    done = errands.run_due()
    assert [each.outcome[:14] for each in done if each.kind == "arrange"] == ["The best found"]
    assert standing(drawn) != before
    assert move_of(drawn).words == "Rearranged, lively"
    assert arranging.in_the_background(drawn) is None


def test_after_undo_it_can_be_rearranged_again(drawn, ada, few):
    for number in (2, 3):
        arranging.rearrange(drawn, Asked(), seen=1, by=ada)
        errands.run_due()
        assert drawn.design.moves.get(number=number).words == "Rearranged, calm"
        layouts.undo(drawn, seen=number, by=ada)
    assert Errand.objects.filter(kind="arrange", state="done").count() == 2


def test_who_draws_meanwhile_is_not_drawn_over(drawn, ada, few):
    arranging.rearrange(drawn, Asked(), seen=1, by=ada)
    layouts.turn(drawn, "03", seen=1, by=ada)
    errands.run_due()
    failed = arranging.in_the_background(drawn)
    assert failed.outcome == "The layout was changed meanwhile. Rearrange it again."
    assert drawn.design.moves.count() == 2


def test_the_search_keeps_its_best_so_far_and_stopping_draws_it(drawn, ada, few):
    arranging.rearrange(drawn, Asked(), seen=1, by=ada)
    waiting = arranging.in_the_background(drawn)
    taken = errands.claim_next(waiting.due_at)
    keep = arranging._keeper(taken)
    design, _ = layouts.drawn(drawn)
    better = arranging._search(drawn, design, Asked(), limit=Limit(effort=400))
    assert keep(better)
    waiting.refresh_from_db()
    assert waiting.progress.startswith("Best so far: No two blocks of like color")
    assert arranging.stop(drawn, by=ada) == "Stopped. The best so far hangs on the wall."
    assert standing(drawn) == {cell.id: cell.at for cell in better.layout.quilt.cells}
    assert Errand.objects.get(pk=waiting.pk).stop_asked


def test_stopping_before_it_began_changes_nothing(drawn, ada, few):
    arranging.rearrange(drawn, Asked(), seen=1, by=ada)
    assert arranging.stop(drawn, by=ada) == "Stopped before anything better was found."
    assert drawn.design.moves.count() == 1
    assert arranging.stop(drawn, by=ada) == "It had come to its end already."


def test_an_attempt_after_the_move_was_made_makes_no_second(drawn, ada, few):
    arranging.rearrange(drawn, Asked(), seen=1, by=ada)
    errands.run_due()
    again = Errand.objects.get(kind="arrange")
    assert arranging.search_in_the_background(again) == "Rearranged, calm"
    assert drawn.design.moves.count() == 2


def test_each_way_on_offer_has_its_colors_spread_before_it_is_chosen(order, shop, twelve_shirts):
    blue_above_gold()
    bag, as_it_lies = arranging.bag_of(order), planning.plan_order(order, shop).options
    ways = answer(order, shop).options
    assert len(ways) > 1
    for before, way in zip(as_it_lies, ways, strict=True):
        assert not any("No two blocks of like color" in each for each in why(before.layout, bag, keep={}))
        assert any("No two blocks of like color" in each for each in why(way.layout, bag, keep={}))
        assert (way.minutes, way.pricing, way.cuts) == (before.minutes, before.pricing, before.cuts)
        assert {cell.at for cell in way.layout.quilt.cells} == {cell.at for cell in before.layout.quilt.cells}


def test_what_hangs_on_the_wall_is_not_spread(drawn, shop):
    quilt = move_of_quilt(drawn)
    assert quilt is not None
    assert answer(drawn, shop, drawn=quilt).options[0].layout.quilt == quilt


def test_fronts_of_one_team_are_laid_apart_and_told_of(drawn, shop, ada):
    """1 and 2 lie side by side as the bag lies; a name written otherwise is the same team."""
    for number, team in ((1, "Pond Rovers"), (2, " pond  rovers")):
        Shirt.objects.filter(number=number).update(team=team)
    bag, teams = arranging.bag_of(drawn), arranging.teams_in(drawn)
    assert teams == (("01F", "02F"),)
    assert "Fronts of one team lie side by side: 01F beside 02F." in arranging.reasons_for(
        move_of(drawn), bag, teams
    )
    arranging.rearrange(drawn, Asked(), seen=1, by=ada)
    after = arranging.reasons_for(move_of(drawn), bag, teams)
    assert "No two fronts of one team lie side by side." in after
    assert list(said_of_teams(move_of_quilt(drawn), pieces_of(drawn))) == []


def move_of_quilt(order):
    return Order.objects.get(pk=order.pk).design.quilt


def pieces_of(order):
    return {piece_id(piece): piece for piece in layouts.pieces_of(order)}

"""A mixed layout looked for in the background: found once, kept while the question stands, stopped early."""

from __future__ import annotations

from dataclasses import replace

import pytest

from orders.background import errands
from orders.models import Errand, Order, Piece
from orders.quilt import layouts, mixing
from orders.quilt.answers import answer
from planner.layout import check_layout
from planner.problems import Limit
from planner.units import INCH

pytestmark = pytest.mark.django_db


@pytest.fixture
def mixed(order, shop, twelve_shirts):
    """Return the order with prints of three sizes, wished without sashing and exactly 48 by 60."""
    Piece.objects.filter(shirt__number__lte=4).update(print_width=9 * INCH, print_height=9 * INCH)
    Piece.objects.filter(shirt__number__gte=10).update(print_width=12 * INCH, print_height=16 * INCH)
    order.wish = {"tolerance": 0, "sashings": [None]}
    order.width, order.height = 48 * INCH, 57 * INCH
    order.save()
    return order


@pytest.fixture
def short(monkeypatch):
    """Let the search end by its own count, so that the machine plays no part."""
    monkeypatch.setattr(mixing, "limit_of", lambda watch: Limit(effort=60, watch=watch))


def searched(order, shop):
    mixing.look(order, unit=shop.unit)
    (done,) = [each for each in errands.run_due() if each.kind == mixing.KIND]
    return done


def test_what_is_found_is_a_way_on_offer(mixed, shop, short):
    assert mixing.found_for(mixed) == ()
    done = searched(mixed, shop)
    assert done.state == Errand.State.DONE
    (layout,) = mixing.found_for(mixed)
    assert done.outcome == layout.verdict
    assert check_layout(layout, mixing.bag_of(mixed)) == ()
    offer = answer(mixed, shop).options[0]
    assert replace(offer.layout, quilt=layout.quilt) == layout
    assert {cell.at for cell in offer.layout.quilt.cells} == {cell.at for cell in layout.quilt.cells}
    sizes = [{cell.piece: cell.at.size for cell in each.quilt.cells} for each in (offer.layout, layout)]
    assert sizes[0] == sizes[1]
    assert offer.pricing.net.minor > 0


def test_no_page_waits_for_a_search(mixed, shop, monkeypatch):
    monkeypatch.setattr("planner.layout.mixing.mixed.Search.best_on", lambda *args: pytest.fail("searched"))
    mixing.look(mixed, unit=shop.unit)
    answer(mixed, shop)


def test_looked_for_twice_it_is_looked_for_once(mixed, shop, short):
    assert mixing.look(mixed, unit=shop.unit) == mixing.look(mixed, unit=shop.unit)
    assert Errand.objects.filter(kind=mixing.KIND).count() == 1
    errands.run_due()
    assert mixing.look(mixed, unit=shop.unit).state == Errand.State.DONE
    assert Errand.objects.filter(kind=mixing.KIND).count() == 1


def test_once_a_piece_is_cut_the_verdict_stays_with_the_search_it_was_for(mixed, shop, short, ada):
    done = searched(mixed, shop)
    (layout,) = mixing.found_for(mixed)
    layouts.choose(mixed, layout.quilt, "Mixed sizes", minutes=(), seen=0, by=ada)
    assert mixing.found_before(mixed, layout.quilt) is None
    cell = next(cell for cell in layout.quilt.cells if cell.piece)
    number = int(cell.piece[:2])
    size = {"cut_width": cell.at.width + INCH // 2, "cut_height": cell.at.height + INCH // 2}
    Piece.objects.filter(shirt__number=number).update(**size)
    before = mixing.found_before(mixed, layout.quilt)
    assert (mixing.search_of(mixed), before.outcome) == (None, done.outcome)
    other = replace(layout.quilt, cells=layout.quilt.cells[1:])
    assert mixing.found_before(mixed, other) is None


def test_another_size_is_another_question(mixed, shop, short):
    searched(mixed, shop)
    mixed.height = 60 * INCH
    mixed.save()
    assert mixing.search_of(mixed) is None
    assert mixing.found_for(mixed) == ()
    searched(mixed, shop)
    assert Errand.objects.filter(kind=mixing.KIND).count() == 2


def test_color_and_cloth_change_no_layout_and_it_is_shown_in_the_cloth_of_now(mixed, shop, shelf, short):
    searched(mixed, shop)
    Piece.objects.filter(shirt__number=1).update(ground="#111111")
    mixed.cloth = {"binding": "Forest"}
    mixed.save()
    (layout,) = mixing.found_for(mixed)
    assert layout.quilt.cloth == {"binding": "Forest"}


def test_it_is_chosen_like_any_other_way(mixed, shop, short, ada):
    searched(mixed, shop)
    offer = answer(mixed, shop).options[0]
    layouts.choose(mixed, offer.layout.quilt, "mixed", minutes=offer.minutes, seen=0, by=ada)
    quilt = Order.objects.get(pk=mixed.pk).design.quilt
    assert {cell.piece for cell in quilt.cells} == {cell.piece for cell in offer.layout.quilt.cells}


def test_where_there_is_none_the_outcome_says_why(mixed, shop, short):
    mixed.width = mixed.height = 30 * INCH
    mixed.save()
    done = searched(mixed, shop)
    assert done.outcome.startswith("These 12 pieces do not fill 30 × 30 in")
    assert mixing.found_for(mixed) == ()


def test_when_the_shirts_changed_before_it_began_it_says_so(mixed, shop, short):
    mixing.look(mixed, unit=shop.unit)
    Piece.objects.filter(shirt__number=3).update(wanted="out")
    (failed,) = [each for each in errands.run_due() if each.kind == mixing.KIND]
    assert (failed.state, failed.outcome) == (
        "failed",
        "The shirts or the size changed meanwhile. Look again.",
    )


def test_stopped_it_keeps_the_best_so_far(mixed, shop, monkeypatch):
    def stopped_at_the_first(watch):
        def hear(best):
            watch(best)
            mixing.stop(mixed)
            return False

        return Limit(effort=60, watch=hear)

    monkeypatch.setattr(mixing, "limit_of", stopped_at_the_first)
    mixing.look(mixed, unit=shop.unit)
    errands.run_due()
    assert len(mixing.found_for(mixed)) == 1
    assert mixing.stop(mixed) == "The search had come to its end already."


def test_stopped_before_it_began_it_has_found_nothing_and_can_be_asked_again(mixed, shop, short):
    mixing.look(mixed, unit=shop.unit)
    assert mixing.stop(mixed) == "Stopped before a mixed layout was found."
    assert mixing.found_for(mixed) == ()
    assert mixing.look(mixed, unit=shop.unit).is_open
    assert searched(mixed, shop).state == Errand.State.DONE

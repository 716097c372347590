"""Cloth cut as on its sheet: off the shelf once, leftovers back with their size, none below nothing."""

import pytest

from orders.cloth import cloth_cutting, cut_sheets
from orders.cloth.cutting import cutting_list
from orders.cloth.cutting_picture import sheet_of
from orders.models import Cloth, Event, Reservation
from orders.planning import shelf as shelf_of
from orders.quilt.answers import answer
from planner.materials import Cloth as Bolt
from planner.materials import CutPiece, plan_cuts
from planner.problems import Limit
from planner.units import INCH, YARD, Rate, Size
from tests.orders.workbench import draw

pytestmark = pytest.mark.django_db


@pytest.fixture
def laid(order, twelve_shirts, shop, shelf, ada):
    order.cloth = {"sashing": "Forest", "binding": "Forest", "cornerstone": "Gold"}
    order.save()
    return draw(order, shop, ada)


def sheet(order, shop, name="Forest"):
    every = cutting_list(order.design.quilt, shop, list(shelf_of(order)), order=order)
    return next(each for each in every if each.cloth == name)


def lies(name="Forest"):
    cloth = Cloth.objects.with_pieces().get(name=name)
    return sorted((piece.width, piece.length) for piece in cloth.here)


def test_what_was_cut_is_off_the_shelf_and_what_is_left_is_back_with_its_size(laid, shop, ada):
    cuts = sheet(laid, shop)
    cloth_cutting.cut_as_on_sheet(laid, cuts, by=ada, client_id="one")
    assert (40 * INCH, 3 * YARD - cuts.plan.used) in lies()
    assert (40 * INCH, 3 * YARD) not in lies()
    assert sum(wide * long for wide, long in lies()) < 40 * INCH * 3 * YARD


def test_the_same_tap_twice_takes_it_off_once(laid, shop, ada):
    cuts = sheet(laid, shop)
    deeds = {cloth_cutting.cut_as_on_sheet(laid, cuts, by=ada, client_id="one").pk for _ in range(2)}
    assert len(deeds) == Event.objects.filter(what="cloth cut").count() == 1


def test_a_cut_recorded_twice_by_two_people_is_refused_the_second_time(laid, shop, ada, bo):
    cuts = sheet(laid, shop)
    cloth_cutting.cut_as_on_sheet(laid, cuts, by=ada, client_id="one")
    before = lies()
    with pytest.raises(cloth_cutting.CannotBeCut, match="is cut for this quilt already"):
        cloth_cutting.cut_as_on_sheet(laid, cuts, by=bo, client_id="two")
    assert lies() == before


@pytest.mark.parametrize("left", [-1, 3 * YARD + 1])
def test_what_is_left_is_neither_less_than_nothing_nor_more_than_there_was(laid, shop, ada, left):
    with pytest.raises(cloth_cutting.CannotBeCut, match="less than nothing"):
        cloth_cutting.cut_as_on_sheet(laid, sheet(laid, shop), by=ada, client_id="one", left=left)
    assert lies() == [(40 * INCH, 3 * YARD)]


def test_a_measured_rest_takes_the_place_of_the_reckoned_one(laid, shop, ada):
    cloth_cutting.cut_as_on_sheet(laid, sheet(laid, shop), by=ada, client_id="one", left=20 * INCH)
    assert (40 * INCH, 20 * INCH) in lies()


def test_what_was_spoken_for_is_cut_and_no_longer_kept(laid, shop, ada):
    forest = Cloth.objects.get(name="Forest")
    mine = Reservation.objects.create(cloth=forest, order=laid, role="sashing", length=YARD)
    cloth_cutting.cut_as_on_sheet(laid, sheet(laid, shop), by=ada, client_id="one")
    mine.refresh_from_db()
    assert mine.cut_at is not None


def test_what_another_quilt_keeps_stays_on_the_shelf(laid, shop, aunt, ada):
    from orders.models import Order

    other = Order.objects.open(title="Another", customer=aunt, by=ada)
    forest = Cloth.objects.get(name="Forest")
    Reservation.objects.create(cloth=forest, order=other, role="sashing", length=YARD // 2)
    cuts = sheet(laid, shop)
    cloth_cutting.cut_as_on_sheet(laid, cuts, by=ada, client_id="one")
    assert (40 * INCH, 3 * YARD - cuts.plan.used) in lies()


def test_cloth_that_is_still_to_be_bought_cannot_be_cut(laid, shop, ada):
    Cloth.objects.get(name="Forest").pieces.update(length=YARD // 4)
    with pytest.raises(cloth_cutting.CannotBeCut, match="still to be bought"):
        cloth_cutting.cut_as_on_sheet(laid, sheet(laid, shop), by=ada, client_id="one")


def bolt(**change):
    facts = {
        "id": "Blue",
        "kind": "cotton",
        "usable": 40 * INCH,
        "step": YARD // 8,
        "price": Rate(1200, "USD", "yd"),
    }
    return Bolt(**{**facts, "on_hand": (Size(40 * INCH, YARD),), **change})


def test_the_picture_shows_every_piece_to_scale_and_each_strip_by_number():
    cloth = bolt()
    plan = plan_cuts(cloth, [CutPiece("strip", 14 * INCH, 2 * INCH, 5)], limit=Limit(effort=4))
    found = sheet_of(cloth, plan, unit="in")
    assert [(each.letter, each.count, each.across) for each in found.marks] == [("A", 5, 14 * INCH)]
    assert found.strips == len(plan.strips) == 3
    assert found.picture.count('width="112" height="16"') == 5  # an eighth of an inch is one unit
    assert "1–2" in found.picture
    assert found.leftovers == tuple((size.width, size.height) for size in plan.leftovers)


def test_every_strip_of_the_picture_lies_within_its_cloth():
    import re

    cloth = bolt(on_hand=())
    items = [CutPiece("a", 9 * INCH, 4 * INCH, 11), CutPiece("b", 13 * INCH, 3 * INCH, 7)]
    plan = plan_cuts(cloth, items, limit=Limit(effort=4))
    picture = str(sheet_of(cloth, plan, unit="in").picture)
    rects = re.findall(r'<rect x="(\d+)" y="(\d+)" width="(\d+)" height="(\d+)" fill="#fff"', picture)
    assert len(rects) == 18
    assert all(int(x) >= 88 and int(x) + int(wide) <= 88 + 320 for x, _, wide, _ in rects)


def test_page_paper_and_plan_name_the_same_strips_and_reckon_them_once(laid, shop, monkeypatch):
    quilt = laid.design.quilt
    planned = answer(laid, shop, drawn=quilt).options[0].cuts
    page = cutting_list(quilt, shop, list(shelf_of(laid)), order=laid)
    assert {each.cloth for each in page} == {"Forest", "Gold"}
    assert laid.cut_sheets.count() == 2

    def never(*args, **named):
        raise AssertionError("reckoned twice")

    monkeypatch.setattr(cut_sheets, "plan_cuts", never)
    again = cutting_list(quilt, shop, list(shelf_of(laid)), order=laid)
    assert again == page
    for cuts in page:
        assert all(planned[role] == cuts.plan for role in cuts.keys)


def test_another_piece_on_the_shelf_is_another_sheet_and_a_spoiled_one_is_not_shown(laid, shop):
    quilt = laid.design.quilt
    page = cutting_list(quilt, shop, list(shelf_of(laid)), order=laid)
    Cloth.objects.get(name="Gold").pieces.update(length=9 * INCH)
    cutting_list(quilt, shop, list(shelf_of(laid)), order=laid)
    assert laid.cut_sheets.filter(cloth="Gold").count() == 2
    spoiled = laid.cut_sheets.get(cloth="Forest")
    spoiled.strips = spoiled.strips[1:]
    spoiled.save()
    after = cutting_list(quilt, shop, list(shelf_of(laid)), order=laid)
    forest = next(each for each in page if each.cloth == "Forest")
    assert next(each for each in after if each.cloth == "Forest").plan == forest.plan

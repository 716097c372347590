"""The answer on the phone: the band from the shop's own price list, and the earliest honest day."""

from __future__ import annotations

from datetime import timedelta

import pytest

from orders.customer import enquiries
from orders.models import Enquiry, Event, Order
from orders.planning import lay_out_work
from orders.quilt.bed_sizes import bed_sizes, usual_grid
from planner.estimate import StageMinutes
from planner.units import INCH, Money, Size

pytestmark = pytest.mark.django_db


def ask(ada, **asked):
    facts = {"name": "A grandmother, Sorrel Bank", "reach": "555 0142", "shirts": 20}
    return Enquiry.objects.write_down(by=ada, **(facts | asked))


@pytest.mark.parametrize(
    ("shirts", "columns", "rows", "width", "height"),
    [(12, 3, 4, 50, 66), (20, 4, 5, 66, 82), (30, 5, 6, 82, 98)],
)
def test_shirts_without_a_size_make_the_grids_of_the_size_table(shirts, columns, rows, width, height):
    grid = usual_grid(shirts, None)  # trade handbook 3.9: 3×4, 4×5 and 5×6 of 14 in with 2 in all round
    assert (grid.columns, grid.rows) == (columns, rows)
    assert grid.size == Size(width * INCH, height * INCH)


@pytest.mark.parametrize("unit", ["in", "cm"])
def test_every_size_of_the_table_is_met_within_eight_inches_by_some_grid(unit):
    for word, (_, size) in bed_sizes(unit).items():
        grid = usual_grid(20, size)
        assert abs(grid.size.width - size.width) <= 8 * INCH, word
        assert abs(grid.size.height - size.height) <= 8 * INCH, word


def test_any_number_of_shirts_has_a_grid_that_holds_them_and_is_shaped_like_a_quilt():
    for shirts in range(1, 201):
        grid = usual_grid(shirts, None)
        assert 0 <= grid.cells - shirts < grid.columns, shirts
        assert shirts < 6 or grid.columns <= grid.rows <= 2 * grid.columns, shirts


def test_the_band_runs_from_the_plain_quilt_to_one_with_every_extra(shop, ada):
    answer = enquiries.reckon(ask(ada), shop)
    # 20 blocks at 36 = 720; with sashing 20 × 3, a border 45 and four zips at 8: 857, rounded up to 860
    assert (answer["low"], answer["high"]) == (72000, 86000)


def test_the_band_is_rounded_outward_in_any_currency():
    assert enquiries.band(Money(71999, "USD"), Money(85701, "USD")) == (71000, 86000)
    assert enquiries.band(Money(64801, "JPY"), Money(71001, "JPY")) == (64000, 72000)
    assert enquiries.band(Money(1_234_567, "KWD"), Money(1_300_001, "KWD")) == (1_200_000, 1_400_000)


def test_the_day_is_never_before_the_shirts_are_here_and_the_work_is_done(shop, ada):
    answer = enquiries.reckon(ask(ada, needed_by=shop.today() + timedelta(days=120)), shop)
    assert answer["here_by"] == shop.today() + timedelta(days=7)
    assert answer["here_by"] < answer["not_before"] <= answer["fits_by"]
    hours_a_week = 25
    work_weeks = answer["minutes"] / 60 / hours_a_week
    assert answer["fits_by"] >= answer["here_by"] + timedelta(days=int(work_weeks * 7) - 3)


def test_work_already_in_the_room_moves_the_day(order, shop, ada):
    free = enquiries.reckon(ask(ada), shop)
    lay_out_work(order, [StageMinutes("quilt", 300 * 60, 0.3, 0)], by=ada)
    busy = enquiries.reckon(ask(ada), shop)
    assert busy["fits_by"] > free["fits_by"]
    assert (busy["low"], busy["high"]) == (free["low"], free["high"])


def test_a_penciled_place_counts_for_others_but_not_against_itself(shop, ada):
    first, second = ask(ada), ask(ada)
    enquiries.answer_now(first, shop, by=ada)
    alone = enquiries.reckon(second, shop)["fits_by"]
    first.pencil_in(days=7, on=shop.today(), by=ada)
    assert enquiries.reckon(first, shop)["fits_by"] == first.fits_by
    assert enquiries.reckon(second, shop)["fits_by"] >= alone


def test_nobody_at_work_means_no_day_and_says_so(shop, ada):
    ada.week.minutes = [0] * 7
    ada.week.save()
    answer = enquiries.reckon(ask(ada), shop)
    assert answer["fits_by"] is None
    assert answer["reasons"]


def test_a_repair_has_no_figures_because_nothing_was_seen(shop, ada):
    answer = enquiries.reckon(ask(ada, kind="repair", shirts=None), shop)
    assert (answer["low"], answer["high"], answer["fits_by"], answer["minutes"]) == (None, None, None, 0)


def test_more_shirts_than_the_size_holds_is_said(shop, ada):
    few = enquiries.reckon(ask(ada, shirts=20, width=50 * INCH, height=66 * INCH), shop)
    assert "left out or share a block" in few["reasons"][0]
    many = enquiries.reckon(ask(ada, shirts=12, width=114 * INCH, height=98 * INCH), shop)
    assert "plain ones" in many["reasons"][0]


def test_the_verdict_compares_with_the_day_wanted(shop, ada):
    today = shop.today()

    def verdict(fits, first, wanted):
        said = Enquiry(
            fits_by=today + timedelta(fits) if fits else None,
            not_before=today + timedelta(first) if first else None,
            needed_by=today + timedelta(wanted) if wanted else None,
        )
        return enquiries.verdict(said, shop)

    assert verdict(30, 30, 52) == ("fits", 22)
    assert verdict(30, 30, 31) == ("tight", 1)
    assert verdict(30, 20, 25) == ("maybe", 5)
    assert verdict(30, 28, 25) == ("cannot", 3)
    assert verdict(30, 28, None) == ("open", 0)
    assert verdict(None, None, 25) == ("unknown", 0)


def test_an_enquiry_turned_into_an_order_twice_is_one_order(shop, ada):
    asked = ask(ada, memorial=True, occasion="A birthday", width=50 * INCH, height=66 * INCH)
    first = asked.turn_into_order(title="The grandmother’s quilt", place="Sorrel Bank", by=ada)
    again = Enquiry.objects.get(pk=asked.pk).turn_into_order(title="Another", by=ada)
    assert first == again
    assert Order.objects.count() == 1
    assert (first.memorial, first.occasion, first.width) == (True, "A birthday", 50 * INCH)


def test_somebody_who_comes_again_stays_one_customer(shop, ada):
    one = ask(ada).turn_into_order(title="First", by=ada)
    two = ask(ada).turn_into_order(title="Second", by=ada)
    assert one.customer == two.customer


def test_an_enquiry_sent_twice_is_written_down_once(shop, ada):
    assert ask(ada, client_id="a1") == ask(ada, client_id="a1")
    assert Event.objects.filter(what="enquiry").count() == 1

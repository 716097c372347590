"""A price reckoned from the records and frozen when it is told; a day only said when it was found."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.db import DatabaseError, IntegrityError, connection, transaction

from orders import guards
from orders.account import agreeing, quote_words, quoting
from orders.models import CannotAccept, Event, ExtraLine, Quote, Stage
from planner.quilt import Cell, Quilt
from planner.units import INCH, Rect, Size

pytestmark = pytest.mark.django_db


def cents(*amounts: int) -> list[str]:
    return [f"{each // 100}.{each % 100:02d}" for each in amounts]


def test_s1_before_the_fleece_comes_to_the_cent(drawn, shop, ada):
    """Handbook, S1: 12 blocks at 36 and 12 sashed at 3, 7 % tax, half first."""
    quote = quoting.issue(drawn, shop, by=ada)
    assert [(line["words"], line["count"], line["amount"]) for line in quote.lines] == [
        ("Blocks, all in", 12, 43200),
        ("Sashing", 12, 3600),
    ]
    assert cents(quote.net, quote.tax, quote.total, quote.deposit) == ["468.00", "32.76", "500.76", "250.38"]


def test_s1_with_a_fleece_comes_to_the_cent(drawn, twelve_shirts, shop, ada):
    """Handbook, S1: 474.00, tax 33.18, total 507.18, deposit 253.59."""
    shirt = twelve_shirts[9]
    shirt.flags = ["fleece"]
    shirt.save()
    quote = quoting.issue(drawn, shop, by=ada)
    assert cents(quote.net, quote.tax, quote.total, quote.deposit) == ["474.00", "33.18", "507.18", "253.59"]


def test_a_quote_keeps_the_minutes_the_cloth_and_the_layout_it_was_reckoned_from(drawn, quote):
    """Handbook, section 2: the stages of twelve sashed blocks in-house are 876 minutes."""
    assert sum(minutes for _, minutes in quote.minutes) == 876
    assert quote.paid_out > 0
    assert quote.layout == quoting.layout_mark(quoting.quilt_of(drawn))
    assert quote.size == "50 across, 66 down, before the first wash, in inches"


def test_a_half_inch_of_the_size_is_one_letter(shop):
    side = (41 * INCH // 2, 20 * INCH)
    half = Quilt(Size(*side), (Cell("01", Rect(0, 0, *side)),))
    words = quote_words.size_in_words(half, shop)
    assert words == "20½ across, 20 down, before the first wash, in inches"


def test_the_day_is_hers_less_the_cushion_when_that_fits(drawn, shop):
    now = quoting.prospect(drawn, shop)
    assert now.planned_for == drawn.needed_by - timedelta(days=shop.cushion_days)
    assert now.not_before <= now.fits_by < now.planned_for
    assert now.room == (now.planned_for - now.fits_by).days


def test_a_day_too_near_is_not_promised_the_first_that_fits_is(drawn, shop):
    drawn.needed_by = shop.today() + timedelta(days=3)
    drawn.save()
    now = quoting.prospect(drawn, shop)
    assert now.room < 0
    assert now.planned_for == now.fits_by
    assert any("It fits by" in problem.what for problem in now.problems)


def test_an_answer_by_the_day_named_really_keeps_the_date_and_the_next_days_do_not(drawn, shop):
    drawn.needed_by = shop.today() + timedelta(days=16)
    drawn.save()
    now = quoting.prospect(drawn, shop)
    assert shop.today() < now.answer_by <= now.planned_for
    later = now.answer_by + timedelta(days=7)

    class Later(type(shop)):
        class Meta:
            proxy = True
            app_label = "orders"

        def today(self):
            return self.day

    then = Later.objects.get()
    then.day = now.answer_by
    assert quoting.prospect(drawn, then).fits_by <= now.planned_for
    then.day = later
    assert quoting.prospect(drawn, then).fits_by > now.planned_for


def test_no_day_to_answer_by_is_named_beyond_the_day_the_quote_stands(drawn, shop):
    now = quoting.prospect(drawn, shop)
    assert now.answer_by == shop.today() + timedelta(days=shop.quote_valid_days)


def test_the_terms_are_the_makers_own_words_or_a_marked_gap(drawn, shop, ada):
    assert quoting.issue(drawn, shop, by=ada).terms.startswith("[the maker’s own words")
    shop.terms_text = "Half is kept once the cloth is bought."
    shop.save(update_fields=["terms_text"])
    assert quoting.issue(drawn, shop, by=ada).terms == "Half is kept once the cloth is bought."


def test_no_price_is_told_before_a_layout_is_drawn(order, twelve_shirts, shelf, shop, ada):
    with pytest.raises(quoting.CannotQuote, match="No layout is drawn yet"):
        quoting.issue(order, shop, by=ada)
    assert not Quote.objects.exists()


def test_no_price_is_told_while_a_print_has_no_size_and_the_shirt_is_named(drawn, twelve_shirts, shop):
    piece = twelve_shirts[4].pieces.get()
    piece.print_width = 0
    piece.save()
    with pytest.raises(quoting.CannotQuote, match="05F has no size yet"):
        quoting.prospect(drawn, shop)


def test_a_plain_side_needs_no_print_size(drawn, twelve_shirts, shop):
    piece = twelve_shirts[4].pieces.get()
    piece.print_kind, piece.print_width, piece.print_height = "none", 0, 0
    piece.free_right, piece.free_bottom = piece.free_right * 4, piece.free_bottom * 3
    piece.save()
    assert quoting.prospect(drawn, shop).pricing.total.minor == 50076


def test_a_layout_with_a_shirt_that_went_back_is_refused_in_words(drawn, twelve_shirts, shop, ada):
    twelve_shirts[0].give_back(by=ada)
    with pytest.raises(quoting.CannotQuote, match="do not agree"):
        quoting.prospect(drawn, shop)


def test_a_discount_is_written_as_a_discount(drawn, shop, ada):
    quoting.add_line(drawn, words="For a neighbor", kind="credit", minor=2000, by=ada)
    quote = quoting.issue(drawn, shop, by=ada)
    assert quote.lines[-1] == {"words": "For a neighbor", "count": 1, "amount": -2000}
    assert cents(quote.net, quote.total) == ["448.00", "479.36"]


def test_a_line_sent_twice_stands_once_and_can_be_left_out(drawn, shop, ada):
    for _ in range(2):
        line = quoting.add_line(drawn, words="Hand-sewn label", kind="labour", minor=1500, by=ada)
    assert quoting.prospect(drawn, shop).pricing.net.minor == 48300
    quoting.take_out_line(drawn, line.pk, by=ada)
    quoting.take_out_line(drawn, line.pk, by=ada)
    assert quoting.prospect(drawn, shop).pricing.net.minor == 46800


def test_a_discount_above_the_price_is_refused_in_words(drawn, shop, ada):
    quoting.add_line(drawn, words="All of it", kind="credit", minor=90000, by=ada)
    with pytest.raises(quoting.CannotQuote, match="more than the price"):
        quoting.prospect(drawn, shop)


def test_a_discount_that_would_raise_the_price_cannot_be_kept(drawn, ada):
    with pytest.raises(IntegrityError), transaction.atomic():
        ExtraLine.objects.create(order=drawn, words="Wrong way", kind="credit", minor=5, added_by=ada)


def test_the_same_quote_issued_twice_is_one_and_a_changed_one_replaces_it(drawn, shop, ada):
    first = quoting.issue(drawn, shop, by=ada)
    assert quoting.issue(drawn, shop, by=ada) == first
    quoting.add_line(drawn, words="Label", kind="labour", minor=1500, by=ada)
    second = quoting.issue(drawn, shop, by=ada)
    first.refresh_from_db()
    assert (second.number, first.standing(on=shop.today())) == (2, "replaced")


def test_the_yes_lays_out_the_work_plans_the_day_and_says_so(agreed, quote):
    assert agreed.accepted_at is not None
    assert agreed.promised_for == quote.planned_for
    assert sum(stage.minutes for stage in agreed.stages.all()) == 876
    assert agreed.blocks.count() == 12
    assert Event.objects.filter(order=agreed, what="quote accepted").count() == 1


def test_a_yes_said_twice_charges_once_and_leaves_the_work_alone(agreed, quote, ada):
    stage = agreed.stages.first()
    stage.start(by=ada)
    agreeing.accept(quote, said_by="An aunt of Ferncliff", how="page", by=None)
    stage.refresh_from_db()
    assert stage.started_at is not None
    assert agreed.entries.count() == 1


def test_only_somebody_on_the_order_says_yes_to_the_price(quote, ada):
    with pytest.raises(agreeing.NotTheirs, match="An aunt of Ferncliff"):
        agreeing.accept(quote, said_by="A passer-by", how="person", by=ada)
    agreeing.accept(quote, said_by="  an AUNT of ferncliff ", how="person", by=ada)
    quote.refresh_from_db()
    assert quote.accepted_by == "An aunt of Ferncliff"


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"valid_until": "2020-01-01"}, "past its day"),
        ({"withdrawn_at": "2026-01-01T00:00Z"}, "taken back"),
    ],
)
def test_a_quote_that_is_over_is_not_accepted_and_nothing_is_written(quote, ada, change, words):
    guards.remove(connection)
    Quote.objects.update(**change)
    with pytest.raises(CannotAccept, match=words):
        agreeing.accept(quote, said_by="An aunt of Ferncliff", how="phone", by=ada)
    assert not quote.order.entries.exists()
    assert not Stage.objects.exists()


def test_a_replaced_quote_is_not_accepted(quote, drawn, shop, ada):
    quoting.add_line(drawn, words="Label", kind="labour", minor=1500, by=ada)
    quoting.issue(drawn, shop, by=ada)
    with pytest.raises(CannotAccept, match="newer quote"):
        agreeing.accept(quote, said_by="An aunt of Ferncliff", how="phone", by=ada)


def test_an_order_that_was_called_off_takes_no_yes(quote, drawn, ada):
    drawn.cancel(by=ada)
    with pytest.raises(CannotAccept, match="called off"):
        agreeing.accept(quote, said_by="An aunt of Ferncliff", how="phone", by=ada)


def test_a_repair_has_no_layout_and_costs_what_is_written(order, shop, ada):
    order.kind = "repair"
    order.save()
    with pytest.raises(quoting.CannotQuote, match="Add a line"):
        quoting.issue(order, shop, by=ada)
    quoting.add_line(order, words="A torn corner", kind="labour", minor=4500, by=ada)
    quote = quoting.issue(order, shop, by=ada)
    assert (quote.total, quote.planned_for, quote.size, quote.minutes) == (4500, None, "", [])
    agreeing.accept(quote, said_by="An aunt of Ferncliff", how="phone", by=ada)
    assert order.entries.charges().count() == 1


@pytest.mark.parametrize(
    "change", [{"lines": []}, {"net": 1, "total": 3277}, {"terms": "Others"}, {"deposit": 0}]
)
def test_what_a_quote_told_cannot_be_changed(quote, change):
    with pytest.raises(DatabaseError, match="stays as it was told"), transaction.atomic():
        Quote.objects.update(**change)

"""Two quilts out of one bag as one quote: trade handbook, scenario S3, through the ledger to the cent."""

from __future__ import annotations

import pytest

from orders.account import agreeing, money, quoting, told_together
from orders.account.sealing import verify_ledger
from orders.bag import intake
from orders.models import CannotAccept, Order, Posting, Shirt
from tests.orders.test_two_quilts_one_bag import Story

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.fixture
def story(shop, taxed, ada, bo):
    return Story(taxed, ada, bo)


def twenty_blocks_each(story: Story) -> list[Order]:
    """Draw both at 4 × 5, as the handbook prices them: second fronts fill the son's last row."""
    story.lays_out(0, [*story.names("back")[:14], *story.names("front")])
    for number in (1, 2, 8, 9, 10):
        intake.add_panel(Shirt.objects.get(number=number), "right-front", by=story.ada)
    seconds = [f"{number:02d}RF" for number in (1, 2, 8, 9, 10)]
    story.lays_out(1, [*story.names("left-front"), "25B", *seconds])
    return [Order.objects.get(pk=each.pk) for each in story.quilts]


def test_both_quilts_are_told_as_one_quote_to_the_cent_and_one_yes_counts_for_both(story):
    """S3: 818.55 and 818.55, together 1,637.10; half of it first is 818.55, half for each child."""
    first, second = twenty_blocks_each(story)
    assert told_together.can_be_told_with(first) == [second]
    quote = quoting.issue(first, story.shop, by=story.ada, also=[second])
    assert quoting.issue(first, story.shop, by=story.ada, also=[second]) == quote
    beside = second.quotes.get()
    assert [each.pk for each in beside.all_told()] == [quote.pk, beside.pk]
    assert (quote.total, beside.total, quote.total_of_all) == (81_855, 81_855, 163_710)
    assert (quote.deposit, beside.deposit, beside.deposit_of_all) == (40_928, 40_927, 81_855)
    assert None not in (quote.planned_for, beside.planned_for)
    agreeing.accept(beside, said_by="His daughter", how="phone", by=story.ada)
    agreeing.accept(quote, said_by="His son", how="phone", by=story.ada)
    owing = [money.owing_of(each) for each in (first, second)]
    assert [(each.charged, each.deposit_left) for each in owing] == [(81_855, 40_928), (81_855, 40_927)]
    shares = [money.shares_of(each, owes) for each, owes in zip((first, second), owing, strict=True)]
    assert [[each.share for each in row] for row in shares] == [[40_928, 40_927], [40_927, 40_928]]
    for order, row in zip((first, second), shares, strict=True):
        for each in row:
            money.take_payment(
                order, minor=each.left, payer=each.payer, method="check", by=story.ada,
                key=f"s3 {order.pk} {each.payer.pk}",
            )  # fmt: skip
    assert all(money.owing_of(each).is_settled for each in (first, second))
    paid = Posting.objects.by_payer(money.PAID_INTO)
    assert [paid[child.pk] for child in story.children] == [81_855, 81_855]
    assert verify_ledger() == ()


def test_a_quote_told_anew_for_one_quilt_takes_back_the_other(story):
    first, second = twenty_blocks_each(story)
    quoting.issue(first, story.shop, by=story.ada, also=[second])
    quoting.issue(first, story.shop, by=story.ada)
    beside = second.quotes.get()
    assert beside.standing(on=story.shop.today()) == "withdrawn"
    with pytest.raises(CannotAccept, match="newer quote has taken the place"):
        agreeing.accept(beside, said_by="His son", how="phone", by=story.ada)
    assert not money.owing_of(first).charged


def test_a_quilt_that_others_pay_for_is_not_told_together(story):
    first, second = story.quilts
    second.payers.filter(customer=story.children[0]).delete()
    assert told_together.can_be_told_with(first) == []

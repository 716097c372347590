"""One sum for all that was told together: divided to the cent, written once, undone as one."""

from __future__ import annotations

import io

import pytest
from hypothesis import given
from hypothesis import strategies as some
from pypdf import PdfReader

from orders import papers
from orders.account import agreeing, giving_back, money, paid_together, quoting
from orders.account.money import CannotPay, Owing
from orders.account.sealing import verify_ledger
from orders.background import errands
from orders.models import Entry, EntryConflict, ExtraLine, Order, Paper

pytestmark = pytest.mark.django_db


@pytest.fixture
def both(drawn, aunt, shop, ada):
    return two_agreed_together(drawn, aunt, shop, ada)


def two_agreed_together(drawn, aunt, shop, ada):
    """Return two orders told together and agreed: 500.76 and 107.00, half of it first."""
    mended = Order.objects.open(title="Her old quilt mended", customer=aunt, by=ada, kind="repair")
    ExtraLine.objects.create(order=mended, words="Mending", kind="labour", minor=10000, added_by=ada)
    quote = quoting.issue(drawn, shop, by=ada, also=[mended])
    agreeing.accept(quote, said_by=aunt.name, how="phone", by=ada)
    return Order.objects.get(pk=drawn.pk), mended


def take(order, minor, *, key="one", method="check"):
    return paid_together.take(order, minor=minor, payer=order.customer, method=method, key=key, by=None)


def test_the_deposit_of_all_pays_each_deposit_and_the_rest_each_rest(both):
    """303.88 is 250.38 and 53.50 first; the other 303.88 settles both."""
    first = take(both[0], 30388)
    assert [(each.order, each.minor, each.receipt_number) for each in first] == [
        (both[0], 25038, 1), (both[1], 5350, 2),
    ]  # fmt: skip
    assert [money.owing_of(each).deposit_left for each in both] == [0, 0]
    take(both[1], 30388, key="two")
    assert all(money.owing_of(each).is_settled for each in both)
    assert verify_ledger() == ()


def test_the_same_form_again_is_the_same_payment_and_other_figures_are_refused(both):
    first = take(both[0], 30388)
    assert take(both[1], 30388) == first
    for change in ({"minor": 30387}, {"method": "cash"}):
        with pytest.raises(EntryConflict, match="already sent with other figures"):
            take(both[0], change.pop("minor", 30388), **change)
    assert Entry.objects.of_payments().count() == 2


def test_what_one_has_paid_alone_is_not_asked_again(both):
    money.take_payment(both[1], minor=10700, payer=both[1].customer, method="cash", key="k", by=None)
    (only,) = take(both[0], 50076)
    assert (only.order, only.minor) == (both[0], 50076)
    with pytest.raises(CannotPay, match="Everything told together is paid"):
        take(both[0], 1, key="more")


def test_more_than_is_open_over_all_is_refused_and_nothing_is_written(both):
    with pytest.raises(CannotPay, match=r"Only \$607.76 is open over all"):
        take(both[0], 60777)
    assert not Entry.objects.of_payments().exists()


def test_an_order_told_alone_takes_its_payment_alone(agreed):
    with pytest.raises(CannotPay, match="Nothing was told together"):
        take(agreed, 100)


@pytest.mark.parametrize("undo", [paid_together.take_back, paid_together.bounced])
def test_undone_from_either_order_all_of_it_is_owed_again_once(both, undo, ada):
    first = take(both[0], 30388)
    backs = [undo(first[place], by=ada) for place in (1, 0)]
    assert backs[0] == backs[1]
    assert [money.owing_of(each).balance for each in both] == [50076, 10700]
    assert [each.receipt_number for each in backs[0]] == [3, 4]
    assert verify_ledger() == ()


def test_when_a_part_was_given_back_nothing_is_undone(both, ada):
    first = take(both[0], 30388)
    giving_back.give_back(first[1], minor=500, method="cash", key="b", by=ada)
    with pytest.raises(CannotPay, match="given back already"):
        paid_together.take_back(first[0], by=ada)
    assert money.owing_of(both[0]).paid == 25038


def test_one_paper_names_each_order_and_what_all_of_it_leaves(both, ada, settings, tmp_path):
    settings.DATA_DIR = tmp_path
    first = take(both[0], 30388)
    papers_made = {papers.deposit(each, by=ada) for each in first}
    assert len(papers_made) == 1
    errands.run_due()
    reader = PdfReader(io.BytesIO(papers.bytes_of(Paper.objects.get(kind="deposit"))))
    text = " ".join(" ".join(page.extract_text() for page in reader.pages).split())
    for words in ("Receipts 1 and 2", "$303.88", "$250.38", "$53.50", str(both[0]), str(both[1])):
        assert words in text, words
    assert "Left to pay: $303.88" in text
    assert "goes towards the agreed $607.76" in text  # 500.76 and 107.00, with the tax of both
    assert "$39.76" in text


accounts = some.lists(
    some.tuples(some.integers(0, 90_000), some.integers(0, 90_000), some.integers(0, 90_000)),
    min_size=2, max_size=5,
)  # fmt: skip


@given(accounts, some.integers(0, 400_000))
def test_any_sum_is_divided_to_the_cent_and_never_over_what_is_open(figures, minor):
    owings = [Owing(charged=c, paid=p, deposit=min(d, c)) for c, p, d in figures]
    minor = min(minor, sum(max(each.balance, 0) for each in owings))
    parts = paid_together.parts_of(minor, owings, currency="USD")
    assert sum(parts) == minor
    assert all(0 <= part <= max(each.balance, 0) for part, each in zip(parts, owings, strict=True))
    if minor == sum(each.deposit_left for each in owings):
        assert parts == [each.deposit_left for each in owings]

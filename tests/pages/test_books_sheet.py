"""The books of a month: taken in, charged, owed, receipts, and what an hour brought."""

import csv
import io
import re
from datetime import UTC, date, datetime, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from orders.account import adding, books, giving_back, money
from orders.models import Entry, Order, Posting, Stage

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner(client, ada):
    client.force_login(ada)
    return client


def pay(order, minor, key, method="card"):
    return money.take_payment(order, minor=minor, payer=order.customer, method=method, key=key, by=None)


def this_month(shop):
    return books.month_of(shop.today().replace(day=1))


def test_an_empty_month_says_so(owner, shop):
    shown = owner.get("/books/?month=2020-01").content.decode()
    assert "January 2020" in shown
    assert "No receipt was written this month." in shown


def test_the_month_adds_up_from_the_postings(owner, agreed, ada):
    pay(agreed, 25038, "a")
    pay(agreed, 1000, "b", method="cash")
    giving_back.take_back(pay(agreed, 500, "c", method="cash"), by=ada)
    shown = owner.get("/books/").content.decode()
    for words in ("$260.38", "$500.76", "$32.76", "$250.38", "$10.00"):
        assert words in shown, words
    assert f"No. {agreed.number} The aunt’s surprise" in shown
    assert "$240.38" in shown


def test_receipts_stand_without_a_gap(agreed, shop, ada):
    for number in range(5):
        entry = pay(agreed, 100, f"k{number}")
    giving_back.take_back(entry, by=ada)
    month = this_month(shop)
    assert [each.receipt_number for each in books.receipts_of(month)] == [1, 2, 3, 4, 5, 6]
    assert books.sheet(month).sums.taken == 400


def test_who_has_owed_longest_stands_first(agreed, shop, aunt, ada):
    newer = Order.objects.open(title="Another", customer=aunt, by=ada)
    charge(newer, day=shop.today() - timedelta(days=40), minor=700)
    first, second = books.owed(on=shop.today())
    assert (first.order, first.minor, first.days) == (newer, 700, 40)
    assert (second.order, second.minor, second.days) == (agreed, 50076, 0)


def charge(order, *, day, minor):
    return Entry.objects.record(
        key=f"{order.pk} {day} {minor}", kind="charge", legs=[("sales", "owed", minor)], by=None,
        order=order, day=day, words="Quote", currency="USD",
    )  # fmt: skip


def test_a_finished_quilt_tells_what_an_hour_brought(agreed, quote, shop, ada):
    Stage.objects.filter(order=agreed, kind="quilt").update(spent=600)
    agreed.hand_over("the aunt", by=ada)
    (job,) = books.jobs(this_month(shop), shop)
    assert (job.quoted, job.spent, job.net) == (876, 600, 46800)
    assert job.hour == round((46800 - quote.paid_out) / 10)
    assert job.wage == job.hour - 700
    # Ten hours at the aim of 31.00 and what was paid out, up to whole dollars.
    assert job.net_next == -(-(31000 + quote.paid_out) // 100) * 100
    assert [(each.kind, each.spent) for each in job.steps] == [("quilt", 600)]


def test_a_quilt_counts_in_the_month_of_the_shops_own_clock(agreed, shop, ada):
    agreed.hand_over("the aunt", by=ada)
    late = datetime(2026, 7, 1, 2, 0, tzinfo=UTC)  # ten in the evening of 30 June in the shop
    Order.objects.filter(pk=agreed.pk).update(handed_over_at=late)
    june, july = date(2026, 6, 1), date(2026, 7, 1)
    assert [len(books.jobs(books.month_of(each), shop)) for each in (june, july)] == [1, 0]


def test_200_entries_ask_the_database_no_more_often_than_12(owner, agreed):
    def queries():
        with CaptureQueriesContext(connection) as asked:
            assert owner.get("/books/").status_code == 200
        return len(asked)

    for number in range(12):
        pay(agreed, 1, f"few {number}")
    few = queries()
    for number in range(188):
        pay(agreed, 1, f"many {number}")
    assert Posting.objects.count() == 202
    assert queries() == few


def test_a_year_adds_up_its_months(owner, agreed, shop):
    pay(agreed, 25038, "a")
    charge(agreed, day=date(shop.today().year, 1, 15), minor=700)
    shown = owner.get(f"/books/?year={shop.today().year}").content.decode()
    assert "Month by month" in shown
    sheet = books.sheet(books.year_of(shop.today().year))
    assert sheet.sums.charged == 50776 == sum(sums.charged for _, sums in sheet.months)
    assert sheet.sums.taken == 25038


def test_tips_certificates_and_credits_stand_apart(agreed, shop):
    sold = giving_back.sell_certificate(
        minor=15000, bought_by="A partner", given_to="", method="card", key="c", by=None
    )
    money.take_payment(
        agreed, minor=9000, payer=agreed.customer, method="", key="d", by=None, certificate=sold.certificate
    )
    adding.take_tip(agreed, minor=2000, payer=agreed.customer, method="cash", key="t", by=None)
    adding.credit(agreed, words="Late", minor=1000, key="x", by=None)
    giving_back.give_back(pay(agreed, 5000, "p"), minor=500, method="card", key="b", by=None)
    sums = books.sheet(this_month(shop)).sums
    assert (sums.taken, sums.tips, sums.credited) == (15000 + 2000 + 4500, 2000, 1000)
    assert (sums.certificates_sold, sums.certificates_used) == (15000, 9000)
    assert (sums.charged, sums.tax) == (50076, 3276 - 65)
    assert sums.by_method == (("cash", 2000), ("card", 19500))


def rows_of(answer):
    return list(csv.DictReader(io.StringIO(answer.content.decode(), newline="")))


def test_the_file_reads_back_as_it_was_written_with_every_line_ended_the_same(owner, agreed, shop):
    """RFC 4180: CRLF after every record, the header among them."""
    pay(agreed, 25038, "a")
    answer = owner.get(f"/books/{shop.today():%Y-%m}.csv")
    assert answer.headers["Content-Type"].startswith("text/csv")
    text = answer.content.decode()
    assert text.count("\r\n") == text.count("\n") == 4
    rows = rows_of(answer)
    assert [(row["from"], row["to"], row["amount"]) for row in rows] == [
        ("sales", "owed", "468.00"),
        ("tax", "owed", "32.76"),
        ("owed", "bank", "250.38"),
    ]
    assert rows[2]["receipt"] == "1"


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r"])
def test_text_that_a_spreadsheet_would_run_is_made_plain(owner, agreed, shop, start):
    agreed.customer.name = f'{start}HYPERLINK("x"), "quoted"'
    agreed.customer.save()
    pay(agreed, 100, "a")
    row = rows_of(owner.get(f"/books/{shop.today():%Y-%m}.csv"))[-1]
    assert row["payer"] == f"'{agreed.customer.name}"


NASTY = [
    "plain",
    'a "quoted" word',
    "a, comma",
    "two\nlines",
    "car\rriage",
    'ends,\r\n"so"',
    "=1+1",
    "ümlaut 絹",
]


def by_the_grammar(text):
    """Read RFC 4180, section 2, by its ABNF: a reader that shares nothing with the csv module."""
    cell = re.compile(r'(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n)')
    at, rows, row = 0, [], []
    while at < len(text):
        found = cell.match(text, at)
        assert found, text[at : at + 40]
        row.append(found[1].replace('""', '"') if found[1] is not None else found[2])
        at = found.end()
        if found[3] != ",":
            rows, row = [*rows, row], []
    assert len({len(each) for each in rows}) == 1
    return rows


@pytest.mark.parametrize("words", NASTY)
def test_two_independent_readers_read_back_what_was_written(owner, agreed, shop, words):
    pandas = pytest.importorskip("pandas")
    agreed.customer.name = words
    agreed.customer.save()
    pay(agreed, 100, "n")
    answer = owner.get(f"/books/{shop.today().year}.csv").content.decode()
    kept = f"'{words}" if words.startswith("=") else words
    read = pandas.read_csv(io.StringIO(answer, newline=""), dtype=str, keep_default_na=False, engine="c")
    assert by_the_grammar(answer)[-1][4] == read["payer"].iloc[-1] == kept


def test_a_month_that_is_none_is_not_here(owner, shop):
    assert owner.get("/books/?month=soon").status_code == 404
    for address in ("/books/2027-13.csv", "/books/0.csv", "/books/9999.csv", "/books/?year=20270"):
        assert owner.get(address).status_code == 404


def test_a_helper_sees_no_books(client, bo, agreed):
    client.force_login(bo)
    for address in ("/books/", "/books/2027-05.csv"):
        answer = client.get(address)
        assert answer.status_code == 403
        assert "500.76" not in answer.content.decode()

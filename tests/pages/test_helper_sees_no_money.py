"""What a helper is shown, in the whole demo shop, holds no money and no way to reach a customer."""

from __future__ import annotations

import io
import re

import pytest
from django.db import transaction
from django.urls import reverse
from pypdf import PdfReader

from orders import papers
from orders.background import errands
from orders.models import Customer, Enquiry, Entry, Incident, Order, Paper, Person, Quote
from tests.pages.callers import ROWS, STAFF
from tests.pages.demo_tour import open_without_photos

pytestmark = [pytest.mark.django_db, pytest.mark.slow]
MONEY = re.compile(
    r"[$€£]\s?\d|\d\s?[$€£]|\bUSD\b|\b\d+\.\d\d\b|\b(?:deposit|balance|price|owes?|paid)\b", re.IGNORECASE
)
STREET = "Candlewick Row"
REACH = re.compile(rf"\b555[ -]?\d{{4}}\b|[\w.]+@[\w.]+|{STREET}")
# What is drawn, linked and styled holds figures of its own; what is read is the text and its labels.
TAGS = re.compile(r"<(?:svg|style|script)\b.*?</(?:svg|style|script)>|<[^>]*>", re.S)
LABELS = re.compile(r'(?:aria-label|alt|title|placeholder|content|value|href)="([^"]*)"')
HIDDEN = re.compile(r'<input type="hidden"[^>]*>|<meta [^>]*>')


@pytest.fixture(scope="module")
def shop_folder(django_db_setup, django_db_blocker, tmp_path_factory):
    """Open the demo once for this module, where it is rolled back."""
    folder = tmp_path_factory.mktemp("data")
    with django_db_blocker.unblock(), transaction.atomic(), pytest.MonkeyPatch.context() as patch:
        patch.setattr("django.conf.settings.DATA_DIR", folder)
        open_without_photos()
        Customer.objects.update(email="someone@example.org", address=f"14 {STREET}", notes="Owes for thread")
        yield folder
        transaction.set_rollback(True)


@pytest.fixture
def juno(client, shop_folder, settings):
    """Return the helper's way into the shop."""
    settings.DATA_DIR = shop_folder
    client.force_login(Person.objects.get(role=Person.Role.HELPER))
    return client


def looks():
    """Yield the address of each page that a helper may look at, for every order, bag and shirt."""
    for name in ("today", "quilts", "shelf", "find"):
        yield reverse(name)
    for incident in Incident.objects.all():
        yield reverse("incident", args=[incident.pk])
    yield f"{reverse('quilts')}?put-away=1"
    yield f"{reverse('quilts')}?find=a"
    for order in Order.objects.all():
        for name in (
            "order-bag",
            "order-quilt",
            "order-bench",
            "bag-arrival",
            "order-log",
            "bag-places",
            "bag-leftovers",
        ):
            yield reverse(name, args=[order.number])
        yield f"{reverse('order-quilt', args=[order.number])}?block=02"
        for place in ("table", "iron", "ruler", "machine"):
            yield reverse("bench-pile", args=[order.number, place])
        for bag in order.bags.all():
            yield reverse("bag", args=[order.number, bag.pk])
            for shirt in bag.shirts.order_by("number")[:1]:
                yield reverse("shirt", args=[order.number, shirt.number])
                yield reverse("find-code", args=[f"{order.number}-{shirt}"])


def read(html):
    """Return what can be read of a page: its text, its labels, where its links lead."""
    shown = HIDDEN.sub("", html)
    return TAGS.sub(" ", shown) + " ".join(LABELS.findall(shown))


def secrets(words):
    return [*MONEY.findall(words), *REACH.findall(words)]


def test_the_scan_finds_what_it_looks_for():
    page = '<p>The balance is <b>$12.50</b></p><a href="sms:555 0131">Write</a><input value="a@example.org">'
    assert secrets(read(page)) == ["balance", "$1", "555 0131", "a@example.org"]


def test_the_demo_has_money_and_contacts_to_hide(juno):
    assert Entry.objects.filter(kind="payment").count() > 5
    assert all(REACH.search(customer.phone) for customer in Customer.objects.all())
    assert REACH.search(Enquiry.objects.last().reach)


def test_no_page_for_a_helper_holds_money_or_contacts(juno):
    for address in looks():
        for headers in ({}, {"HX-Request": "true"}):
            answer = juno.get(address, headers=headers, follow=True)
            assert answer.status_code == 200, address
            assert secrets(read(answer.text)) == [], address


def test_no_answer_to_a_helpers_form_holds_money_or_contacts(juno):
    aunt = Order.objects.get(title="The aunt’s surprise")
    numbers = {"order": aunt.number, "bag": aunt.bags.get().pk, "stage": aunt.stages.get(kind="cut").pk}
    forms = {name: row.of for name, row in ROWS.items() if row.do == STAFF}
    sent = {name: of for name, of in forms.items() if all(n in numbers for n in of if isinstance(n, str))}
    assert len(sent) >= 10
    for name, of in sent.items():
        with transaction.atomic():
            answer = juno.post(reverse(name, args=[numbers.get(n, n) for n in of]), follow=True)
            assert secrets(read(answer.text)) == [], name
            transaction.set_rollback(True)


def test_a_helper_opens_the_papers_of_the_bench_and_no_other(juno):
    owner = Person.objects.get(role=Person.Role.OWNER)
    aunt = Order.objects.get(title="The aunt’s surprise")
    for_the_bench = [papers.cut_list(aunt, by=owner), papers.care(aunt, by=owner)]
    papers.intake(aunt.bags.get(), by=owner)
    papers.quote(Quote.objects.filter(order=aunt).first(), by=owner)
    papers.deposit(Entry.objects.filter(order=aunt, kind="payment").first(), by=owner)
    errands.run_due()
    opened = [paper for paper in Paper.objects.all() if is_open(juno, paper)]
    assert {paper.kind for paper in opened} == {"cut list", "care"}
    assert len(opened) == Paper.objects.filter(kind__in=["cut list", "care"]).count()
    for paper in for_the_bench:
        assert secrets(text_of(paper)) == [], paper


def is_open(juno, paper):
    status = juno.get(reverse("paper", args=[paper.number])).status_code
    assert status in (200, 202, 404)  # 202: it may be seen, and is still being made
    return status != 404


def text_of(paper):
    return " ".join(page.extract_text() for page in PdfReader(io.BytesIO(papers.bytes_of(paper))).pages)

"""The hand-over page asks what is still open, and stops in words."""

import pytest

from orders.account import giving_back, money
from orders.models import Bag, Consent, Paper, Shirt, cut

pytestmark = pytest.mark.django_db
READY = {"collector": "An aunt of Ferncliff", "leftovers": "returned", "needles": "on"}


@pytest.fixture
def sewn(agreed, twelve_shirts, ada):
    """Return the order, paid and with all twelve shirts cut."""
    pieces = [shirt.pieces.get() for shirt in twelve_shirts]
    Consent.objects.to_cut(agreed, pieces, said_by="the mother", how="phone", by=ada)
    cut(pieces, by=ada)
    money.take_payment(agreed, minor=50076, payer=agreed.customer, method="card", key="all", by=None)
    return agreed


@pytest.fixture
def owner(client, ada):
    client.force_login(ada)
    return client


def address(order):
    return f"/quilts/{order.number}/hand-over/"


def test_it_shows_the_money_the_count_and_who_may_take_it(owner, sewn):
    shown = owner.get(address(sewn)).content.decode()
    for words in ("All is paid, $500.76.", "12 cut, the leftovers still here:", "An aunt of Ferncliff"):
        assert words in shown, words


def test_with_all_in_order_it_leaves_with_receipt_and_care_card(owner, sewn):
    answer = owner.post(address(sewn), READY)
    assert (answer.status_code, answer.url) == (302, f"/quilts/{sewn.number}/account/")
    sewn.refresh_from_db()
    assert sewn.handed_to == "An aunt of Ferncliff"
    assert {paper.kind for paper in Paper.objects.filter(kind__in=["receipt", "care"])} == {"receipt", "care"}
    assert not Shirt.objects.filter(leftovers="").exists()


def test_sent_twice_it_leaves_once_with_one_receipt(owner, sewn):
    for _ in range(2):
        assert owner.post(address(sewn), READY).status_code == 302
    assert Paper.objects.filter(kind="receipt").count() == 1


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"leftovers": ""}, "Leftovers still here: 01, 02"),
        ({"leftovers": "discarded"}, "who gave leave"),
        ({"needles": ""}, "Count the pins and needles out first"),
        ({"collector": ""}, "Say who takes it."),
        ({"collector": "somebody else"}, "Write down the name"),
        ({"collector": "somebody else", "other": "Her partner"}, "Her partner is not on this order"),
    ],
)
def test_what_is_open_is_named_beside_its_question_and_it_stays(owner, sewn, change, words):
    answer = owner.post(address(sewn), READY | change)
    assert answer.status_code == 422
    assert words in answer.content.decode()
    sewn.refresh_from_db()
    assert sewn.handed_over_at is None
    assert not Paper.objects.filter(kind="receipt").exists()


def test_a_balance_asks_for_a_reason(owner, sewn, ada):
    giving_back.take_back(sewn.entries.of_payments().get(), by=ada)
    answer = owner.post(address(sewn), READY)
    assert answer.status_code == 422
    assert "$500.76 is open" in answer.content.decode()
    assert owner.post(address(sewn), READY | {"why_unpaid": "She pays on Friday"}).status_code == 302


def test_an_open_count_is_named(owner, sewn):
    Bag.objects.update(count=14)
    answer = owner.post(address(sewn), READY | {"whole": "on"})
    assert answer.status_code == 422
    assert "2 shirts were counted at the door but never logged" in answer.content.decode()


def test_a_stranger_with_a_reason_may_take_it(owner, sewn):
    said = {"collector": "somebody else", "other": "Her partner", "why_them": "She rang and named him"}
    assert owner.post(address(sewn), READY | said).status_code == 302
    sewn.refresh_from_db()
    assert sewn.handed_to == "Her partner"


def test_what_has_left_leads_to_its_account(owner, sewn):
    owner.post(address(sewn), READY)
    assert owner.get(address(sewn)).url == f"/quilts/{sewn.number}/account/"


def test_looking_changes_nothing(owner, sewn):
    before = sewn.events.count()
    owner.get(address(sewn))
    sewn.refresh_from_db()
    assert (sewn.events.count(), sewn.handed_over_at) == (before, None)


def test_everything_that_is_open_is_named_at_once(owner, sewn):
    answer = owner.post(address(sewn), {"collector": "somebody else"})
    shown = answer.content.decode()
    for words in (
        "Write down the name", "why they may have it", "Leftovers still here", "Count the pins",
    ):  # fmt: skip
        assert words in shown, words
    assert "if any" not in shown


def test_with_nobody_tapped_the_rest_is_named_in_the_same_round_and_nothing_typed_is_lost(owner, sewn, ada):
    giving_back.take_back(sewn.entries.of_payments().get(), by=ada)
    said = {"leftovers": "discarded", "leave_how": "phone", "other": "Her partner", "why_them": "She rang"}
    shown = owner.post(address(sewn), said).text
    for words in ("Say who takes it.", "$500.76 is open", "who gave leave", "Count the pins and needles out"):
        assert words in shown, words
    assert "Write down the name" not in shown
    for kept in ('value="Her partner"', 'value="She rang"', 'value="discarded" id="id_leftovers_1" checked'):
        assert kept in " ".join(shown.split()), kept


def test_a_day_to_keep_off_is_written_down_and_nothing_leaves_on_it(owner, sewn, shop):
    today = shop.today()
    answer = owner.post(f"/quilts/{sewn.number}/account/day-to-keep-off/", {"day": str(today)})
    assert answer.status_code == 302
    shown = owner.get(address(sewn)).content.decode()
    assert "itself." in shown
    assert "Not today." in shown
    refused = owner.post(address(sewn), READY)
    assert refused.status_code == 422
    assert "the day on which it is not to leave" in refused.content.decode()
    sewn.refresh_from_db()
    assert sewn.handed_over_at is None
    owner.post(f"/quilts/{sewn.number}/account/day-to-keep-off/", {"day": ""})
    assert owner.post(address(sewn), READY).status_code == 302


@pytest.mark.parametrize(("day", "words"), [("2020-01-01", "That day is past"), ("soon", "Pick a day")])
def test_a_day_that_keeps_nothing_off_is_refused_beside_its_field(owner, sewn, day, words):
    answer = owner.post(f"/quilts/{sewn.number}/account/day-to-keep-off/", {"day": day})
    assert answer.status_code == 422
    assert words in answer.content.decode()
    sewn.refresh_from_db()
    assert sewn.not_on is None

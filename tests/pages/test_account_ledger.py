"""What happens to money after the yes, on its page: counted once, refused in words, the owner's alone."""

import pytest

from orders.account import giving_back, money
from orders.models import Customer, Entry, Order, Payer

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner(client, ada):
    client.force_login(ada)
    return client


@pytest.fixture
def paid(agreed):
    return money.take_payment(
        agreed, minor=25038, payer=agreed.customer, method="check", key="deposit", by=None
    )


def place(order, noun):
    return f"/quilts/{order.number}/account/{noun}/"


SENT = {
    "added": {"added-key": "k", "added-words": "Third round", "added-amount": "20", "added-taxed": "yes"},
    "credits": {"credit-key": "k", "credit-words": "Came late", "credit-amount": "20"},
    "tips": {"tip-key": "k", "tip-amount": "20", "tip-method": "cash"},
    "write-off": {"off-key": "k", "off-words": "Moved away"},
    "payments/1/giving-back": {"back-1-key": "k", "back-1-amount": "20", "back-1-method": "cash"},
}
BALANCE = {
    "added": 25038 + 2140,
    "credits": 25038 - 2000,
    "tips": 25038,
    "write-off": 0,
    "payments/1/giving-back": 25038 + 2000,
}


def send(client, order, noun, **change):
    said = SENT[noun] | ({"tip-payer": str(order.customer_id)} if noun == "tips" else {})
    return client.post(place(order, noun), said | change)


@pytest.mark.parametrize("noun", SENT)
def test_sent_twice_it_is_on_the_account_once_and_on_the_page(owner, agreed, paid, noun):
    for _ in range(2):
        assert send(owner, agreed, noun).status_code == 302
    assert money.owing_of(agreed).balance == BALANCE[noun]
    assert Entry.objects.count() == 3
    assert owner.get(f"/quilts/{agreed.number}/account/").status_code == 200


@pytest.mark.parametrize("noun", [noun for noun in SENT if noun != "write-off"])
@pytest.mark.parametrize(
    ("amount", "words"), [("", "Type the amount."), ("1.005", "finer than USD"), ("-2", "more than nothing")]
)
def test_an_amount_that_makes_no_sense_comes_back_filled_in(owner, agreed, paid, noun, amount, words):
    name = next(name for name in SENT[noun] if name.endswith("amount"))
    answer = send(owner, agreed, noun, **{name: amount})
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert Entry.objects.count() == 2


def test_more_back_than_was_paid_is_refused_with_what_is_left(owner, agreed, paid):
    answer = send(owner, agreed, "payments/1/giving-back", **{"back-1-amount": "250.39"})
    assert answer.status_code == 422
    assert "Only $250.38 is left of that payment" in answer.content.decode()


def test_what_was_typed_to_give_back_stands_in_its_own_form_beside_the_fault(owner, agreed, paid):
    said = send(owner, agreed, "payments/1/giving-back", **{"back-1-amount": "250.39"}).content.decode()
    assert 'name="back-1-amount" value="250.39"' in " ".join(said.split())
    assert said.count("is left of that payment") == 2  # in the list of faults, and beside its field


def test_what_is_written_off_is_not_called_paid(owner, agreed, paid):
    send(owner, agreed, "write-off")
    said = owner.get(f"/quilts/{agreed.number}/account/").content.decode()
    assert "Nothing open" in said
    assert "All paid" not in said


def test_the_same_form_with_another_sum_is_refused(owner, agreed, paid):
    send(owner, agreed, "added")
    answer = send(owner, agreed, "added", **{"added-amount": "21"})
    assert answer.status_code == 409
    assert "already sent with other figures" in answer.content.decode()


def test_a_check_that_bounced_is_owed_again(owner, agreed, paid):
    for _ in range(2):
        assert owner.post(place(agreed, "payments/1/bounce")).status_code == 302
    shown = owner.get(place(agreed, "bounce").replace("bounce/", "")).content.decode()
    assert "Bounced" in shown
    assert money.owing_of(agreed).balance == 50076


def test_a_line_added_is_taken_back(owner, agreed):
    send(owner, agreed, "added")
    entry = Entry.objects.get(kind="added")
    for _ in range(2):
        assert owner.post(place(agreed, f"entries/{entry.pk}/reversal")).status_code == 302
    assert money.owing_of(agreed).balance == 50076


def test_a_charge_is_not_taken_back_that_way(owner, agreed):
    entry = Entry.objects.get(kind="charge")
    assert owner.post(place(agreed, f"entries/{entry.pk}/reversal")).status_code == 404


def test_an_entry_of_another_order_is_not_here(owner, agreed, paid, aunt, ada):
    other = Order.objects.open(title="Another", customer=aunt, by=ada)
    for noun in (f"entries/{paid.pk}/reversal", "payments/1/bounce"):
        assert owner.post(place(other, noun)).status_code == 404
    assert (
        owner.post(place(other, "payments/1/giving-back"), SENT["payments/1/giving-back"]).status_code == 404
    )


def test_a_certificate_pays_and_never_more_than_is_on_it(owner, agreed):
    giving_back.sell_certificate(
        minor=15000, bought_by="A partner", given_to="", method="card", key="c", by=None
    )
    said = {"key": "k", "payer": str(agreed.customer_id), "method": "gift certificate", "certificate": "1"}

    def pay(**change):
        sent = {f"pay-{name}": value for name, value in (said | change).items()}
        return owner.post(place(agreed, "payments"), sent)

    assert "has $150.00 left" in pay(amount="150.01").content.decode()
    assert "no gift certificate of that number" in pay(amount="150", certificate="7").content.decode()
    assert "no gift certificate of that number" in pay(amount="150", certificate="").content.decode()
    assert pay(amount="150").status_code == 302
    assert money.owing_of(agreed).paid == 15000


def test_two_who_pay_see_their_shares_to_the_cent(owner, agreed, paid):
    uncle = Customer.objects.create(name="An uncle of Ferncliff")
    Payer.objects.create(order=agreed, customer=uncle, share=2)
    shown = owner.get(f"/quilts/{agreed.number}/account/").content.decode()
    assert "$166.92 is their share, $250.38 paid" in shown
    assert "$333.84 is their share, $0.00 paid" in shown


def test_terms_are_proposed_after_calling_off_and_taken_with_a_tap(owner, drawn, shop, ada):
    from orders.account import agreeing, quoting

    shop.settling = {"called_off": {"before cloth": {"fee": 2500, "share": "0", "materials": False}}}
    shop.save(update_fields=["settling"])
    agreeing.accept(quoting.issue(drawn, shop, by=ada), said_by="An aunt of Ferncliff", how="phone", by=ada)
    assert owner.post(place(drawn, "calling-off")).status_code == 302
    shown = owner.get(f"/quilts/{drawn.number}/account/").content.decode()
    assert "Your terms come to $475.76 less" in shown
    assert money.owing_of(drawn).balance == 50076
    said = {"calling-off-key": "k", "calling-off-taxed": "no"}
    for _ in range(2):
        assert owner.post(place(drawn, "proposals/calling-off"), said).status_code == 302
    assert money.owing_of(drawn).balance == 2500
    assert (
        owner.post(place(drawn, "proposals/storage"), {"storage-key": "k", "storage-taxed": "no"}).status_code
        == 422
    )
    assert owner.post(place(drawn, "proposals/fees"), said).status_code == 404


NOUNS = (*SENT, "payments/1/bounce", "entries/1/reversal", "calling-off", "proposals/storage")


@pytest.mark.parametrize("noun", NOUNS)
def test_a_helper_and_a_stranger_change_nothing_and_get_is_refused(client, agreed, paid, ada, bo, noun):
    at = place(agreed, noun)
    assert client.post(at).status_code == 302
    client.force_login(bo)
    assert client.post(at).status_code == 403
    client.force_login(ada)
    assert client.get(at).status_code == 405
    assert Entry.objects.count() == 2


def test_the_page_takes_as_many_queries_for_twenty_entries_as_for_two(owner, agreed, paid):
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    address = f"/quilts/{agreed.number}/account/"
    with CaptureQueriesContext(connection) as few:
        owner.get(address)
    for number in range(18):
        money.take_payment(agreed, minor=1, payer=agreed.customer, method="card", key=f"p{number}", by=None)
    with CaptureQueriesContext(connection) as many:
        owner.get(address)
    assert len(many) == len(few)

"""What the owner's terms come to is proposed as a line, and never added alone."""

from __future__ import annotations

import pytest

from orders.account import adding, agreeing, money, proposed, quoting
from orders.models import AskedPicture, DesignVersion, Entry
from tests.shop_days import noon_of

pytestmark = pytest.mark.django_db

SETTLING = {
    "rounds": {"included": 2, "each": 2000},
    "storage": {"free": 30, "a_day": 100, "most": 6000},
    "called_off": {
        "before cloth": {"fee": 2500, "share": "0", "materials": False},
        "cloth bought": {"fee": 0, "share": "0", "materials": True},
        "cut": {"fee": 0, "share": "1", "materials": False},
    },
}


@pytest.fixture
def under_terms(drawn, shop, ada):
    """Return an order agreed while the owner's terms stood as above."""
    shop.settling = SETTLING
    shop.save(update_fields=["settling"])
    quote = quoting.issue(drawn, shop, by=ada)
    agreeing.accept(quote, said_by="An aunt of Ferncliff", how="phone", by=ada)
    drawn.refresh_from_db()
    return drawn


def told(order, shop):
    quote = order.quotes.agreed().first()
    return proposed.proposals(order, quote, money.owing_of(order), shop)


def take(order, noun, unique="1", **change):
    key = proposed.key_of(order, noun, unique)
    return proposed.take(order, noun, key=key, by=None, **{"taxed": False, **change})


def ready(order, shop, days):
    order.stages.all().delete()
    done = noon_of(shop, days_ago=days)
    order.stages.create(kind="finish", position=1, minutes=1, done_at=done)


def changes(order, count):
    by = order.quotes.get().issued_by
    for number in range(count + 1):
        version = DesignVersion.objects.create(
            order=order, number=number + 1, quilt={"n": number}, fingerprint=str(number), asked_by=by
        )
        AskedPicture.objects.create(version=version, shown={})


def test_a_shop_without_terms_proposes_nothing(agreed, shop, ada):
    ready(agreed, shop, 300)
    agreed.cancel(by=ada)
    assert told(agreed, shop) == []


def test_storage_is_proposed_up_to_its_most_and_added_only_when_taken(under_terms, shop):
    ready(under_terms, shop, 246)
    (found,) = told(under_terms, shop)
    assert (found.noun, found.minor) == ("storage", 6000)
    assert "Ready for 246 days; the first 30 are free. It is at its most" in found.why
    assert money.owing_of(under_terms).charged == 50076
    entry = take(under_terms, "storage")
    assert take(under_terms, "storage") == entry
    assert money.owing_of(under_terms).charged == 56076
    assert told(under_terms, shop) == []


def test_storage_that_grew_since_is_proposed_for_the_days_more(under_terms, shop):
    ready(under_terms, shop, 40)
    take(under_terms, "storage")
    ready(under_terms, shop, 45)
    assert [each.minor for each in told(under_terms, shop)] == [500]
    take(under_terms, "storage", "2")
    assert money.owing_of(under_terms).charged == 50076 + 1500


def test_storage_that_was_taken_back_is_proposed_again(under_terms, shop):
    from orders.account import giving_back

    ready(under_terms, shop, 40)
    giving_back.take_back(take(under_terms, "storage"), by=None)
    assert [each.minor for each in told(under_terms, shop)] == [1000]


def test_a_quilt_that_is_not_ready_or_has_left_is_not_stored(under_terms, shop, ada):
    assert told(under_terms, shop) == []
    ready(under_terms, shop, 100)
    under_terms.hand_over("the aunt", by=ada)
    assert told(under_terms, shop) == []


@pytest.mark.parametrize(("count", "due"), [(2, []), (3, [2000]), (5, [6000])])
def test_changes_of_the_picture_beyond_those_in_the_price_are_proposed(under_terms, shop, count, due):
    changes(under_terms, count)
    assert [each.minor for each in told(under_terms, shop)] == due


def test_tax_on_a_proposed_line_is_not_counted_as_the_line(under_terms, shop):
    changes(under_terms, 3)
    take(under_terms, "rounds", taxed=True)
    assert money.owing_of(under_terms).charged == 50076 + 2140
    assert told(under_terms, shop) == []


def test_calling_off_before_cloth_takes_off_all_but_the_fee(under_terms, shop, ada):
    under_terms.cancel(by=ada)
    (found,) = told(under_terms, shop)
    assert (found.lowers, found.minor) == (True, 47576)
    assert money.owing_of(under_terms).balance == 50076
    take(under_terms, "calling-off")
    assert money.owing_of(under_terms).balance == 2500
    assert told(under_terms, shop) == []


def test_what_was_written_off_already_is_not_taken_off_twice(under_terms, shop, ada, aunt):
    """500.76, of which 200.00 is paid and 300.76 written off: all but the fee of 25.00 goes back."""
    money.take_payment(under_terms, minor=20000, payer=aunt, method="card", key="p", by=ada)
    adding.write_off(under_terms, words="A kindness", key="w", by=ada)
    under_terms.cancel(by=ada)
    assert [each.minor for each in told(under_terms, shop)] == [17500]
    take(under_terms, "calling-off")
    owing = money.owing_of(under_terms)
    assert (owing.balance, owing.to_give_back) == (-17500, 17500)
    assert told(under_terms, shop) == []


def test_what_was_added_and_taken_off_before_is_of_the_price_that_is_called_off(under_terms, shop, ada):
    """500.76 and 10.70 less 15.00 is 496.46; all but 25.00 of it is no longer owed."""
    adding.add(under_terms, words="Label", minor=1000, taxed=True, key="a", by=ada)
    adding.credit(under_terms, words="For the wait", minor=1500, key="c", by=ada)
    under_terms.cancel(by=ada)
    assert [each.minor for each in told(under_terms, shop)] == [49646 - 2500]
    take(under_terms, "calling-off")
    assert money.owing_of(under_terms).balance == 2500
    assert told(under_terms, shop) == []


def test_what_was_written_off_to_less_than_is_kept_proposes_nothing(under_terms, shop, ada):
    adding.write_off(under_terms, words="A kindness", key="w", by=ada)
    under_terms.cancel(by=ada)
    assert told(under_terms, shop) == []


def test_calling_off_once_cloth_is_spoken_for_keeps_what_was_bought(under_terms, shop, ada, shelf):
    under_terms.reservations.create(cloth=shelf[0], role="sashing", length=100)
    under_terms.cancel(by=ada)
    quote = under_terms.quotes.agreed().get()
    assert [each.minor for each in told(under_terms, shop)] == [50076 - quote.paid_out]


def test_terms_are_those_that_stood_on_the_agreed_quote(under_terms, shop):
    shop.settling = {}
    shop.save(update_fields=["settling"])
    ready(under_terms, shop, 100)
    assert [each.minor for each in told(under_terms, shop)] == [6000]


def test_what_is_not_proposed_cannot_be_taken(under_terms):
    with pytest.raises(money.CannotPay, match="Nothing more is proposed"):
        take(under_terms, "storage")
    assert not Entry.objects.filter(kind="added").exists()

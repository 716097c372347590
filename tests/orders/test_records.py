"""What the records promise from the first day: the count, no cut without a yes, money that stays."""

from __future__ import annotations

import pytest
from django.db import DatabaseError, IntegrityError, transaction

from orders.models import (
    Account,
    Consent,
    Cut,
    Entry,
    EntryConflict,
    NoYes,
    Posting,
    Quote,
    Shirt,
    Shop,
    Stale,
    cut,
)


@pytest.mark.django_db
def test_every_garment_counted_at_the_door_is_somewhere(order, twelve_shirts, ada):
    bag = order.bags.get()
    assert bag.tally().adds_up
    twelve_shirts[0].give_back(by=ada)
    twelve_shirts[1].miss(by=ada)
    tally = bag.tally()
    assert (tally.in_work, tally.returned, tally.missing, tally.adds_up) == (11, 1, 1, False)
    assert tally.came_in == tally.in_work + tally.used + tally.returned + tally.discarded


@pytest.mark.django_db
def test_no_shirt_is_discarded_without_leave(twelve_shirts):
    with pytest.raises(IntegrityError), transaction.atomic():
        Shirt.objects.filter(pk=twelve_shirts[0].pk).update(state="discarded")


@pytest.mark.django_db
def test_a_shirt_cannot_be_deleted_by_any_program(twelve_shirts):
    with pytest.raises(DatabaseError, match="never deleted"), transaction.atomic():
        Shirt.objects.filter(pk=twelve_shirts[0].pk)._raw_delete("default")


@pytest.mark.django_db
def test_nothing_is_cut_without_a_yes_and_a_pile_is_cut_whole_or_not_at_all(order, twelve_shirts, ada):
    pieces = [shirt.pieces.get() for shirt in twelve_shirts[:3]]
    Consent.objects.to_cut(order, pieces[:2], said_by="the mother", how="phone", by=ada)
    with pytest.raises(NoYes):
        cut(pieces, by=ada)
    assert Cut.objects.count() == 0
    cut(pieces[:2], by=ada)
    cut(pieces[:2], by=ada)
    assert Cut.objects.count() == 2
    assert order.bags.get().tally().used == 2


@pytest.mark.django_db
def test_a_yes_taken_back_stops_the_blade(order, twelve_shirts, ada):
    piece = twelve_shirts[0].pieces.get()
    consent = Consent.objects.to_cut(order, [piece], said_by="the mother", how="person", by=ada)
    consent.withdraw(by=ada)
    with pytest.raises(NoYes):
        cut([piece], by=ada)


@pytest.mark.django_db
def test_a_cut_cannot_be_taken_back_by_any_program(order, twelve_shirts, ada):
    piece = twelve_shirts[0].pieces.get()
    Consent.objects.to_cut(order, [piece], said_by="the mother", how="person", by=ada)
    (done,) = cut([piece], by=ada)
    with pytest.raises(DatabaseError, match="cannot be taken back"), transaction.atomic():
        Cut.objects.filter(pk=done.pk)._raw_delete("default")


def pay(order, key="k1", minor=5000, **change):
    about = {
        "order": order,
        "day": Shop.objects.the().today(),
        "currency": "USD",
        "words": "Deposit",
        **change,
    }
    legs = [("owed", "cash", minor)]
    return Entry.objects.record(key=key, kind="payment", legs=legs, by=None, receipt=True, **about)


@pytest.mark.django_db
def test_the_same_payment_sent_twice_is_one_and_other_content_is_refused(order):
    first = pay(order)
    assert pay(order) == first
    assert Posting.objects.balance(Account.CASH) == 5000
    with pytest.raises(EntryConflict):
        pay(order, minor=6000)


@pytest.mark.django_db
def test_receipts_are_numbered_without_a_gap_even_after_a_payment_that_failed(order):
    assert pay(order).receipt_number == 1
    with pytest.raises(IntegrityError), transaction.atomic():
        pay(order, key="bad", minor=0)
    assert pay(order, key="k2").receipt_number == 2


@pytest.mark.django_db
@pytest.mark.parametrize("table", [Entry, Posting])
def test_money_that_is_written_down_cannot_be_changed_or_deleted(order, table):
    pay(order)
    with pytest.raises(DatabaseError, match="stays"), transaction.atomic():
        table.objects.update(id=99)
    with pytest.raises(DatabaseError, match="stays"), transaction.atomic():
        table.objects.all()._raw_delete("default")


@pytest.mark.django_db
def test_all_accounts_together_are_always_nothing(order):
    pay(order)
    pay(order, key="k2", minor=777)
    assert sum(Posting.objects.balance(account) for account in Account.values) == 0


@pytest.mark.django_db
def test_the_second_of_two_phones_is_told_and_sees_what_stands(order):
    seen = order.version
    order.change(seen=seen, place="Harrow Bay")
    with pytest.raises(Stale) as stale:
        order.change(seen=seen, place="Quarry Gap")
    assert stale.value.now.place == "Harrow Bay"


@pytest.mark.django_db
def test_a_quote_must_add_up(order, ada):
    with pytest.raises(IntegrityError), transaction.atomic():
        Quote.objects.create(
            order=order, number=1, lines=[], currency="USD", net=1, tax=1, total=3, deposit=0,
            issued_by=ada, valid_until="2027-01-01",
        )  # fmt: skip


@pytest.mark.django_db
def test_a_copy_of_the_shop_that_is_older_cannot_turn_its_counters_back(shop):
    with transaction.atomic():
        assert Shop.next_number("last_receipt_number") == 1
    shop.name = "Another name"
    shop.save()
    with transaction.atomic():
        assert Shop.next_number("last_receipt_number") == 2
    assert Shop.objects.the().name == "Another name"

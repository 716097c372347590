"""The stamp of the records is another after every change, by whichever way it was made."""

from __future__ import annotations

import pytest
from django.apps import apps
from django.db import connection, transaction
from django.utils import timezone

from orders import guards, stamp
from orders.models import Customer, Errand, Order, Person, Pulse, Shirt, Shop, SignIn, SignInFailure

pytestmark = pytest.mark.django_db


def triggers():
    asked = {
        "sqlite": "SELECT name FROM sqlite_master WHERE type = 'trigger'",
        "postgresql": "SELECT tgname FROM pg_trigger WHERE NOT tgisinternal",
    }
    with connection.cursor() as cursor:
        cursor.execute(asked[connection.vendor])
        return {name for (name,) in cursor.fetchall()}


def ours():
    found = {kind._meta.db_table for kind in apps.get_models(include_auto_created=True)}
    return {table for table in found if table.startswith(stamp.OURS)}


@pytest.mark.parametrize("table", sorted(ours() - set(stamp.WITHOUT)))
def test_every_table_of_the_shop_writes_the_stamp(table):
    assert set(stamp.triggers_of(connection.vendor, table)) <= triggers()


def test_only_sign_ins_wrong_tries_and_pulses_are_left_out():
    assert set(stamp.WITHOUT) == {kind._meta.db_table for kind in (SignIn, SignInFailure, Pulse)}
    assert set(stamp.stamped_tables(connection)) == ours() - set(stamp.WITHOUT)


def test_a_table_that_nobody_stamped_would_be_noticed():
    for name in stamp.triggers_of(connection.vendor, "orders_order"):
        with connection.cursor() as cursor:
            on = " ON orders_order" if connection.vendor == "postgresql" else ""
            cursor.execute(f"DROP TRIGGER {name}{on}")
    assert not set(stamp.triggers_of(connection.vendor, "orders_order")) <= triggers()


def insert(order):
    Customer.objects.bulk_create([Customer(name="Another")])


def update(order):
    Order.objects.filter(pk=order.pk).update(title="Another")


def update_by_hand(order):
    with connection.cursor() as cursor:
        cursor.execute("UPDATE orders_shop SET name = 'Another'")


def delete(order):
    order.bags.clear()


def progress(order):
    Errand.objects.filter(kind="nothing").update(progress="half")
    Errand.objects.create(kind="nothing", key="nothing: 1", due_at=order.opened_at)


@pytest.mark.parametrize("change", [insert, update, update_by_hand, delete, progress])
def test_a_change_writes_another_stamp(order, change):
    before = stamp.now(connection)
    change(order)
    assert before != stamp.now(connection) != ""


def test_reading_writes_none(order):
    before = stamp.now(connection)
    assert list(Order.objects.with_state().with_little_quilt())
    assert list(Shirt.objects.all()) == []
    assert stamp.now(connection) == before


def test_a_pulse_and_a_wrong_try_write_none(shop):
    before = stamp.now(connection)
    Pulse.beat("worker@loft")
    SignInFailure.objects.note("Ada", came_from="127.0.0.1", now=timezone.now())
    assert stamp.now(connection) == before


def test_what_was_taken_back_takes_its_stamp_back(shop):
    before = stamp.now(connection)
    with transaction.atomic():
        Shop.objects.update(name="Another")
        assert stamp.now(connection) != before
        transaction.set_rollback(True)
    assert stamp.now(connection) == before


def test_no_stamp_is_the_same_word_as_an_earlier_one(shop):
    seen = set()
    for number in range(50):
        Person.objects.update(name=f"Ada {number}")
        seen.add(stamp.now(connection))
    assert len(seen) == 50


def test_without_the_guards_there_is_no_stamp(shop):
    guards.remove(connection)
    assert stamp.now(connection) == ""
    guards.install(connection)
    assert stamp.now(connection) != ""

"""Work by the hour, and the days on which the parts of the rest are due, in the Account room."""

from datetime import date, timedelta

import pytest

from orders.account import agreeing, chosen_way, hourly, money, parts_due, quoting
from orders.models import ExtraLine, Order

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner(client, ada):
    client.force_login(ada)
    return client


def put(owner, order, **change):
    said = {"words": "Mending", "hours": "2:30", "an_hour": "40", "most": "80", **change}
    sent = {f"hourly-{name}": value for name, value in said.items()}
    return owner.post(f"/quilts/{order.number}/account/hours/", sent)


def test_hours_are_on_the_price_and_never_over_their_limit(owner, drawn):
    answer = put(owner, drawn)
    shown = owner.get(answer.url).content.decode()
    assert "Mending, 2 h 30 of work at $40.00 an hour, at most $80.00" in shown
    assert ExtraLine.objects.get().minor == 8000
    put(owner, drawn, hours="1.5")
    assert ExtraLine.objects.get().minor == 6000


def test_without_a_limit_all_hours_count(owner, drawn):
    put(owner, drawn, most="")
    assert ExtraLine.objects.get().minor == 10000


def test_sent_twice_it_is_one_line(owner, drawn):
    for _ in range(2):
        put(owner, drawn)
    assert ExtraLine.objects.count() == 1
    assert drawn.events.filter(what="hours on the price").count() == 1


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        ("hours", "", "Give hours"),
        ("hours", "soon", "Give hours"),
        ("hours", "0", "more than none"),
        ("an_hour", "", "Type the amount."),
        ("most", "-1", "more than nothing"),
        ("words", "", "Say what the line is for."),
    ],
)
def test_what_makes_no_sense_comes_back_beside_its_field(owner, drawn, field, typed, words):
    answer = put(owner, drawn, **{field: typed})
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert not ExtraLine.objects.exists()


def test_a_repair_is_quoted_by_the_hour_and_tells_what_an_hour_brings(owner, order, taxed, ada):
    Order.objects.update(kind="repair")
    assert "Work by the hour" in owner.get(f"/quilts/{order.number}/account/").content.decode()
    put(owner, order)
    now = quoting.prospect(Order.objects.get(), taxed)
    assert (now.pricing.net.minor, now.spent, now.pricing.hour.minor) == (8000, 150, 3200)


def test_a_helper_and_a_stranger_put_no_hours(client, bo, drawn):
    assert put(client, drawn).status_code == 302
    client.force_login(bo)
    assert put(client, drawn).status_code == 403
    assert not ExtraLine.objects.exists()


def name(owner, order, *days):
    sent = {f"part-day-{number}": str(day) for number, day in enumerate(days, start=1)}
    return owner.post(f"/quilts/{order.number}/account/parts/", sent)


def test_the_rest_has_as_many_parts_as_days_and_the_room_says_what_is_due_when(owner, drawn, shop, ada):
    days = [shop.today() + timedelta(days=each) for each in (9, 23, 41)]
    assert name(owner, drawn, *days).status_code == 302
    drawn.refresh_from_db()
    quote = quoting.issue(drawn, shop, by=ada)
    assert quote.dues == [str(each) for each in days]
    assert quote.instalments == [8346, 8346, 8346]
    agreeing.accept(quote, said_by="An aunt of Ferncliff", how="phone", by=ada)
    money.take_payment(drawn, minor=30000, payer=drawn.customer, method="card", key="k", by=ada)
    shown = owner.get(f"/quilts/{drawn.number}/account/").content.decode()
    assert "Due by when" in shown
    assert "<b>$33.84</b> of $83.46" in shown


def test_a_day_that_is_past_or_named_twice_is_refused(owner, drawn, shop):
    today = shop.today()
    assert "That day is past" in name(owner, drawn, today - timedelta(days=1)).content.decode()
    assert "Another part is due on that day" in name(owner, drawn, today, today).content.decode()
    assert parts_due.parts_due(Order.objects.get()) == []


def test_only_a_rush_that_was_chosen_is_on_a_price_without_a_layout(owner, order, taxed, ada):
    """80.00 by the hour, 25 % for a rush: 100.00 only where the order is taken as one."""
    taxed.rules["terms"]["rush"] = "0.25"
    taxed.save(update_fields=["rules"])
    Order.objects.update(kind="repair")
    put(owner, order)
    assert quoting.prospect(Order.objects.get(), taxed).pricing.net.minor == 8000
    chosen_way.choose(Order.objects.get(), chosen_way.RUSH, by=ada)
    assert quoting.prospect(Order.objects.get(), taxed).pricing.net.minor == 10000


def test_a_certificate_three_parts_and_a_bounce_come_to_the_handbooks_cents(drawn, shop, ada):
    """S8: 469.73, 234.87 first, then 78.29, 78.29, 78.28; the first paid, the second bounced: 156.57."""
    rules = shop.rules
    rules["terms"]["taxes"], rules["rules"] = [{"rate": "0.07"}], []
    shop.save()
    Order.objects.filter(pk=drawn.pk).update(kind="repair")
    order = Order.objects.get(pk=drawn.pk)
    quoting.add_line(order, words="Nine blocks, sashed, rush", kind="labour", minor=43900, by=ada)
    days = [shop.today() + timedelta(days=each) for each in (9, 23, 41)]
    parts_due.name_days(order, days, by=ada)
    quote = quoting.issue(order, shop, by=ada)
    assert (quote.total, quote.deposit, quote.instalments) == (46973, 23487, [7829, 7829, 7828])
    told = parts_due.dues_of(quote, owed=46973, paid=23487 + 7829)
    assert [each.left for each in told] == [0, 0, 7829, 7828]
    assert sum(each.left for each in told) == 15657
    late = [each.is_late(days[1] + timedelta(days=1)) for each in told]
    assert late == [False, False, True, False]


def test_what_is_taken_off_later_comes_off_the_last_part(drawn, quote):
    quote.dues, quote.instalments = ["2026-12-01", "2026-12-15"], [12519, 12519]
    told = parts_due.dues_of(quote, owed=50076 - 13000, paid=0)
    assert [(each.day, each.left) for each in told] == [(None, 25038), (date(2026, 12, 1), 12038)]


def test_the_same_hours_again_leave_no_event(drawn, ada):
    for _ in range(2):
        hourly.put(drawn, "Mending", minutes=60, an_hour=4000, most=None, currency="USD", by=ada)
    assert drawn.events.filter(what="hours on the price").count() == 1

"""Words drafted from the record: only what there is an occasion for, quiet where somebody mourns."""

from __future__ import annotations

from datetime import timedelta
from urllib.parse import parse_qs, unquote, urlsplit

import pytest
from django.utils import timezone

from orders.account import money
from orders.bag import bad_news
from orders.customer import drafts, sending
from orders.models import Customer, Incident, Order, Parcel, Payer, Shop
from orders.yes import yes_to_picture

pytestmark = pytest.mark.django_db


def words_of(order, shop):
    seen = Order.objects.with_state().select_related("customer").get(pk=order.pk)
    return {each.kind: each for each in drafts.drafts_of(seen, shop)}


@pytest.fixture
def ready(agreed):
    """Return the agreed order with all of its work done."""
    agreed.stages.update(done_at=timezone.now())
    return agreed


def test_a_quote_that_waits_is_told_with_its_price_and_its_day(quote, drawn, shop):
    words = words_of(drawn, shop)["price"].words
    assert "$500.76 with tax, $250.38 of it first" in words
    assert words.startswith("Hello An aunt of Ferncliff,")
    assert words.endswith("The workroom, Alder Steps")


def test_the_picture_is_asked_about_with_the_room_there_is(agreed, shop, ada):
    yes_to_picture.ask(agreed, shop, by=ada)
    room = drafts.room_of(agreed, shop)
    assert room is not None
    assert room > 0
    assert f"There is room for {room} more days" in words_of(agreed, shop)["yes"].words


def test_a_deposit_is_asked_for_until_it_is_here_and_then_nothing(agreed, shop, ada):
    assert "A deposit of $250.38 holds the spot" in words_of(agreed, shop)["deposit"].words
    money.take_payment(agreed, minor=25038, payer=agreed.customer, method="card", key="d", by=ada)
    assert not {"deposit", "balance"} & words_of(agreed, shop).keys()


def test_ready_says_how_it_leaves_and_what_is_open(ready, shop):
    found = words_of(ready, shop)
    assert "come for it" in found["ready"].words
    assert "$500.76 is still open" in found["ready"].words
    assert "delay" not in found
    Order.objects.update(leaving="parcel")
    assert "if the address is still right" in words_of(ready, shop)["ready"].words


def test_a_day_that_does_not_hold_is_a_gap_to_fill_in_or_the_day_of_the_plan(agreed, shop):
    agreed.promised_for = shop.today() + timedelta(days=60)
    agreed.save()
    assert "…" in words_of(agreed, shop)["delay"].words
    agreed.promised_for = shop.today() - timedelta(days=1)
    agreed.save()
    late = words_of(agreed, shop)["delay"].words
    assert "I could have it ready by" in late
    assert "…" not in late


def test_where_two_pay_she_is_asked_for_her_own_part_alone(ready, shop, aunt):
    uncle = Customer.objects.create(name="An uncle of Ferncliff")
    Payer.objects.create(order=ready, customer=uncle, share=1)
    assert "$250.38 is still open" in words_of(ready, shop)["balance"].words
    money.take_payment(ready, minor=25038, payer=aunt, method="card", key="a", by=None)
    assert "balance" not in words_of(ready, shop)
    assert "still open" not in words_of(ready, shop)["ready"].words
    assert money.owing_of(ready).balance == 25038


def test_whoever_is_asked_to_pay_is_told_how(ready, shop):
    Shop.objects.update(how_to_pay="By transfer, or at the door.")
    words = words_of(ready, Shop.objects.get())["balance"].words
    assert "By transfer, or at the door. Write No. 1 with it." in words


def test_no_words_call_a_pillow_a_quilt(agreed, twelve_shirts, shop, ada):
    order = Order.objects.get(pk=agreed.pk)
    order.kind, order.promised_for = "pillow", shop.today()
    incident = Incident(what="stained", order=order, shirt=twelve_shirts[0], by=ada, at=timezone.now())
    parcel = Parcel(carrier="The van", sent_on=shop.today(), transit_days=2)
    facts = {"quote": order.quotes.get(), "left": 500, "first": 500, "room": 3, "day": shop.today()}
    kinds = ("yes", "price", "deposit", "ready", "balance", "parcel", "delay")
    told = [drafts.written(kind, order, shop, parcel=parcel, **facts) for kind in kinds]
    told += [drafts.subject_of(order), bad_news.words_for(incident, shop)]
    told.append(sending.words_for(order, order.quotes.get(), money.owing_of(order), shop))
    for words in told:
        assert "pillow, No. 1" in words
        assert "quilt" not in words
    assert drafts.subject_of(order) == "Your pillow, No. 1"


def test_words_about_a_quilt_in_memory_of_somebody_do_not_say_that_it_is_theirs(agreed, shop):
    Order.objects.update(memorial=True)
    order = Order.objects.get(pk=agreed.pk)
    facts = {"quote": order.quotes.get(), "left": 500, "first": 500}
    for kind in ("price", "deposit", "balance"):
        words = drafts.written(kind, order, shop, **facts)
        assert "the quilt, No. 1" in words
        assert "our quilt" not in words
    assert drafts.subject_of(order) == "The quilt, No. 1"


def test_the_words_of_one_price_for_several_name_them_and_tell_the_whole(agreed, shop):
    quote = agreed.quotes.get()
    each = {"title": "One of two", "deposit": 500}
    quote.together = [{"order": 1, "total": 50076, **each}, {"order": 2, "total": 1000, **each}]
    words = drafts.written("price", agreed, shop, quote=quote)
    assert "the price of No. 1 and No. 2, together, is $510.76 with tax, $10.00 of it first." in words


def test_a_damage_comes_first_with_what_happened_and_no_excuse(agreed, twelve_shirts, shop, ada):
    incident = Incident.objects.create(what="stained", order=agreed, shirt=twelve_shirts[0], by=ada)
    found = words_of(agreed, shop)
    assert next(iter(found)) == f"damage {incident.pk}"
    assert (
        "shirt 01 of your quilt, No. 1, got a stain. Every piece of it is kept."
        in next(iter(found.values())).words
    )
    incident.tell(how="phone", words="told", by=ada)
    assert f"damage {incident.pk}" not in words_of(agreed, shop)


def test_reminders_rest_for_a_memorial_and_while_something_is_not_settled(agreed, shop, ada):
    assert words_of(agreed, shop)["deposit"].rests == ""
    Incident.objects.create(what="stained", order=agreed, by=ada)
    assert "is not settled" in words_of(agreed, shop)["deposit"].rests
    Incident.objects.update(settled_at=timezone.now(), outcome="well")
    Order.objects.update(memorial=True)
    assert "In memory of somebody" in words_of(agreed, shop)["deposit"].rests


def test_mourners_read_no_count_of_days_and_no_your_quilt(agreed, shop, ada):
    yes_to_picture.ask(agreed, shop, by=ada)
    Order.objects.update(memorial=True)
    words = words_of(agreed, shop)["yes"].words
    assert "There is no hurry" in words
    assert "your quilt" not in words
    assert "more day" not in words


def test_a_parcel_on_its_way_is_told_with_its_number_until_it_is_there(order, shop, ada):
    parcel = Parcel.objects.create(
        order=order, address="x", carrier="The van", value=1, transit_days=2, tracking="QX 114", by=ada,
        sent_on=shop.today(),
    )  # fmt: skip
    assert "Its number there is QX 114." in words_of(order, shop)["parcel"].words
    parcel.arrive(shop.today(), by=ada)
    assert "parcel" not in words_of(order, shop)


def test_the_shop_begins_and_ends_its_words_its_own_way(order, shop):
    shop.words = {"hello": "Dear", "bye": "Yours, Wren"}
    assert words_of(order, shop)["own"].words == "Dear An aunt of Ferncliff,\n\n\n\nYours, Wren"


HOSTILE = "50% off & more? #1\nA line: “ü” +\"'<b>"


def test_words_reach_messages_and_mail_whole_whatever_stands_in_them(order, shop):
    order.customer.email = "aunt@ferncliff.example"
    text = sending.as_text_message(order, HOSTILE, shop=shop)
    assert text.startswith("sms:5550131?&body=")
    assert unquote(text.split("body=", 1)[1]) == HOSTILE
    assert text.count("&") == 1
    mail = urlsplit(sending.as_mail(order, "A & B", HOSTILE, shop=shop))
    asked = parse_qs(mail.query.replace("+", "%2B"))
    assert (mail.scheme, mail.path) == ("mailto", "aunt@ferncliff.example")
    assert asked == {"subject": ["A & B"], "body": [HOSTILE.replace("\n", "\r\n")]}


def test_a_surprise_opens_no_message_and_no_mail(order, shop):
    order.customer.email = "aunt@ferncliff.example"
    order.customer.keep_quiet_until = shop.today() + timedelta(days=1)
    assert sending.as_text_message(order, "x", shop=shop) == sending.as_mail(order, "x", "x", shop=shop) == ""

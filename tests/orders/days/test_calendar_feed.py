"""The calendar a phone reads, read back by two parsers that share nothing with the code that wrote it.

The rules tested are those of RFC 5545: CRLF and folding (3.1), texts escaped (3.3.11), a whole day that
ends on the day after it (3.6.1), one UID for good (3.8.4.7).
"""

from datetime import UTC, date, datetime, timedelta

import icalendar
import pytest
import vobject
from hypothesis import given
from hypothesis import strategies as st

from orders.days.calendar_feed import calendar_text, escaped, folded
from orders.models import Feed, Order, Outside, Trip, Visit

NOW = datetime(2027, 3, 1, 15, 0, tzinfo=UTC)


@pytest.fixture
def filled(order, shop):
    """Return the shop with a quilt promised, a visit over the change of the clocks, and a trip."""
    Order.objects.update(promised_for=date(2027, 5, 15))
    Visit.objects.create(
        order=order, kind="collection", at=datetime(2027, 3, 14, 6, 45, tzinfo=UTC), minutes=30
    )
    Visit.objects.create(kind="look", at=datetime(2027, 3, 20, 18, 0, tzinfo=UTC), minutes=15)
    quilter = Outside.objects.create(kind="quilter", name="Mrs. Somebody", lead_days=14)
    Trip.objects.create(
        order=order, outside=quilter, what="the top", waits="bind", sent_on=date(2027, 3, 1),
        expected_on=date(2027, 3, 31),
    )  # fmt: skip
    return shop


def moment(day, hour, minute):
    return datetime(2027, 3, day, hour, minute, tzinfo=UTC)


def by_icalendar(text):
    """Read it with the library icalendar: mark, words, start, end of each event."""
    found = icalendar.Calendar.from_ical(text)
    return sorted(
        (str(each["UID"]), str(each["SUMMARY"]), each["DTSTART"].dt, each["DTEND"].dt)
        for each in found.walk("VEVENT")
    )


def by_vobject(text):
    """Read it with the library vobject."""
    found = vobject.readOne(text)
    return sorted(
        (each.uid.value, each.summary.value, each.dtstart.value, each.dtend.value)
        for each in found.vevent_list
    )


@pytest.mark.django_db
def test_two_parsers_read_the_same_days_and_moments(filled):
    text = calendar_text(filled, now=NOW)
    first, second = by_icalendar(text), by_vobject(text)
    assert first == second
    assert [(words, start, end) for _, words, start, end in first] == [
        ("No. 1 hand-over", date(2027, 5, 15), date(2027, 5, 16)),
        ("No. 1 expected, then bind", date(2027, 3, 31), date(2027, 4, 1)),
        ("No. 1 collection", moment(14, 6, 45), moment(14, 7, 15)),
        ("look", moment(20, 18, 0), moment(20, 18, 15)),
    ]


@pytest.mark.django_db
def test_an_event_keeps_its_name_when_its_day_moves(filled):
    before = {uid: start for uid, _, start, _ in by_icalendar(calendar_text(filled, now=NOW))}
    Order.objects.update(promised_for=date(2027, 6, 1))
    after = {
        uid: start for uid, _, start, _ in by_icalendar(calendar_text(filled, now=NOW + timedelta(days=9)))
    }
    assert before.keys() == after.keys()
    assert [uid for uid in before if before[uid] != after[uid]] == [
        uid for uid in before if uid.startswith("order-")
    ]


@pytest.mark.django_db
def test_no_name_no_title_and_no_place_is_told(filled, order):
    text = calendar_text(filled, now=NOW).replace("\r\n ", "")
    for told in (order.title, order.customer.name, "555 0131", "Somebody", "Ferncliff"):
        assert told not in text


@pytest.mark.django_db
def test_every_line_ends_in_crlf_and_has_at_most_75_octets(filled):
    filled.name = "Ähre, Öse; Übermaß \\ " * 6
    data = calendar_text(filled, now=NOW).encode()
    assert data.endswith(b"END:VCALENDAR\r\n")
    lines = data.split(b"\r\n")
    assert max(len(line) for line in lines) <= 75
    assert not any(b"\n" in line or b"\r" in line for line in lines)
    assert str(icalendar.Calendar.from_ical(data)["X-WR-CALNAME"]) == escaped(filled.name)


@given(st.text(st.characters(blacklist_categories=["Cs", "Cc"]), max_size=300))
def test_any_text_comes_back_as_it_was(words):
    line = folded(f"SUMMARY:{escaped(words)}")
    text = f"BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\nUID:1\r\n{line}\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n"
    (event,) = icalendar.Calendar.from_ical(text).walk("VEVENT")
    assert str(event["SUMMARY"]) == words


@pytest.mark.django_db
def test_an_empty_shop_has_an_empty_calendar(shop):
    assert by_icalendar(calendar_text(shop, now=NOW)) == []


@pytest.mark.django_db
def test_the_address_opens_without_signing_in_until_it_is_closed_or_replaced(client, ada, shop, filled):
    _, token = Feed.objects.give_out(by=ada)
    answer = client.get(f"/calendar/{token}.ics")
    assert answer["Content-Type"] == "text/calendar; charset=utf-8"
    assert "no-store" in answer["Cache-Control"]
    assert len(by_icalendar(answer.content)) == 4
    assert client.post(f"/calendar/{token}.ics").status_code == 405
    _, another = Feed.objects.give_out(by=ada)
    assert client.get(f"/calendar/{token}.ics").status_code == 404
    assert client.get(f"/calendar/{another}.ics").status_code == 200
    Feed.objects.close(by=ada)
    assert client.get(f"/calendar/{another}.ics").status_code == 404
    assert client.get("/calendar/guessed.ics").status_code == 404


@pytest.mark.django_db
def test_the_token_is_shown_once_and_kept_as_its_hash(client, ada, shop):
    client.force_login(ada)
    client.post("/weeks/calendar/feed/")
    shown = client.get("/weeks/calendar/").context["feed_address"]
    token = shown.rpartition("/")[2].removesuffix(".ics")
    assert len(token) >= 43
    assert token not in str(Feed.objects.values_list("token_hash"))
    assert client.get("/weeks/calendar/").context["feed_address"] == ""
    client.logout()
    assert client.get(f"/calendar/{token}.ics").status_code == 200

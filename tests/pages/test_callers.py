"""Each address × who calls × how: nothing is open that the table does not name."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from django.db import transaction
from django.urls import get_resolver, reverse
from django.utils import timezone

from orders import papers
from orders.days import supposing
from orders.demo import asked
from orders.keep import taken
from orders.models import (
    Cloth,
    DayOff,
    Enquiry,
    Entry,
    Event,
    Feed,
    HeatTool,
    Incident,
    Mail,
    Order,
    Outside,
    Overtime,
    Parcel,
    Person,
    Piece,
    Replan,
    Trip,
    Visit,
)
from orders.models.paper import Link
from orders.models.parcel import Opening
from tests.pages.callers import CUSTOMER, ROWS, address, answer_to, expected, is_in
from tests.pages.demo_tour import a_photo, open_without_photos

pytestmark = [pytest.mark.django_db]
METHODS = ("GET", "POST", "PUT", "DELETE")


@pytest.fixture(scope="module")
def numbers(django_db_setup, django_db_blocker, tmp_path_factory):
    """Open the demo once and return what can stand in an address of it; rolled back after this module."""
    with django_db_blocker.unblock(), transaction.atomic(), pytest.MonkeyPatch.context() as patch:
        patch.setattr("django.conf.settings.DATA_DIR", tmp_path_factory.mktemp("data"))
        open_without_photos()
        yield _numbers_of_the_demo()
        transaction.set_rollback(True)


def _numbers_of_the_demo():
    aunt = Order.objects.get(title__contains="surprise")
    birthday = Order.objects.get(title="First birthday")
    owner, helper = Person.objects.order_by("pk")
    stage = aunt.stages.get(kind="cut")
    Opening.objects.create(bag=aunt.bags.get(), box=Opening.Box.WHOLE, found=12, by=owner)
    cloth = Cloth.objects.get(name="Forest")
    until = date.today() + timedelta(days=30)
    _, token = Link.objects.give_out(birthday, until=until, by=owner)
    link, _ = Link.objects.give_out(aunt, until=until, by=owner)
    return {
        "order": aunt.number, "bag": aunt.bags.get().pk, "photo": a_photo(of=aunt).pk,
        "her photo": a_photo(of=birthday).pk,
        "her picture": _with_a_photo_in_it(birthday),
        "enquiry": Enquiry.objects.first().pk, "cloth": cloth.pk,
        "piece": cloth.pieces.first().pk,
        "rectangle": Cloth.objects.get(garment__number=8, for_order=aunt).pieces.first().pk,
        "panel": aunt.pieces.first().pk, "her panel": birthday.pieces.first().pk,
        "helper": helper.pk, "stage": stage.pk,
        "deed": Event.objects.at_the_bench().filter(order=aunt).first().pk,
        "day off": DayOff.objects.create(day="2027-07-05").pk,
        "line": aunt.extra_lines.create(words="A pocket", kind="labour", minor=500, added_by=owner).pk,
        "receipt": Entry.objects.filter(order=aunt, kind="payment").first().receipt_number,
        "entry": Entry.objects.filter(order=aunt, kind="payment").first().pk,
        "tag": f"{aunt.number}-07F", "tool": HeatTool.objects.get(is_usual=True).pk,
        "incident": Incident.objects.create(what="stained", order=aunt, by=owner).pk,
        "mail": _mail_about(aunt).pk, "parcel": _parcel_under_way(owner).number,
        "customer": aunt.customer_id, "taken": _taken(owner),
        **_of_the_weeks(aunt, owner),
        "link": link.pk, "token": token, "cut list": papers.cut_list(aunt, by=owner).number,
    }  # fmt: skip


def _taken(owner):
    """Make a file to be fetched."""
    made = taken.ask_for_shop(by=owner)
    taken.folder().mkdir(exist_ok=True)
    taken.file_for(made).write_bytes(b"PK")
    type(made).objects.filter(pk=made.pk).update(state="done", ended_at=timezone.now(), lease_until=None)
    return made.pk


def _mail_about(order):
    words = {"kind": "own", "subject": "Your quilt", "words": "Hello", "key": "table"}
    return Mail.objects.create(order=order, to="The aunt", address="aunt@ferncliff.example", **words)


def _parcel_under_way(owner):
    """Return a quilt that went by parcel yesterday."""
    order = Order.objects.get(title__contains="choir")
    packed = {"address": "The hall", "carrier": "The van", "value": 100, "transit_days": 2, "by": owner}
    Parcel.objects.create(order=order, sent_on=date.today() - timedelta(days=1), **packed)
    return order


def _of_the_weeks(order, owner):
    """Fill the calendar, and return what can stand in its addresses."""
    today = date.today()
    outside = Outside.objects.create(name="A quilter", kind="quilter", lead_days=14)
    trip = {"what": "the top", "waits": "bind", "sent_on": today, "expected_on": today}
    return {
        "week": (today + timedelta(days=7)).isoformat(),
        "change": Replan.objects.create(by=owner, why="A fever").pk,
        "overtime": Overtime.objects.create(person=owner, day="2027-07-06", minutes=60).pk,
        "visit": Visit.objects.create(order=order, kind="look", at=timezone.now()).pk,
        "outside": outside.pk,
        "trip": Trip.objects.create(order=order, outside=outside, **trip).pk,
        "supposed": supposing.ask({"kind": "more", "enquiry": Enquiry.objects.first().pk}).pk,
        "feed": Feed.objects.give_out(by=owner)[1],
    }


def _with_a_photo_in_it(birthday):
    """Keep the picture she was asked about anew, with a photo of one of its shirts; return its number."""
    bag = birthday.bags.get()
    piece = Piece.objects.filter(shirt__bag=bag, order=birthday).first()
    Piece.objects.filter(pk=piece.pk).update(photo=a_photo(of=piece.shirt))
    asked.photograph(bag)
    return birthday.versions.get(replaced_at=None).number


@pytest.fixture
def call(client, numbers):
    """Return a way to call an address as somebody; what it changes is taken back."""

    def call(caller, method, place):
        client.cookies.clear()
        if caller in (Person.Role.OWNER, Person.Role.HELPER):
            client.force_login(Person.objects.get(role=caller))
        elif caller == CUSTOMER:
            client.get(reverse("for-you-open", args=[numbers["token"]]))
        with transaction.atomic():
            answer = client.generic(method, place)
            transaction.set_rollback(True)
        return answer

    return call


def named(resolver):
    for entry in resolver.url_patterns:
        yield from named(entry) if hasattr(entry, "url_patterns") else [entry]


def test_every_address_of_the_site_is_in_the_table():
    assert {pattern.name for pattern in named(get_resolver())} == ROWS.keys()


def test_every_view_says_who_may_open_it():
    assert [p.name for p in named(get_resolver()) if not getattr(p.callback, "callers", ())] == []


@pytest.mark.parametrize("caller", ["nobody", "helper", "owner", "customer"])
@pytest.mark.parametrize("name", ROWS)
def test_each_caller_gets_in_where_the_table_says_and_nowhere_else(call, numbers, name, caller):
    row = ROWS[name]
    place = address(name, row, numbers)
    for method in METHODS:
        who = {"GET": row.look, "POST": row.do}.get(method, "")
        answer = call(caller, method, place)
        if row.sends and is_in(who, caller):
            assert answer.status_code == 404, method
        else:
            assert answer_to(answer) == expected(who, caller), method

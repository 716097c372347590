"""An enquiry that never became an order is forgotten by a tap, or by itself once the shop has set a time."""

from __future__ import annotations

import json
from datetime import datetime
from zoneinfo import ZoneInfo

import pytest
from django.utils import timezone

from orders.background import errands
from orders.customer import old_enquiries
from orders.demo.clock import standing_at
from orders.guards import FORGOTTEN
from orders.keep.rows import all_rows, kinds
from orders.models import Enquiry, Errand, Event, Mail, Paper, Shop
from orders.papers import press
from tests.shop_days import noon_of

pytestmark = pytest.mark.django_db
TELLING = ("Odalys", "odalys@example.invalid", "harbor")


@pytest.fixture(autouse=True)
def shop_folder(settings, tmp_path):
    settings.DATA_DIR = tmp_path / "shop"
    (settings.DATA_DIR / "papers").mkdir(parents=True)


def asked(ada, *, days_ago=0, **more):
    facts = {"name": "Odalys", "reach": "odalys@example.invalid", "what": "harbor", "occasion": "harbor"}
    made = Enquiry.objects.write_down(by=ada, **facts)
    if days_ago:
        more["came_at"] = noon_of(Shop.objects.get(), days_ago=days_ago)
    Enquiry.objects.filter(pk=made.pk).update(**more)
    made.refresh_from_db()
    return made


def mailed(enquiry, **more):
    facts = {"kind": "answer", "subject": "Your quilt", "words": "Hello Odalys", "key": f"k{enquiry.pk}"}
    return Mail.objects.create(enquiry=enquiry, to="Odalys", address=enquiry.reach, **facts | more)


def everything_written():
    rows = [list(all_rows(kind)) for kind in kinds()] + [
        list(Errand.objects.values("cause", "payload", "key"))
    ]
    return json.dumps(rows, ensure_ascii=False, default=str)


def test_nothing_that_tells_of_who_asked_is_left_in_records_or_on_the_disk(shop, ada):
    made = asked(ada)
    mailed(made, state="sent")
    facts = {"enquiry": made.pk, "for": "Odalys", "reach": made.reach}
    paper = Paper.objects.create(kind="estimate", number=9, made_of=facts, made_by=ada)
    press.file_of(paper).write_bytes(b"%PDF Odalys")
    errands.send("ways to take an enquiry", key="w", payload={"enquiry": made.pk}, cause="Odalys")
    assert all(word in everything_written() for word in TELLING)
    for _ in range(2):
        old_enquiries.forget_enquiry(made, by=ada)
    errands.run_due()
    assert [word for word in TELLING if word in everything_written()] == []
    assert list((press.file_of(paper).parent).glob("*.pdf")) == []
    kept = Enquiry.objects.get()
    assert (kept.name, kept.came_at) == (FORGOTTEN, made.came_at)
    assert Event.objects.filter(what="enquiry forgotten").count() == 1


def test_the_mail_that_answers_an_enquiry_writes_no_name_where_names_cannot_go(shop, ada, settings):
    from orders.customer import mailing

    settings.EMAIL_HOST, settings.DEFAULT_FROM_EMAIL = "mail.example", "shop@quilts.example"
    made = asked(ada)
    mailing.mail_enquiry(made, mailing.Letter("answer", "Your quilt", "Hello"), key="k", by=ada)
    assert Event.objects.get(what="mail written").facts == {"mail": Mail.objects.get().pk, "enquiry": made.pk}


def test_one_that_became_an_order_is_forgotten_with_its_customer_alone(shop, ada):
    made = asked(ada)
    order = made.turn_into_order(title="The harbor quilt", by=ada)
    with pytest.raises(old_enquiries.CannotForget, match=f"No. {order.number}"):
        old_enquiries.forget_enquiry(made, by=ada)
    assert Enquiry.objects.get().name == "Odalys"


def test_old_ones_stay_until_the_shop_has_set_a_time(shop, ada):
    asked(ada, days_ago=3000)
    assert old_enquiries.sweep(None) == "Enquiries are kept until somebody forgets them."
    assert Enquiry.objects.get().name == "Odalys"


def test_once_a_time_is_set_older_ones_go_by_themselves_and_no_others(shop, ada):
    shop.enquiries_kept_days = 90
    shop.save()
    gone, declined = asked(ada, days_ago=91), asked(ada, days_ago=91, declined_at=timezone.now())
    young = asked(ada, days_ago=89)
    held = asked(ada, days_ago=91, penciled_until=shop.today())
    answered, ordered = asked(ada, days_ago=91), asked(ada, days_ago=91)
    mailed(answered)
    ordered.turn_into_order(title="A quilt", by=ada)
    assert old_enquiries.sweep(None) == "2 old enquiries forgotten."
    assert old_enquiries.sweep(None) == "0 old enquiries forgotten."
    assert set(Enquiry.objects.filter(name=FORGOTTEN)) == {gone, declined}
    assert set(Enquiry.objects.known()) == {young, held, answered, ordered}


@pytest.mark.parametrize(
    ("came_at", "days", "is_gone"),
    [
        (datetime(2026, 8, 29, 0, 10), 89, False),  # 90 times 24 hours are over: an hour was turned back
        (datetime(2026, 8, 28, 0, 10), 90, False),
        (datetime(2026, 8, 27, 23, 50), 91, True),
    ],
)
def test_days_kept_are_those_of_the_shop_whatever_its_clocks_did_since(shop, ada, came_at, days, is_gone):
    shop.enquiries_kept_days = 90
    shop.save()
    zone = ZoneInfo(shop.time_zone)
    made = asked(ada, came_at=came_at.replace(tzinfo=zone))
    with standing_at(datetime(2026, 11, 26, 23, 30, tzinfo=zone)):
        assert (shop.today() - came_at.date()).days == days
        old_enquiries.sweep(None)
    assert (made in Enquiry.objects.filter(name=FORGOTTEN)) is is_gone


def test_it_is_looked_after_once_a_day():
    assert errands.handlers()["old enquiries"].daily

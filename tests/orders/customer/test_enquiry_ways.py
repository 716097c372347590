"""The ways to take an enquiry: looked for behind the first answer, told one by one, an earlier day kept."""

from datetime import date, timedelta
from decimal import Decimal

import pytest

from orders.background import errands
from orders.customer import enquiries, enquiry_ways
from orders.models import Enquiry, Errand, Order, Stage

pytestmark = pytest.mark.django_db


@pytest.fixture
def hasty(shop):
    shop.rules["terms"]["rush"] = "0.25"
    shop.rules["quilter"] = {"over": "90 in", "rate": {"rate": "0.02", "per": "in2"}, "days": 14,
                             "minutes": 30, "least": None}  # fmt: skip
    shop.save(update_fields=["rules"])
    return shop


@pytest.fixture
def asked(hasty, ada):
    return ask(hasty, ada, 120)


def ask(shop, ada, days, **more):
    facts = {"name": "A grandmother", "reach": "text 555 0142", "shirts": 20} | more
    made = Enquiry.objects.write_down(by=ada, needed_by=shop.today() + timedelta(days=days), **facts)
    enquiries.answer_now(made, shop, by=ada)
    return made


def found(enquiry, shop):
    search = enquiry_ways.look(enquiry, shop)
    errands.run_due()
    search.refresh_from_db()
    assert search.state == "done", search.outcome
    return {way["key"]: way for way in search.payload["ways"]}


def test_each_way_has_its_band_and_its_day(asked, hasty):
    ways = found(asked, hasty)
    assert list(ways) == ["place", "rush", "outside", "smaller"]
    assert ways["place"]["low"] == asked.low
    assert ways["place"]["high"] == asked.high
    assert Decimal(ways["rush"]["high"]) / asked.high == pytest.approx(
        Decimal("1.25"), abs=Decimal("0.05")
    )  # a band is rounded outward
    assert ways["smaller"]["high"] < ways["place"]["high"]
    days = {key: date.fromisoformat(way["fits"]) for key, way in ways.items()}
    assert days["smaller"] <= days["place"] < days["outside"]
    assert all(way["not_before"] <= way["fits"] for way in ways.values())


def test_a_day_too_soon_is_told_later_with_a_card(hasty, ada):
    soon = ask(hasty, ada, 9)
    later = found(soon, hasty)["later"]
    assert later["fits"] > soon.needed_by.isoformat()
    assert "card" in later["words"]
    assert "later" not in found(ask(hasty, ada, 200), hasty)


def test_an_earlier_day_found_by_looking_longer_is_written_down(asked, hasty):
    first = asked.fits_by
    Enquiry.objects.filter(pk=asked.pk).update(fits_by=first + timedelta(days=9))
    found(asked, hasty)
    asked.refresh_from_db()
    assert asked.fits_by == first


def test_the_same_is_looked_for_once_and_changed_work_looks_again(asked, hasty, order):
    first = enquiry_ways.look(asked, hasty)
    assert enquiry_ways.look(asked, hasty).pk == first.pk
    errands.run_due()
    assert enquiry_ways.look(asked, hasty).pk == first.pk
    Stage.objects.create(order=order, kind="bind", position=0, minutes=600)
    assert enquiry_ways.look(asked, hasty).pk != first.pk


def test_nothing_is_looked_for_where_no_day_can_be_told(hasty, ada):
    pillow = ask(hasty, ada, 90, kind=Order.Kind.PILLOW)
    assert enquiry_ways.look(pillow, hasty) is None
    assert not Errand.objects.exists()


def test_its_own_penciled_place_does_not_stand_in_its_way(asked, hasty, ada):
    before = found(asked, hasty)["place"]["fits"]
    asked.pencil_in(days=7, on=hasty.today(), by=ada)
    assert found(asked, hasty)["place"]["fits"] == before

"""A parcel is opened on camera: the closed box first, then what was counted out of it."""

import pytest

from orders.bag import parcels
from orders.models import Bag, Event, Opening, Photo

pytestmark = pytest.mark.django_db


@pytest.fixture
def parcel(order, aunt, ada):
    bag = Bag.objects.create(customer=aunt, brought_by="the carrier", how="parcel", received_by=ada)
    order.bags.add(bag)
    return bag


def photo(by, mark):
    return Photo.objects.create(sha256=mark * 64, sent_sha256=mark * 64, width=3, height=4, received_by=by)


def test_what_was_counted_out_becomes_the_count_of_the_bag(parcel, bo):
    opening = parcels.open_parcel(parcel, box="torn", said=14, found=13, film="Juno’s phone", by=bo)
    parcel.refresh_from_db()
    assert (parcel.count, opening.differs, opening.film) == (13, True, "Juno’s phone")


def test_both_pictures_are_of_the_bag(parcel, bo):
    both = photo(bo, "a"), photo(bo, "b")
    opening = parcels.open_parcel(parcel, box="whole", found=12, photos=both, by=bo)
    assert list(parcel.photos.all()) == [opening.sealed, opening.spread] == list(both)


def test_a_parcel_is_opened_once(parcel, bo, ada):
    first = parcels.open_parcel(parcel, box="whole", found=12, by=bo)
    assert parcels.open_parcel(parcel, box="torn", found=3, by=ada) == first
    parcel.refresh_from_db()
    assert (parcel.count, Opening.objects.count()) == (12, 1)
    assert Event.objects.filter(what="parcel opened").count() == 1


def test_a_sender_who_said_nothing_is_not_contradicted(parcel, bo):
    assert not parcels.open_parcel(parcel, box="whole", found=12, by=bo).differs

"""Where shirts are: one tap, one row, a history that stays."""

import pytest
from django.db import IntegrityError, transaction

from orders.bag import places
from orders.models import Event, Place, Shirt, Stay

pytestmark = pytest.mark.django_db


def test_a_shirt_that_was_put_somewhere_is_there_with_who_and_when(twelve_shirts, bo):
    shirt = twelve_shirts[8]
    places.put([shirt], "cleaner", by=bo, words="Pentland Cleaners")
    stay = places.where(shirt)
    assert (stay.place, stay.words, stay.by) == ("cleaner", "Pentland Cleaners", bo)
    shirt.refresh_from_db()
    assert shirt.place == "cleaner"


def test_the_way_of_a_shirt_through_the_shop_is_kept(twelve_shirts, ada):
    shirt = twelve_shirts[0]
    for place in ("shelf", "washer", "airing", "table"):
        places.put([shirt], place, by=ada)
    assert [stay.place for stay in shirt.stays.newest_first()] == ["table", "airing", "washer", "shelf"]


def test_the_same_tap_twice_is_one_row(twelve_shirts, ada):
    for _ in range(2):
        places.put(twelve_shirts, "washer", by=ada)
    assert Stay.objects.count() == 12
    assert Event.objects.filter(what="put").count() == 1


def test_another_shelf_is_another_place(twelve_shirts, ada):
    shirt = twelve_shirts[0]
    for words in ("bin 3", "bin 4"):
        places.put([shirt], "shelf", by=ada, words=words)
    assert places.where(shirt).words == "bin 4"
    assert shirt.stays.count() == 2


def test_what_has_left_the_shop_is_put_nowhere(twelve_shirts, ada):
    shirt = twelve_shirts[0]
    shirt.give_back(by=ada)
    assert places.put([shirt], "shelf", by=ada) == []


def test_a_place_nobody_has_is_refused(twelve_shirts, ada):
    with pytest.raises(ValueError, match="no place"):
        places.put(twelve_shirts, "attic", by=ada)
    with pytest.raises(IntegrityError), transaction.atomic():
        Stay.objects.create(shirt=twelve_shirts[0], place="attic", by=ada)


def test_where_a_shirt_was_cannot_be_changed_away(twelve_shirts, ada):
    places.put(twelve_shirts, "shelf", by=ada)
    for act in (lambda: Stay.objects.update(place="wall"), lambda: Stay.objects.all().delete()):
        with pytest.raises(IntegrityError, match="stays written"), transaction.atomic():
            act()


def test_piles_hold_every_shirt_of_the_bag_once(order, twelve_shirts, ada):
    places.put(twelve_shirts[:3], "washer", by=ada)
    places.put(twelve_shirts[3:5], "quilter", by=ada)
    found = {pile.place: len(pile.shirts) for pile in places.piles(order)}
    assert found == {"": 7, "washer": 3, "quilter": 2}


@pytest.mark.parametrize("place", Place.values)
def test_each_place_of_the_shop_takes_a_shirt(place, twelve_shirts, ada):
    places.put(twelve_shirts[:1], place, by=ada)
    assert Shirt.objects.filter(place=place).count() == 1

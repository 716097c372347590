"""Where everything of one quilt is: piles by place, the wash, tags, leftovers, a parcel."""

import pytest

from orders import papers
from orders.models import Bag, Paper, Photo, Piece, Shirt, Stay
from tests.cast import add_shirt
from tests.orders.pictures import drawing, saved, upload

pytestmark = pytest.mark.django_db


@pytest.fixture
def signed_in(client, ada):
    client.force_login(ada)
    return client


@pytest.fixture
def place(order):
    return f"/quilts/{order.number}/bag/places/"


def page(client, address):
    answer = client.get(address)
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split()).replace("\N{NO-BREAK SPACE}", " ")


def keys(shirts):
    return [shirt.pk for shirt in shirts]


def test_the_equation_and_every_shirt_stand_there(signed_in, place, twelve_shirts):
    seen = page(signed_in, place)
    assert "<b>12</b> in = <b>12</b> in work + <b>0</b> used" in seen
    assert "Not written down" in seen
    assert seen.count("tag-small") >= 12


def test_one_tap_moves_the_whole_pile(signed_in, place, twelve_shirts, ada):
    answer = signed_in.post(
        place, {"place": "shelf", "words": "bin 3", "shirt": keys(twelve_shirts)}, follow=True
    )
    assert "12 now on the shelf" in answer.content.decode()
    assert set(Shirt.objects.values_list("place", flat=True)) == {"shelf"}
    assert Stay.objects.filter(words="bin 3", by=ada).count() == 12


def test_all_but_some_leaves_those(signed_in, place, twelve_shirts):
    signed_in.post(place, {"place": "table", "shirt": keys(twelve_shirts[:5])})
    assert Shirt.objects.filter(place="table").count() == 5


def test_sent_twice_nothing_is_written_twice(signed_in, place, twelve_shirts):
    for _ in range(2):
        answer = signed_in.post(place, {"place": "wall", "shirt": keys(twelve_shirts)}, follow=True)
    assert Stay.objects.count() == 12
    assert "already" in answer.content.decode()


@pytest.mark.parametrize(
    ("data", "fault"),
    [({"place": "attic", "shirt": [1]}, "Tap the place"), ({"place": "wall"}, "Tick at least one shirt")],
)
def test_a_tap_without_a_place_or_shirt_is_refused(signed_in, place, twelve_shirts, data, fault):
    answer = signed_in.post(place, data)
    assert answer.status_code == 422
    assert fault in answer.content.decode()


def test_a_shirt_of_another_bag_is_not_moved(signed_in, place, twelve_shirts, aunt, ada):
    other = add_shirt(Bag.objects.create(customer=aunt, brought_by="x", count=1, received_by=ada), 40)
    assert signed_in.post(place, {"place": "wall", "shirt": [other.pk]}).status_code == 422
    assert not Stay.objects.exists()


def test_loads_and_what_must_not_be_washed_are_told(signed_in, place, twelve_shirts):
    Shirt.objects.filter(number=3).update(flags=["bleeds"])
    Shirt.objects.filter(number=7).update(wash="never", flags=["scent"])
    seen = page(signed_in, place)
    assert "Load 2" in seen
    assert "Alone: its dye may run" in seen
    assert "Never washed, as it was wished" in seen


def test_a_load_goes_into_the_washer_together(signed_in, place, twelve_shirts):
    loads = signed_in.get(place).context["loads"]
    signed_in.post(place, {"place": "washer", "shirt": keys(loads[0]["shirts"])})
    assert Shirt.objects.filter(place="washer").count() == len(loads[0]["shirts"]) == 12


def test_tags_are_printed_for_the_bag(signed_in, order, twelve_shirts):
    bag = order.bags.get()
    answer = signed_in.post(
        f"/quilts/{order.number}/bag/{bag.pk}/tags/", {"sheet": "labels", "panels": "on", "skipped": 3}
    )
    paper = Paper.objects.get(kind="tags")
    assert answer.url == f"/papers/{paper.number}.pdf"
    assert (len(paper.made_of["tags"]), len(paper.made_of["skipped"])) == (24, 3)


@pytest.mark.parametrize(
    "data", [{"sheet": "cloth"}, {"sheet": "labels", "skipped": 90}, {"sheet": "plain", "skipped": "x"}]
)
def test_tags_on_nothing_known_are_refused_on_the_page(signed_in, order, twelve_shirts, data):
    answer = signed_in.post(f"/quilts/{order.number}/bag/{order.bags.get().pk}/tags/", data)
    assert answer.status_code == 422
    assert not Paper.objects.exists()


def test_a_helper_may_open_tags_and_stop_tags_and_no_receipt(client, order, twelve_shirts, ada, bo):
    client.force_login(bo)
    bag = order.bags.get()
    tags = papers.tags(bag, sheet="plain", panels=False, skipped=0, by=ada)
    assert client.get(f"/papers/{tags.number}.pdf").status_code in (200, 202)
    assert client.get(f"/papers/{papers.stop_tags(order, by=ada).number}.pdf").status_code in (200, 202)
    assert client.get(f"/papers/{papers.intake(bag, by=ada).number}.pdf").status_code == 404
    assert client.get(f"/papers/{papers.in_care(by=ada).number}.pdf").status_code == 404


def test_bundles_of_leftovers_are_ticked_off_by_number(signed_in, order, twelve_shirts):
    order.bags.get().shirts.filter(number__in=[1, 2, 3]).update(state="used")
    address = f"/quilts/{order.number}/bag/leftovers/"
    assert "3 bundles should be here" in page(signed_in, address)
    answer = signed_in.post(address, {"here": keys(twelve_shirts[:2])}, follow=True)
    assert "2 of 3 bundles are here" in answer.content.decode()
    assert "Not there: 03" in answer.content.decode()


def test_a_bundle_of_another_quilt_is_refused(signed_in, order, twelve_shirts):
    order.bags.get().shirts.filter(number=1).update(state="used")
    answer = signed_in.post(f"/quilts/{order.number}/bag/leftovers/", {"here": [twelve_shirts[7].pk]})
    assert answer.status_code == 422


@pytest.fixture
def parcel(order):
    order.bags.update(how="parcel", count=None)
    return f"/quilts/{order.number}/bag/{order.bags.get().pk}/parcel/"


def test_a_parcel_is_opened_with_its_pictures_and_its_count(signed_in, order, parcel, settings, tmp_path):
    settings.DATA_DIR = tmp_path
    data = {
        "box": "torn",
        "said": 14,
        "found": 13,
        "film": "Bo’s phone",
        "sealed": upload(saved(drawing())),
        "spread": upload(saved(drawing(80, 60))),
    }
    seen = signed_in.post(parcel, data, follow=True).content.decode()
    assert "13 counted, 14 said" in seen
    assert order.bags.get().count == 13
    assert Photo.objects.filter(bag=order.bags.get()).count() == 2


@pytest.mark.parametrize(
    ("data", "fault"),
    [
        ({"found": 3}, "Tap how the box came"),
        ({"box": "whole"}, "Count them out"),
        ({"box": "whole", "found": -1}, "greater than or equal to 0"),
    ],
)
def test_a_parcel_with_something_left_out_comes_back_filled(signed_in, order, parcel, data, fault):
    answer = signed_in.post(parcel, data)
    assert answer.status_code == 422
    assert fault in answer.content.decode()
    assert order.bags.get().count is None


def test_more_shirts_ask_no_more_queries(
    signed_in, place, order, twelve_shirts, django_assert_max_num_queries
):
    for number in range(13, 40):
        add_shirt(order.bags.get(), number)
    Piece.objects.update(print_kind="vinyl")
    with django_assert_max_num_queries(32):
        page(signed_in, place)


def three_pictures():
    return [upload(saved(drawing(40 + 10 * at, 60)), name=f"{at}.jpg") for at in range(3)]


def test_several_photos_of_the_opening_are_kept_with_the_parcel(signed_in, order, parcel, settings, tmp_path):
    settings.DATA_DIR = tmp_path
    data = {"box": "whole", "found": 13, "more": three_pictures()}
    assert signed_in.post(parcel, data).status_code == 302
    bag = order.bags.get()
    assert bag.photos.count() == 3
    seen = signed_in.get(parcel).content.decode()
    assert seen.count("/photos/") >= 3
    places = signed_in.get(f"/quilts/{order.number}/bag/places/").content.decode()
    assert "Its photos" in places


def test_photos_can_be_added_to_a_parcel_that_is_open(signed_in, order, parcel, settings, tmp_path):
    settings.DATA_DIR = tmp_path
    assert signed_in.post(f"{parcel}photos/", {"more": three_pictures()}).status_code == 404
    signed_in.post(parcel, {"box": "whole", "found": 13})
    for _ in range(2):  # sent twice, each is one photo
        assert signed_in.post(f"{parcel}photos/", {"more": three_pictures()}).url == parcel
    assert order.bags.get().photos.count() == 3


@pytest.mark.parametrize("count", [0, 11])
def test_no_photo_or_too_many_are_refused_in_words(signed_in, order, parcel, settings, tmp_path, count):
    settings.DATA_DIR = tmp_path
    signed_in.post(parcel, {"box": "whole", "found": 13})
    many = [upload(saved(drawing(40, 60)), name=f"{at}.jpg") for at in range(count)]
    answer = signed_in.post(f"{parcel}photos/", {"more": many})
    assert answer.status_code == 422
    assert ("two goes" if count else "at least one photo") in answer.content.decode()
    assert not order.bags.get().photos.exists()


def test_a_file_that_is_no_photo_is_named_and_the_parcel_waits(signed_in, order, parcel, settings, tmp_path):
    settings.DATA_DIR = tmp_path
    strange = upload(b"Dear diary", name="diary.jpg")
    answer = signed_in.post(parcel, {"box": "whole", "found": 13, "more": [strange]})
    assert answer.status_code == 422
    assert "diary.jpg" in answer.content.decode()
    assert order.bags.get().count is None

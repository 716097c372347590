"""Bags and shirts come in: numbered once, whatever is sent twice, and honest about what is not known."""

from __future__ import annotations

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from orders import planning
from orders.background import photos
from orders.bag import intake, lacking
from orders.bag.panels import PANELS
from orders.colors.colors import middle_color
from orders.forms.shirt_words import ALL_FEELS, FLAGS, WASHES
from orders.models import Event, Order, Photo, Shirt, Stale
from planner.care import needs
from planner.quilt import PRINT_KINDS
from planner.quilt import WASHES as KNOWN_WASHES
from planner.units import INCH, Size
from tests.orders.pictures import GREEN, RED, drawing, saved

pytestmark = pytest.mark.django_db
TEE = intake.Said("tee", "front", "plastisol")


@pytest.fixture(autouse=True)
def _empty_disk(settings, tmp_path):
    settings.DATA_DIR = tmp_path


@pytest.fixture
def bag(order):
    return order.bags.get()


def photo_of(picture, ada):
    return photos.receive(SimpleUploadedFile("shirt.jpg", saved(picture)), by=ada)


def log(bag, order, ada, said=TEE, **more):
    return intake.log_shirt(bag, order, said, by=ada, **more)


def test_shirts_get_their_numbers_one_after_the_other(bag, order, ada):
    assert [log(bag, order, ada).number for _ in range(3)] == [1, 2, 3]
    assert bag.tally().not_logged == 9


def test_a_shirt_sent_twice_is_logged_once(bag, order, ada):
    assert log(bag, order, ada, client_id="one") == log(bag, order, ada, client_id="one")
    assert Shirt.objects.count() == 1
    assert Event.objects.filter(what="logged").count() == 1


def test_numbers_are_counted_on_over_all_bags_of_a_customer_that_are_here(bag, order, aunt, ada):
    log(bag, order, ada)
    second = Order.objects.open(title="Another", customer=aunt, by=ada)
    other = intake.receive_bag(second, by=ada, count=3, brought_by="the aunt")
    assert log(other, second, ada).number == 2


def test_one_bag_serves_two_orders_unless_two_shirts_would_have_one_number(bag, order, aunt, ada):
    log(bag, order, ada)
    second = Order.objects.open(title="Another", customer=aunt, by=ada)
    bag.serve(second, by=ada)
    assert set(bag.orders.all()) == {order, second}
    third = Order.objects.open(title="Third", customer=aunt, by=ada)
    own = intake.receive_bag(third, by=ada, count=1, brought_by="the aunt")
    Shirt.objects.create(bag=own, number=1)
    with pytest.raises(ValueError, match="Both bags have a shirt 01"):
        bag.serve(third, by=ada)


def test_a_bag_sent_twice_is_one_bag(order, ada):
    facts = {"count": 3, "brought_by": "the aunt", "client_id": "a bag"}
    assert intake.receive_bag(order, by=ada, **facts) == intake.receive_bag(order, by=ada, **facts)
    assert order.bags.count() == 2  # the one it had, and this


def test_a_logged_shirt_can_be_planned_with_at_once_from_the_usual_of_its_kind(bag, order, ada):
    log(bag, order, ada)
    [piece] = planning.bag_of(order).pieces
    assert piece.print_size == Size(11 * INCH, 12 * INCH)
    assert piece.cloth == Size(16 * INCH, 18 * INCH)  # within adult S/M of trade handbook 3.1: 15-17 × 17-20


@pytest.mark.parametrize(
    ("keep", "sides"), [("front", ["front"]), ("back", ["back"]), ("both", ["front", "back"])]
)
def test_what_is_not_known_is_named_by_what_it_keeps_from_being_done(bag, order, ada, keep, sides):
    shirt = log(bag, order, ada, intake.Said("tee", keep, "unknown"))
    assert [piece.side for piece in shirt.pieces.order_by("pk")] == sides
    assert lacking.lacks(shirt) == lacking.Lacks(("print size",), ("photo",), ("feel", "fibers"))
    shirt.pieces.all().delete()
    assert lacking.lacks(shirt) == lacking.Lacks(("panel",), ("photo",), ("fibers",))


def test_a_shirt_that_has_left_lacks_nothing_any_more(bag, order, ada):
    shirt = log(bag, order, ada)
    assert lacking.lacks(shirt)
    shirt.give_back(by=ada)
    assert not lacking.lacks(shirt)


def test_a_photo_becomes_the_shirts_and_gives_it_a_color(bag, order, ada):
    photo = photo_of(drawing(640, 480), ada)
    shirt = log(bag, order, ada, photo=photo)
    piece = shirt.pieces.get()
    photo.refresh_from_db()
    assert (photo.shirt, piece.photo) == (shirt, photo)
    assert piece.ground_is_about
    assert close(piece.ground, RED)
    assert lacking.lacks(shirt).all == ("print size", "fibers")


def test_the_second_side_waits_for_a_photo_of_its_own(bag, order, ada):
    shirt = log(bag, order, ada, intake.Said("tee", "both", "vinyl"), photo=photo_of(drawing(), ada))
    assert lacking.lacks(shirt).all == ("photo of the back", "print size", "fibers")
    intake.show_panels_on(
        photos.receive(SimpleUploadedFile("b.png", saved(drawing(), "PNG")), of=shirt), shirt
    )
    assert lacking.lacks(shirt).all == ("print size", "fibers")


def test_the_color_is_that_of_the_cloth_when_the_print_covers_less_of_it(ada):
    shirt = drawing(600, 600)
    shirt.paste((250, 250, 240), (240, 240, 340, 340))  # a pale print: a mean would turn the red pink
    assert close(middle_color(photo_of(shirt, ada)), RED)
    whole = {"x": 0, "y": 0, "width": 100, "height": 100}
    assert close(middle_color(photo_of(shirt, ada), whole), GREEN)


def test_a_photo_whose_file_is_gone_gives_no_color(ada):
    photo = photo_of(drawing(), ada)
    photo.file.unlink()
    assert middle_color(photo) == ""


@pytest.mark.parametrize("shape", [(4000, 3000), (3000, 4000), (300, 3000), (3000, 300)])
@pytest.mark.parametrize("panel", [each for each in PANELS if each.usual.print_size.area], ids=str)
def test_the_usual_box_lies_on_the_photo(shape, panel):
    box = intake.usual_box(panel.usual.print_size, Photo(width=shape[0], height=shape[1]))
    assert min(box.values()) >= 0
    assert min(box["width"], box["height"]) >= 1
    assert box["x"] + box["width"] <= 100
    assert box["y"] + box["height"] <= 100


def test_what_is_true_of_the_bag_is_true_of_its_shirts(order, ada):
    bag = intake.receive_bag(order, by=ada, count=1, brought_by="the aunt", smoke=True, mold=True)
    shirt = log(bag, order, ada)
    assert set(shirt.flags) == {"smoke", "mould"}
    assert bag.hazards == ["mold", "smoke"]


def test_a_second_phone_is_refused_once_and_nothing_is_overwritten(bag, order, ada):
    shirt = log(bag, order, ada)
    theirs = Shirt.objects.get(pk=shirt.pk)
    intake.write_shirt(shirt, seen=1, by=ada, flaws="a hole")
    with pytest.raises(Stale):
        intake.write_shirt(theirs, seen=1, by=ada, flaws="a stain")
    assert Shirt.objects.get(pk=shirt.pk).flaws == "a hole"


def test_a_changed_count_stays_in_the_record(bag, ada):
    intake.write_bag(bag, seen=1, by=ada, count=13)
    assert Event.objects.get(what="counted").facts == {"bag": bag.pk, "before": 12, "count": 13}


def test_every_word_that_can_be_tapped_is_one_the_planner_knows(bag, order, ada):
    assert {word for word, _ in ALL_FEELS} == set(PRINT_KINDS)
    assert {word for word, _ in WASHES} == set(KNOWN_WASHES)
    shirt = log(bag, order, ada)
    shirt.flags = [flag for flag, _ in FLAGS]
    cautions = needs(planning.garment_of(shirt)).cautions
    assert len(cautions) == len(FLAGS) - 1  # fleece alone asks for no care, but for a price


def close(color, rgb):
    return all(
        abs(int(color[at : at + 2], 16) - channel) < 12 for at, channel in zip((1, 3, 5), rgb, strict=True)
    )

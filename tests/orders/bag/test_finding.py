"""Any shirt is found by what stands on its tag, however it is typed or scanned."""

import pytest

from orders.bag.finding import Found, FoundBag, Unknown, find, in_runs, looks_like_a_tag, tag_of
from orders.models import Order
from tests.cast import add_shirt

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    "typed",
    ["{}-09F", "{}-09f", "{}-9F", " {} 09 F ", "{}/09F", "{}–09F", "No. {}-09F", "https://quilts.example/find/{}-09F/",
     "http://192.168.7.4:8000/find/{}-09F/", "{}-09F/"],
)  # fmt: skip
def test_a_tag_is_read_however_it_is_typed_or_scanned(typed, order, twelve_shirts):
    found = find(typed.format(order.number))
    assert isinstance(found, Found)
    assert (found.shirt.number, found.piece.side) == (9, "front")
    assert found.code == f"{order.number}-09F"


def test_a_tag_without_a_side_is_the_whole_shirt(order, twelve_shirts):
    found = find(f"{order.number}-12")
    assert (found.shirt.number, found.piece, found.code) == (12, None, f"{order.number}-12")


def test_a_side_that_is_not_kept_leads_to_its_shirt_and_says_so(order, twelve_shirts):
    found = find(f"{order.number}-09B")
    assert (found.shirt.number, found.piece) == (9, None)
    assert "No panel B" in found.note


def test_a_number_alone_is_the_bag_of_a_quilt(order, twelve_shirts):
    found = find(str(order.number))
    assert isinstance(found, FoundBag)
    assert found.order == order


def test_every_tag_of_the_bag_finds_its_own_shirt(order, twelve_shirts):
    for shirt in twelve_shirts:
        piece = shirt.pieces.get()
        assert find(tag_of(order, shirt)).shirt == shirt
        assert find(tag_of(order, piece)).piece == piece


def test_a_bag_that_serves_two_quilts_is_found_by_either_number(order, twelve_shirts, aunt, ada):
    other = Order.objects.open(title="A pillow of the rest", customer=aunt, by=ada)
    order.bags.get().serve(other, by=ada)
    assert find(f"{other.number}-03").shirt == find(f"{order.number}-03").shirt


@pytest.mark.parametrize("state", ["missing", "returned", "discarded", "used", "struck"])
def test_a_shirt_is_found_wherever_it_went(order, twelve_shirts, state):
    order.bags.get().shirts.filter(number=5).exclude(state="discarded").update(
        state=state if state != "discarded" else "returned"
    )
    assert isinstance(find(f"{order.number}-05"), Found)


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("the blue one", "does not read like a tag"),
        ("31-09F-drop", "No quilt here has the number 31"),
        ("99999999-1", "does not read like a tag"),
        ("-09F", "does not read like a tag"),
        ("999-09F", "No quilt here has the number 999"),
        ("https://elsewhere.example/", "does not read like a tag"),
        ("https://elsewhere.example/shop?item=3", "does not read like a tag"),
        ("٣١-09F", "No quilt here has the number 31"),
        ("", "does not read like a tag"),
    ],
)
def test_an_unknown_code_says_why_and_what_to_do(typed, why, order, twelve_shirts):
    found = find(typed)
    assert isinstance(found, Unknown)
    assert why in found.why
    assert found.helps


def test_a_number_that_is_not_in_the_bag_names_those_that_are(order, twelve_shirts):
    found = find(f"{order.number}-21F")
    assert "its numbers are 01 to 12" in found.why
    assert f"{order.number}-12" in found.like  # two figures turned round
    assert f"{order.number}-01" in found.like  # one figure read wrong
    assert f"{order.number}-07" not in found.like


def test_a_bag_that_is_not_logged_says_what_comes_first(order):
    assert "Log its shirts first" in find(f"{order.number}-01").helps


def test_runs_of_numbers_are_drawn_together():
    assert in_runs([1, 2, 3, 5, 7, 8]) == "01 to 03, 05, 07 to 08"


@pytest.mark.parametrize(
    ("words", "is_one"), [("31-09F", True), ("31-9", True), ("31", False), ("Harrow", False)]
)
def test_words_to_search_for_are_not_taken_for_a_tag(words, is_one):
    assert looks_like_a_tag(words) is is_one


def test_a_group_of_a_tag_of_a_shops_own_word_is_found(order, twelve_shirts):
    shirt = twelve_shirts[0]
    piece = shirt.pieces.create(side="yoke", free_top=8128, free_left=8128, free_right=8128, free_bottom=8128)
    assert find(tag_of(order, piece)).piece == piece
    third = shirt.pieces.create(side="front-3", free_top=8128, free_left=8128)
    assert find(f"{order.number}-01F3").piece == third


def test_a_stranger_number_of_another_bag_is_not_taken(order, twelve_shirts, aunt, ada):
    other = Order.objects.open(title="Another", customer=aunt, by=ada)
    from orders.models import Bag

    bag = Bag.objects.create(customer=aunt, brought_by="the aunt", count=1, received_by=ada)
    other.bags.add(bag)
    add_shirt(bag, 40)
    assert isinstance(find(f"{order.number}-40"), Unknown)
    assert find(f"{other.number}-40").shirt.bag == bag

"""Find a shirt by its tag, and put it somewhere with one tap."""

import pytest

from orders.bag import places
from orders.models import Piece, Stay

pytestmark = pytest.mark.django_db


@pytest.fixture
def signed_in(client, ada):
    client.force_login(ada)
    return client


def page(client, address, status=200):
    answer = client.get(address)
    assert answer.status_code == status
    return " ".join(answer.content.decode().split()).replace("\N{NO-BREAK SPACE}", " ")


def test_a_scanned_tag_shows_its_shirt_where_it_is_and_what_it_bears(signed_in, order, twelve_shirts, bo):
    Piece.objects.filter(shirt__number=9).update(print_kind="foil")
    places.put([twelve_shirts[8]], "cleaner", by=bo, words="Pentland Cleaners")
    seen = page(signed_in, f"/find/{order.number}-09F/")
    for words in (
        f"{order.number}-09F",
        "At the cleaner’s, Pentland Cleaners",
        "Bo",
        "Never above 250 °F",
        "turn to one dot",
    ):
        assert words in seen


def test_a_typed_number_leads_to_the_same_page(signed_in, order, twelve_shirts):
    assert f"{order.number}-09F" in page(signed_in, f"/find/?code={order.number}+9+f")


def test_a_bin_label_leads_to_where_everything_of_it_is(signed_in, order, twelve_shirts):
    assert signed_in.get(f"/find/{order.number}/").url == f"/quilts/{order.number}/bag/places/"


def test_a_tag_typed_into_the_search_for_quilts_finds_the_shirt(signed_in, order, twelve_shirts):
    answer = signed_in.get("/quilts/", {"find": f"{order.number}-09F"}, follow=True)
    assert answer.context["found"].shirt.number == 9


@pytest.mark.parametrize("code", ["999-09F", "gibberish", "1-99", "<script>", "%E2%82%AC", "9" * 300])
def test_an_unknown_code_gets_a_clear_page_that_says_what_to_do(signed_in, order, twelve_shirts, code):
    seen = page(signed_in, f"/find/{code}/", status=404)
    assert "No shirt of that number" in seen
    assert "lay it aside, away from the other bags" in seen
    assert "<script>" not in seen.replace('<script src="', "")


def test_numbers_that_look_like_it_are_offered(signed_in, order, twelve_shirts):
    assert f'href="/find/{order.number}-12/"' in page(signed_in, f"/find/{order.number}-21F/", status=404)


def test_a_stranger_who_scans_a_tag_sees_the_door_and_no_shirt(client, order, twelve_shirts):
    answer = client.get(f"/find/{order.number}-09F/")
    assert answer.status_code == 302
    assert answer.url.startswith("/sign-in/?next=/find/")


def test_a_helper_finds_shirts_without_money_or_contacts(client, order, twelve_shirts, aunt, bo):
    client.force_login(bo)
    seen = page(client, f"/find/{order.number}-09F/")
    for hidden in ("$", aunt.phone, aunt.name, "Account"):
        assert hidden not in seen


def test_one_tap_puts_it_somewhere(signed_in, order, twelve_shirts, ada):
    address = f"/find/{order.number}-09F/"
    assert signed_in.post(f"{address}place/", {"place": "airing", "words": ""}).url == address
    assert places.where(twelve_shirts[8]).place == "airing"
    seen = page(signed_in, address)
    assert "is airing" in seen
    assert "Airing" in seen


def test_tapped_twice_it_is_there_once(signed_in, order, twelve_shirts):
    for _ in range(2):
        signed_in.post(f"/find/{order.number}-09F/place/", {"place": "wall"})
    assert Stay.objects.count() == 1


@pytest.mark.parametrize("place", ["", "attic", "SHELF"])
def test_a_place_nobody_has_is_refused_in_words(signed_in, order, twelve_shirts, place):
    answer = signed_in.post(f"/find/{order.number}-09F/place/", {"place": place})
    assert answer.status_code == 422
    assert "Tap the place" in answer.content.decode()
    assert not Stay.objects.exists()


def test_looking_changes_nothing_and_putting_wants_a_post(signed_in, order, twelve_shirts):
    page(signed_in, f"/find/{order.number}-09F/")
    assert not Stay.objects.exists()
    assert signed_in.get(f"/find/{order.number}-09F/place/").status_code == 405
    assert signed_in.post("/find/1-99/place/", {"place": "wall"}).status_code == 404


def test_a_shirt_that_went_back_says_so_and_cannot_be_put(signed_in, order, twelve_shirts, ada):
    twelve_shirts[8].give_back(by=ada)
    seen = page(signed_in, f"/find/{order.number}-09/")
    assert "It is not here: returned whole" in seen
    assert "On the shelf" not in seen


def test_an_empty_form_asks_for_the_number_and_names_who_is_missing(signed_in, order, twelve_shirts, ada):
    twelve_shirts[4].miss(by=ada)
    seen = page(signed_in, "/find/")
    assert "The number on the tag" in seen
    assert f"{order.number}-05" in seen


def test_a_long_history_asks_no_more_queries(
    signed_in, order, twelve_shirts, ada, django_assert_max_num_queries
):
    for number in range(30):
        places.put([twelve_shirts[8]], ("shelf", "table")[number % 2], by=ada)
    with django_assert_max_num_queries(22):
        page(signed_in, f"/find/{order.number}-09F/")


def test_it_says_what_it_may_be_washed_with(signed_in, order, twelve_shirts):
    shirts = order.bags.get().shirts
    shirts.exclude(number__in=[1, 2, 3]).update(wash="ready")
    shirts.filter(number=3).update(wash="never")
    assert "Washed with 02." in page(signed_in, f"/find/{order.number}-01/")
    assert "Never washed, as it was wished" in page(signed_in, f"/find/{order.number}-03/")
    shirts.filter(number=2).update(flags=["bleeds"])
    assert "Washed alone." in page(signed_in, f"/find/{order.number}-01/")


def test_what_breaks_a_needle_and_what_is_no_cloth_is_said(signed_in, order, twelve_shirts):
    order.bags.get().shirts.filter(number=2).update(flags=["zip"])
    order.bags.get().shirts.filter(number=4).update(flags=["plastic"])
    assert "Breaks needles:</b> a zip" in page(signed_in, f"/find/{order.number}-02F/")
    assert "Not sewn in as cloth" in page(signed_in, f"/find/{order.number}-04F/")
    assert "Breaks needles" not in page(signed_in, f"/find/{order.number}-01F/")

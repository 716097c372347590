"""Pins and needles, the measured top, cloth to cut: each page question for what is counted there."""

import pytest

from orders import papers
from orders.background import errands
from orders.models import Cloth, Event, Incident
from tests.orders.workbench import draw

pytestmark = pytest.mark.django_db
COUNT = {"needles_out": 3, "needles_back": 3, "pins_out": 40, "pins_back": 40}


@pytest.fixture
def laid(order, twelve_shirts, shop, shelf, ada):
    order.cloth = {"sashing": "Forest", "binding": "Forest", "cornerstone": "Gold"}
    order.save()
    return draw(order, shop, ada)


@pytest.fixture
def sewn(laid):
    laid.blocks.update(progress="joined")
    return laid


@pytest.fixture
def signed_in(client, ada):
    client.force_login(ada)
    return client


def room(order, place=""):
    return f"/quilts/{order.number}/bench/{place}{'/' if place else ''}"


def words(client, address):
    answer = client.get(address)
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split()).replace("\N{NO-BREAK SPACE}", " ")


def test_the_count_is_asked_for_once_the_quilt_is_quilted(signed_in, sewn, ada):
    assert "Needles out" not in words(signed_in, room(sewn))
    sewn.stages.get(kind="quilt").finish(by=ada)
    assert "Needles out" in words(signed_in, room(sewn))
    assert signed_in.post(room(sewn, "needles"), COUNT).url == room(sewn)
    assert "3 of 3 needles, 40 of 40 pins" in words(signed_in, room(sewn))


@pytest.mark.parametrize(
    "change", [{"pins_back": ""}, {"pins_back": "-1"}, {"needles_out": "many"}, {"pins_out": "99999"}]
)
def test_a_count_that_makes_no_sense_comes_back_filled_in(signed_in, sewn, ada, change):
    sewn.stages.get(kind="quilt").finish(by=ada)
    answer = signed_in.post(room(sewn, "needles"), COUNT | change)
    assert answer.status_code == 422
    assert 'value="40"' in answer.content.decode()
    assert not Event.objects.filter(what="pins and needles counted").exists()


def test_finishing_without_a_count_says_what_comes_first(signed_in, sewn):
    stage = sewn.stages.get(kind="finish")
    answer = signed_in.post(f"/stages/{stage.pk}/finish/")
    assert answer.status_code == 422
    assert "Count the pins and needles" in answer.content.decode()


def test_the_measured_top_is_shown_with_what_it_takes(signed_in, sewn):
    assert signed_in.post(room(sewn, "top"), {"across": "48 3/8", "down": "64", "left": "65"}).url == room(
        sewn
    )
    seen = words(signed_in, room(sewn))
    assert "48⅜ × 64 in" in seen
    assert "The left edge is off the middle" in seen
    assert "Binding" in seen


@pytest.mark.parametrize(
    "sides", [{}, {"across": "48"}, {"across": "-48", "down": "64"}, {"across": "48.3", "down": "9000"}]
)
def test_sides_that_make_no_sense_are_refused_at_their_field(signed_in, sewn, sides):
    answer = signed_in.post(room(sewn, "top"), sides)
    assert answer.status_code == 422
    sewn.refresh_from_db()
    assert sewn.top == {}


def sheet(client, order, name="Forest"):
    every = client.get(room(order, "cloth")).context["cloths"]
    return next(each for each in every if each["cuts"].cloth == name)


def test_cloth_to_cut_shows_its_picture_its_key_and_the_blade(signed_in, laid):
    seen = words(signed_in, room(laid, "cloth"))
    for said in ("How Forest is cut", "sashing", "Rotary cutter", "All as on the sheet"):
        assert said in seen


def test_one_tap_enters_all_as_on_the_sheet_and_twice_is_once(signed_in, laid):
    sent = {"sheet": sheet(signed_in, laid)["print"], "client_id": "tap"}
    for _ in range(2):
        assert signed_in.post(room(laid, "cloth/cut"), sent).status_code == 302
    assert Event.objects.filter(what="cloth cut").count() == 1
    assert "is cut for this quilt already" in words(signed_in, room(laid, "cloth"))


def test_a_sheet_that_changed_since_is_looked_at_again(signed_in, laid):
    old = sheet(signed_in, laid)["print"]
    Cloth.objects.get(name="Forest").pieces.update(width=39 * 8128)
    answer = signed_in.post(room(laid, "cloth/cut"), {"sheet": old, "client_id": "tap"})
    assert answer.status_code == 409
    assert not Event.objects.filter(what="cloth cut").exists()


@pytest.mark.parametrize("left", ["-3", "a bit", "9999"])
def test_leftovers_below_nothing_or_beyond_the_piece_are_refused(signed_in, laid, left):
    sent = {"sheet": sheet(signed_in, laid)["print"], "client_id": "tap", "left": left}
    answer = signed_in.post(room(laid, "cloth/cut"), sent)
    assert answer.status_code == 422
    again = next(each["form"] for each in answer.context["cloths"] if each["cuts"].cloth == "Forest")
    assert again.errors["left"]
    assert f'value="{left}"' in answer.content.decode()
    assert not Event.objects.filter(what="cloth cut").exists()


def test_the_pictures_are_printed(signed_in, laid, ada):
    assert signed_in.post(room(laid, "cloth/paper")).status_code == 302
    errands.run_due()
    paper = laid.papers.get(kind="cloth cuts")
    assert [each["cloth"] for each in paper.made_of["cloths"]] == ["Forest", "Gold"]
    assert papers.bytes_of(paper).startswith(b"%PDF")


def test_without_a_layout_there_is_nothing_to_cut(signed_in, order):
    assert "come with the layout" in words(signed_in, room(order, "cloth"))
    assert signed_in.post(room(order, "cloth/paper")).status_code == 404


@pytest.mark.parametrize("place", ["needles", "top", "cloth/cut", "cloth/paper"])
def test_a_get_and_whoever_is_signed_out_change_nothing(client, laid, ada, place):
    assert client.post(room(laid, place), COUNT).url.startswith("/sign-in/")
    client.force_login(ada)
    assert client.get(room(laid, place)).status_code == 405
    assert (
        client.post(
            f"/quilts/99/bench/{place}/",
            COUNT | {"across": "48", "down": "64", "sheet": "x", "client_id": "y"},
        ).status_code
        == 404
    )


def test_a_helper_cuts_counts_and_measures_without_money(client, laid, bo):
    client.force_login(bo)
    assert "$" not in words(client, room(laid, "cloth"))
    assert client.post(room(laid, "needles"), COUNT).status_code == 302
    assert client.post(room(laid, "top"), {"across": "48", "down": "64"}).status_code == 302


def test_the_needle_that_broke_is_asked_about_until_all_of_it_is_found(client, sewn, ada, bo):
    client.force_login(bo)
    client.post(room(sewn, "machine/incident"), {"what": "needle", "client_id": "r"})
    made = Incident.objects.get()
    assert "is all of it found?" in words(client, f"/incidents/{made.pk}/")
    assert client.post(f"/incidents/{made.pk}/needle/", {}).status_code == 422
    client.post(f"/incidents/{made.pk}/needle/", {"found": "yes"})
    made.refresh_from_db()
    assert made.all_found is True


def test_a_way_on_leads_to_where_it_goes_on(client, laid, ada):
    from orders.bench import work
    from tests.orders.workbench import say_yes_to_cut

    client.force_login(ada)
    say_yes_to_cut(laid, ada)
    work.do_pile(laid, "cut", laid.blocks.values_list("pk", flat=True), by=ada)
    block = laid.blocks.exclude(piece=None).first()
    client.post(
        room(laid, "iron/incident"),
        {"what": "melted", "block": block.pk, "batch": [block.pk], "client_id": "r"},
    )
    made = Incident.objects.get()
    assert "back on the shopping list" in words(client, f"/incidents/{made.pk}/")
    assert (
        client.post(f"/incidents/{made.pk}/settlement/", {"outcome": "recut"}).url
        == f"/quilts/{laid.number}/bag/yes/"
    )

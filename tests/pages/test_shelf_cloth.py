"""A cloth: added, written, put on the shelf, used up, put away."""

from __future__ import annotations

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from orders.background import darkroom, errands
from orders.models import Cloth, ClothPiece, Photo
from planner.units import INCH, METRE, YARD
from tests.orders.pictures import drawing, saved

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _empty_disk(settings, tmp_path):
    settings.DATA_DIR = tmp_path


@pytest.fixture
def owner(client, shelf, ada):
    client.force_login(ada)
    return client


SAID = {
    "name": "Fern on cream", "kind": "cotton", "usable": "42", "price": "12.50", "ground": "#f0ead0",
    "place": "left", "step": str(YARD // 8),
}  # fmt: skip


def test_a_new_cloth_is_kept_exactly(owner):
    answer = owner.post("/shelf/new/", SAID)
    cloth = Cloth.objects.get(name="Fern on cream")
    assert answer.url == f"/shelf/{cloth.pk}/"
    assert (cloth.usable, cloth.price, cloth.step, cloth.price_per) == (42 * INCH, "1250", YARD // 8, "yd")
    assert 'value="12.50"' in owner.get(answer.url).content.decode()


def test_its_photo_is_its_swatch_and_gives_the_color_that_nobody_picked(owner):
    plain = SAID | {"ground": "", "photo": SimpleUploadedFile("fern.jpg", saved(drawing(400, 400)))}
    owner.post("/shelf/new/", plain)
    cloth = Cloth.objects.get(name="Fern on cream")
    assert cloth.swatch.cloth == cloth
    assert cloth.ground.startswith("#")


def test_a_bolt_comes_in_with_its_photo_width_length_lot_wash_and_direction_in_one_form(owner):
    said = SAID | {
        "photo": SimpleUploadedFile("fern.jpg", saved(drawing(400, 400))), "width": "44", "length": "2 1/2",
        "lot": "62", "wash": "soak first", "directional": "on", "shows": "8",
    }  # fmt: skip
    owner.post("/shelf/new/", said)
    cloth = Cloth.objects.get(name="Fern on cream")
    assert (cloth.width, cloth.usable, cloth.shows) == (44 * INCH, 42 * INCH, 8 * INCH)
    assert (cloth.lot, cloth.wash, cloth.directional) == ("62", "soak first", True)
    assert cloth.on_hand == YARD * 5 // 2


def test_an_interfacing_keeps_what_it_bonds_at_and_a_cotton_has_none(owner):
    owner.post("/shelf/new/", SAID | {"name": "Knit fusible", "kind": "tricot", "bonds_at": "270"})
    owner.post("/shelf/new/", SAID | {"bonds_at": "270"})
    kept = dict(
        Cloth.objects.filter(name__in=["Knit fusible", "Fern on cream"]).values_list("name", "bonds_at")
    )
    assert kept == {"Knit fusible": 270, "Fern on cream": None}
    words = " ".join(owner.get("/shelf/").content.decode().replace("\N{NO-BREAK SPACE}", " ").split())
    assert "bonds at 270 °F" in words


def test_in_a_metric_shop_degrees_are_typed_in_celsius_and_never_kept_cooler(owner, shop):
    type(shop).objects.update(unit="cm")
    owner.post(
        "/shelf/new/", SAID | {"step": str(METRE // 10), "kind": "tricot", "bonds_at": "135", "usable": "150"}
    )
    cloth = Cloth.objects.get(name="Fern on cream")
    assert cloth.bonds_at == 275
    assert 'value="135"' in owner.get(f"/shelf/{cloth.pk}/").content.decode()


def test_a_photo_is_kept_when_another_field_has_a_fault(owner):
    photo = SimpleUploadedFile("fern.jpg", saved(drawing(400, 400)))
    answer = owner.post("/shelf/new/", SAID | {"usable": "", "photo": photo})
    assert answer.status_code == 422
    assert "The photo is kept" in answer.content.decode()
    owner.post("/shelf/new/", SAID | {"kept_photo": str(Photo.objects.get().pk)})
    assert Cloth.objects.get(name="Fern on cream").swatch == Photo.objects.get()


def test_the_look_is_described_in_the_background_and_said_on_the_page(owner):
    owner.post("/shelf/new/", SAID | {"photo": SimpleUploadedFile("fern.jpg", saved(drawing(400, 400)))})
    cloth = Cloth.objects.get(name="Fern on cream")
    assert "Its look is being worked out" in owner.get(f"/shelf/{cloth.pk}/").content.decode()
    errands.run_due()
    words = owner.get(f"/shelf/{cloth.pk}/").content.decode()
    assert "green, red" in words or "red, green" in words
    assert "Colors are approximate" in words


def test_a_cloth_is_bought_in_the_steps_of_its_counter(owner):
    owner.post("/shelf/new/", SAID | {"step": str(YARD // 4)})
    cloth = Cloth.objects.get(name="Fern on cream")
    assert cloth.step == YARD // 4
    kept = f'<option value="{YARD // 4}" selected>'
    assert kept in owner.get(f"/shelf/{cloth.pk}/").content.decode()
    owner.post(f"/shelf/{cloth.pk}/", SAID | {"version": "1", "price": "13", "step": str(YARD // 4)})
    cloth.refresh_from_db()
    assert (cloth.price, cloth.step) == ("1300", YARD // 4)


def test_a_metric_counter_cuts_by_the_tenth_unless_said_otherwise(owner, shop):
    type(shop).objects.update(unit="cm")
    assert f'<option value="{METRE // 10}" selected>' in owner.get("/shelf/new/").content.decode()
    owner.post("/shelf/new/", SAID | {"usable": "110", "step": str(METRE // 10)})
    owner.post("/shelf/new/", SAID | {"name": "Half", "usable": "110", "step": str(METRE // 2)})
    kept = dict(Cloth.objects.filter(name__in=["Fern on cream", "Half"]).values_list("name", "step"))
    assert kept == {"Fern on cream": METRE // 10, "Half": METRE // 2}


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"step": "7"}, "Choose one of the steps"),
        ({"width": "40", "usable": "42"}, "more than the width of the bolt"),
        ({"width": "-40"}, "not a length"),
        ({"length": "-1"}, "not a length"),
        ({"shows": "0"}, "or more"),
        ({"bonds_at": "hot", "kind": "tricot"}, "Type the degrees"),
        ({"name": ""}, "Type a name"),
        ({"name": "forest"}, "There is a cloth of this name"),
        ({"usable": ""}, "Measure between the selvages"),
        ({"usable": "12.3 in"}, "12 19/64 in or 12 5/16 in"),
        ({"usable": "0"}, "or more"),
        ({"price": "cheap"}, "Type an amount"),
        ({"price": "12.345"}, "Type an amount"),
        ({"price": "-1"}, "A price is 0 or more"),
        ({"quarter_price": "cheap"}, "Type an amount"),
        ({"quarter_price": "3.005"}, "Type an amount"),
        ({"quarter_price": "0"}, "Type what one costs"),
        ({"quarter_price": "-3"}, "A price is 0 or more"),
        ({"quarter_price": "99999999999999999999"}, "Type what one costs"),
    ],
)
def test_a_fault_stands_beside_its_field_and_what_was_typed_stays(owner, change, fault):
    answer = owner.post("/shelf/new/", SAID | {"lot": "lot sixty-two"} | change)
    assert answer.status_code == 422
    assert fault in answer.content.decode()
    assert "lot sixty-two" in answer.content.decode()
    assert Cloth.objects.count() == 7


def test_a_text_file_as_swatch_is_refused(owner):
    answer = owner.post("/shelf/new/", SAID | {"photo": SimpleUploadedFile("fern.jpg", b"no photo")})
    assert answer.status_code == 422
    assert darkroom.NOT_A_PHOTO in answer.content.decode()
    assert Cloth.objects.count() == 7


def test_what_a_fat_quarter_costs_is_kept_exactly_and_empty_means_none_are_sold(owner):
    owner.post("/shelf/new/", SAID | {"quarter_price": "3.25"})
    cloth = Cloth.objects.get(name="Fern on cream")
    assert cloth.quarter_price == 325
    page = owner.get(f"/shelf/{cloth.pk}/").content.decode()
    assert "Also sold as fat quarters, 18 × 22 in, each at" in page
    assert 'value="3.25"' in page
    owner.post(f"/shelf/{cloth.pk}/", SAID | {"version": "1", "quarter_price": ""})
    assert Cloth.objects.get(pk=cloth.pk).quarter_price is None


def test_a_fault_in_the_price_of_a_fat_quarter_stands_beside_it(owner):
    page = owner.post("/shelf/new/", SAID | {"quarter_price": "0"}).content.decode()
    beside = page[page.index("Also sold as fat quarters, 18 × 22 in, each at") :][:900]
    assert "Type what one costs" in beside


def test_a_metric_shop_has_the_metric_fat_quarter(owner, shop):
    type(shop).objects.update(unit="cm")
    page = owner.get("/shelf/new/").content.decode()
    assert "Also sold as fat quarters, 50 × 55 cm, each at" in page


def test_no_price_means_no_more_can_be_bought(owner):
    owner.post("/shelf/new/", SAID | {"price": ""})
    assert Cloth.objects.get(name="Fern on cream").price_minor is None


def test_a_second_phone_sees_both_and_loses_nothing(owner, shelf):
    address, said = f"/shelf/{shelf[0].pk}/", SAID | {"name": "Forest", "version": "1"}
    assert owner.post(address, said | {"price": "13"}).status_code == 302
    late = owner.post(address, said | {"price": "14"})
    assert late.status_code == 409
    assert "13.00" in late.content.decode()
    assert Cloth.objects.get(pk=shelf[0].pk).price == "1300"


def test_a_piece_is_put_there_once_and_used_up_with_an_undo(owner, shelf):
    tricot = shelf[5]
    for _ in range(2):
        owner.post(f"/shelf/{tricot.pk}/pieces/", {"length": "1 5/8", "client_id": "bolt-1"})
    piece = ClothPiece.objects.get(cloth=tricot)
    assert (piece.length, piece.width) == (YARD * 13 // 8, 60 * INCH)
    page = owner.post(f"/shelf/{tricot.pk}/pieces/{piece.pk}/end/", follow=True).content.decode()
    assert "None lies here" in page
    assert f'action="/shelf/{tricot.pk}/pieces/{piece.pk}/back/"' in page
    owner.post(f"/shelf/{tricot.pk}/pieces/{piece.pk}/back/")
    piece.refresh_from_db()
    assert piece.used_up_at is None


@pytest.mark.parametrize(
    ("length", "fault"), [("", "Type its length"), ("-1", "not a length"), ("0", "or more")]
)
def test_a_piece_needs_a_length(owner, shelf, length, fault):
    answer = owner.post(f"/shelf/{shelf[0].pk}/pieces/", {"length": length})
    assert answer.status_code == 422
    assert fault in answer.content.decode()


def test_a_narrow_piece_is_told_apart_and_not_counted_as_whole_width(owner, shelf, ada):
    shelf[0].put_on_shelf(2 * YARD, by=ada, width=20 * INCH)
    page = owner.get(f"/shelf/{shelf[0].pk}/").content.decode().replace("\N{NO-BREAK SPACE}", " ")
    assert "3 yd on hand" in page
    assert "only 20 in wide" in page


def test_put_away_and_brought_back(owner, shelf):
    owner.post(f"/shelf/{shelf[0].pk}/away/")
    assert Cloth.objects.get(pk=shelf[0].pk).put_away_at is not None
    owner.post(f"/shelf/{shelf[0].pk}/back/")
    assert Cloth.objects.get(pk=shelf[0].pk).put_away_at is None


def test_a_helper_may_use_cloth_up_but_sees_no_price(client, shelf, bo):
    client.force_login(bo)
    piece = shelf[0].pieces.get()
    assert client.get(f"/shelf/{shelf[0].pk}/").status_code == 403
    assert client.post("/shelf/new/", SAID).status_code == 403
    assert client.post(f"/shelf/{shelf[0].pk}/pieces/", {"length": "1"}).status_code == 403
    assert client.post(f"/shelf/{shelf[0].pk}/pieces/{piece.pk}/end/").url == "/shelf/"


@pytest.mark.parametrize("what", ["pieces/", "pieces/1/end/", "pieces/1/back/", "away/", "back/"])
def test_what_changes_something_is_no_link(owner, shelf, what):
    assert owner.get(f"/shelf/{shelf[0].pk}/{what}").status_code == 405
    assert owner.post(f"/shelf/999/{what}", {"length": "1"}).status_code == 404


def test_outside(client, shelf):
    assert client.post("/shelf/new/", SAID).url.startswith("/sign-in/")

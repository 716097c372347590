"""What all screens share: the ways around, what is said, and how a form is drawn."""

import re

import pytest

from tests.pages import shell_site

pytestmark = [pytest.mark.django_db, pytest.mark.urls(shell_site.__name__)]


def page(client, person, address="/today/"):
    client.force_login(person)
    return client.get(address).content.decode()


def links(text, navigation):
    part = text[text.index(f'aria-label="{navigation}"') :].split("</nav>")[0]
    return re.findall(r'<a href="([^"]+)"', part)


def test_the_owner_finds_all_six_places(client, ada):
    assert links(page(client, ada), "Main") == [
        f"/{place}/" for place in ("today", "quilts", "weeks", "shelf", "books", "workroom")
    ]


def test_a_helper_is_shown_only_the_places_that_open(client, bo):
    text = page(client, bo)
    assert links(text, "Main") == ["/today/", "/quilts/"]
    assert links(text, "Rooms of this order") == [f"/quilts/31/{room}/" for room in shell_site.FLOORS]


def test_the_place_of_a_page_is_lit_also_deeper_down(client, ada):
    assert 'href="/today/" aria-current="page"' in page(client, ada)
    assert 'href="/quilts/" aria-current="true"' in page(client, ada, "/quilts/31/bag/")


def test_the_open_room_lies_on_top(client, ada):
    assert 'href="/quilts/31/quilt/" aria-current="true"' in page(client, ada)


def test_the_first_link_leads_past_the_rail(client, ada):
    first = re.search(r"<a [^>]+>", page(client, ada))[0]
    assert 'href="#main"' in first


def test_the_foot_names_the_shop_and_the_person_and_lets_out(client, ada):
    foot = page(client, ada).split('class="foot"')[1]
    assert "The workroom, Alder Steps" in foot
    assert "Ada" in foot
    assert 'action="/sign-out/"' in foot


def test_a_deed_is_told_once_with_its_way_back(client, ada):
    text = page(client, ada, "/today/?tell=1")
    assert "02 and 11 traded places." in text
    assert '<form method="post" action="/undone/">' in text
    assert "traded places" not in page(client, ada)


def test_every_field_has_its_label_and_no_placeholder(client, ada):
    text = page(client, ada)
    assert "placeholder" not in text
    for field in ("who", "shirts", "needed_by", "width", "cloth", "wishes", "photo"):
        assert f'<label for="id_{field}">' in text


def test_a_field_suits_the_phones_keyboard(client, ada):
    text = page(client, ada)
    tag = {name: re.search(rf'<(input|textarea)[^>]*name="{name}"[^>]*>', text)[0] for name in
           ("who", "shirts", "needed_by", "weight")}  # fmt: skip
    assert 'inputmode="numeric"' in tag["shirts"]
    assert 'inputmode="decimal"' in tag["weight"]
    assert 'type="date"' in tag["needed_by"]
    assert 'autocomplete="off"' in tag["who"]


def test_a_date_comes_back_as_the_browser_wants_it(client, ada):
    client.force_login(ada)
    text = client.post("/today/", {"needed_by": "2027-05-22"}).content.decode()
    assert 'value="2027-05-22"' in re.search(r'<input[^>]*name="needed_by"[^>]*>', text)[0]


def test_a_form_that_came_back_keeps_what_was_typed_and_names_each_fault_beside_its_field(client, ada):
    client.force_login(ada)
    answer = client.post("/today/", {"width": "50", "wishes": "<b>blue</b>"})
    text = answer.content.decode()
    assert answer.status_code == 422
    assert 'value="50"' in text
    assert "&lt;b&gt;blue" in text
    who = re.search(r'<input[^>]*name="who"[^>]*>', text)[0]
    assert 'aria-describedby="id_who-fault"' in who
    assert who.count("aria-invalid") == 1
    assert re.search(r'id="id_who-fault".*?Type a name\.', text, re.S)


def test_hint_and_unit_are_read_out_with_the_field(client, ada):
    width = re.search(r'<input[^>]*name="width"[^>]*>', page(client, ada))[0]
    assert 'aria-describedby="id_width-unit id_width-hint"' in width


def test_the_list_of_faults_leads_to_each_field(client, ada):
    client.force_login(ada)
    text = client.post("/today/", {}).content.decode()
    faults = text.split('class="faults"')[1].split("</div>")[0]
    targets = re.findall(r'href="#([^"]+)"', faults)
    assert targets == ["id_who", "id_what_0", "id_shirts", "id_width", "id_cloth"]
    assert all(f'id="{target}"' in text for target in targets)


def test_every_icon_that_is_drawn_is_on_the_sheet(client, ada):
    drawn = set(re.findall(r'icons\.svg#([a-z]+)"', page(client, ada)))
    there = set(re.findall(r'<symbol id="([a-z]+)"', (shell_site.STATIC / "icons.svg").read_text()))
    assert drawn <= there

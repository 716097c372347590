"""The cloth section of the Quilt room: the pile by color, heaps with reasons, the pick at once."""

from __future__ import annotations

import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from orders.models import Cloth, Order, Piece
from planner.units import INCH, YARD
from tests.pages.quilt_room import QuiltRoom, words_of

pytestmark = pytest.mark.django_db

COLORS = ["#1f2a4d", "#2350b0", "#6ca0d8", "#2c5aa0", "#ffffff", "#b0b0b0", "#b3202c", "#234a34", "#e2a71e"]


@pytest.fixture
def room(client, ada, order, shop, shelf, twelve_shirts):
    for piece, color in zip(Piece.objects.order_by("pk"), COLORS * 2, strict=False):
        Piece.objects.filter(pk=piece.pk).update(ground=color)
    for name, color in (("Charcoal", "#4a4a4d"), ("Signal red", "#d0202a"), ("Plain white", "#fbfbf9")):
        cloth = Cloth.objects.create(name=name, usable=40 * INCH, step=YARD // 8, price="1200", ground=color)
        cloth.put_on_shelf(3 * YARD, by=ada)
    client.force_login(ada)
    return QuiltRoom(client, order)


def section(room, query=""):
    """Return the cloth section of the page."""
    page = room.text(query)
    return page[page.index('id="cloth"') : page.index('id="yes"') if 'id="yes"' in page else None]


def heaps(html):
    """Return the names of the cloths under each heading."""
    found = {}
    for part in html.split('<h3 class="heap">')[1:]:
        title, rest = part.split("</h3>", 1)
        found[title] = re.findall(r'<b class="name">([^<]+)</b>', rest)
    return found


def choose(room, role, name, **headers):
    typed = {"role": role, "cloth": name, "version": room.version}
    return room.client.post(f"{room.url}cloth/", typed, headers=headers)


def test_the_pile_is_shown_by_color_group_with_counts(room):
    words = words_of(section(room)).replace("\xa0", " ")
    assert "In the pile: blue 7 of 12" in words
    assert "Red 1 of 12" in words
    assert section(room).count('class="pile"') == 6


def test_cloth_stands_in_heaps_and_each_says_why(room):
    found = heaps(section(room, "?role=sashing"))
    assert "Charcoal" in found["Try first"]
    assert "Signal red" in found["Only narrow"]
    words = words_of(section(room, "?role=sashing"))
    assert "Takes over at this width" in words
    assert "Charcoal goes with nearly everything" in words
    assert "soak a scrap first" in words


def test_only_what_to_try_first_lies_open_the_rest_folds_with_its_count_and_a_few_scraps(room):
    html = section(room, "?role=sashing")
    first, *others = html.split('<h3 class="heap">')[1:]
    assert first.startswith("Try first</h3>\n<ul")
    assert others
    for other in others:
        title, rest = other.split("</h3>", 1)
        count = len(re.findall(r'<b class="name">', rest))
        assert rest.startswith(f' <span class="how-many">{count}</span>'), title
        assert rest[: rest.index("</summary>")].count('class="swatch"') == min(count, 5)


def test_a_cloth_in_the_picture_is_in_sight_wherever_it_stands(room):
    choose(room, "sashing", "Signal red")
    html = section(room, "?role=sashing")
    heap = html[html.index('<h3 class="heap">Only narrow</h3>\n<ul') :]
    assert "Signal red" in heap[: heap.index("In the picture")]


def test_there_is_no_score_and_no_color_strip(room):
    html = section(room, "?role=sashing")
    assert "score" not in html
    assert not re.search(r"\b\d{2,3} (points|%)", words_of(html))
    assert 'class="dot"' not in html


def test_narrow_places_have_their_own_heading(room):
    assert "Only narrow" not in heaps(section(room, "?role=binding"))


def test_what_is_needed_stands_beside_what_is_here(room, ada, shop):
    room.draw(ada, shop)
    words = words_of(section(room, "?role=sashing")).replace("\xa0", " ")
    assert re.search(r"Charcoal 3 yd here, \S+ yd needed", words)


def test_a_pick_answers_at_once_with_the_picture_and_counts_afterwards(room, ada, shop):
    room.draw(ada, shop)
    answer = choose(room, "sashing", "Charcoal", **{"HX-Request": "true"})
    html = answer.content.decode()
    assert answer.status_code == 200
    assert "<html" not in html
    assert 'id="pick"' in html
    assert 'fill="#4a4a4d"' in html
    assert "In the picture" in html
    assert answer["HX-Trigger-After-Settle"] == "cloth-picked"
    assert 'hx-trigger="cloth-picked from:body"' in room.text()
    assert 'hx-select-oob="#materials,#picture,#wish"' in room.text()
    assert "Set it all aside" in room.text("?role=sashing")


def test_a_pick_without_script_leads_back_to_the_section(room):
    assert choose(room, "sashing", "Charcoal").url == f"{room.url}?role=sashing#cloth"


def test_a_pick_does_not_wait_for_the_plan(room, ada, shop, monkeypatch):
    room.draw(ada, shop)
    monkeypatch.setattr(
        "orders.quilt.answers.plan_at_once", lambda *_, **__: pytest.fail("the plan was reckoned")
    )
    assert choose(room, "binding", "Charcoal", **{"HX-Request": "true"}).status_code == 200


def test_chalk_marks_the_shirts_that_get_lost(room, ada, shop):
    room.draw(ada, shop)
    choose(room, "sashing", "Plain white")
    html = section(room)
    assert "Chalk marks 05: close to the strips" in words_of(html)
    assert "chalkline" in html[html.index('id="pick"') :]


def test_colors_are_said_to_be_approximate(room, ada, shop):
    room.draw(ada, shop)
    assert "Colors are approximate" in words_of(section(room))


def test_a_themed_print_is_her_exception_and_is_kept(room):
    assert "She asked for a themed print" in section(room)
    room.send("theme", theme="yes", version=room.version, role="border")
    assert Order.objects.get(pk=room.order.pk).wish["theme"] is True
    assert "prints count as quiet" in section(room)
    room.send("theme", theme="", version=room.version)
    assert "theme" not in Order.objects.get(pk=room.order.pk).wish


def test_a_theme_on_an_older_page_is_refused(room):
    version = room.version
    choose(room, "sashing", "Charcoal")
    assert room.send("theme", theme="yes", version=version).status_code == 409


def test_an_empty_shelf_says_what_to_photograph_and_what_to_buy(room):
    Cloth.objects.update(put_away_at=room.order.opened_at)
    words = words_of(section(room, "?role=sashing"))
    assert "Photograph the bolts and remnants you have" in words
    assert re.search(r"look for plain \w+( \w+)?, \w+( \w+)? or \w+", words)


def test_without_a_color_of_any_shirt_the_shelf_is_still_shown(room):
    Piece.objects.update(ground="")
    words = words_of(section(room))
    assert "Photograph the shirts first" in words
    assert "Charcoal" in words


def test_a_helper_sees_the_cloth_and_chooses_nothing(room, bo):
    room.client.force_login(bo)
    html = section(room)
    assert "Charcoal" in html
    assert "Try it" not in html
    assert "/quilt/cloth/" not in html
    assert room.send("theme", theme="yes", version=1).status_code == 403


def test_a_hundred_cloths_ask_for_no_more_than_ten(room, ada):
    def asked(count):
        for number in range(Cloth.objects.count(), count):
            made = Cloth.objects.create(
                name=f"Cloth {number}", usable=40 * INCH, step=YARD // 8, ground="#556677"
            )
            made.put_on_shelf(YARD, by=ada)
        room.look()
        with CaptureQueriesContext(connection) as queries:
            room.look()
        return len(queries)

    few = asked(12)
    assert asked(60) == few
    found = heaps(section(room))
    assert all(len(names) <= 21 for names in found.values())
    assert "more that are no better" in section(room)

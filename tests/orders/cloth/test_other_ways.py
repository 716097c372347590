"""The ways to have back, batting and interfacing stand side by side, each with what it takes and costs."""

import pytest

from orders.cloth.other_ways import other_ways
from orders.models import Cloth
from orders.quilt.drawn import room_of
from planner.units import INCH, YARD

pytestmark = pytest.mark.django_db


def add(name, kind, usable, price, yards=0, *, by):
    cloth = Cloth.objects.create(name=name, kind=kind, usable=usable * INCH, step=YARD // 8, price=price)
    if yards:
        cloth.put_on_shelf(yards * YARD, by=by)


def test_a_part_with_one_way_has_no_others(drawn, shop):
    assert "Batting" not in [each.part for each in other_ways(room_of(drawn, shop).offer)]


def test_each_way_says_what_it_takes_and_what_is_bought_the_cheapest_first(drawn, shop, ada):
    add("Narrow gray", "backing", 42, "1000", by=ada)
    ways = {each.part: each.ways for each in other_ways(room_of(drawn, shop).offer)}["Backing"]
    assert (ways[0].cloth, ways[0].words, ways[0].is_here) == ("Wide black", "in one piece", True)
    other = next(each for each in ways if each.cloth == "Narrow gray")
    assert other.words.startswith("2 panels")
    assert other.cost.minor == 1000 * other.buy // YARD


def test_the_page_shows_prices_to_the_owner_alone(client, drawn, ada, bo):
    add("Narrow gray", "backing", 42, "1000", by=ada)
    seen = {}
    for person in (ada, bo):
        client.force_login(person)
        seen[person] = client.get(f"/quilts/{drawn.number}/quilt/").content.decode()
        assert "Other ways, side by side" in seen[person]
    part = {
        who: page[page.index("Other ways, side by side") :].split("</details>")[0]
        for who, page in seen.items()
    }
    assert "$" in part[ada]
    assert "$" not in part[bo]

"""Tags and bin labels: a number in plain figures, a code that a camera reads, never a name.

Codes are read back with OpenCV's QR reader (its own decoder, none of ours), from the drawing that goes on
the paper, also with a hole in it. Quiet zone of four modules: ISO/IEC 18004.
"""

import re

import cv2
import numpy as np
import pytest
from pypdf import PdfReader

from orders import papers
from orders.models import Piece, Shirt
from orders.papers import press
from orders.papers.tags import address_of, stop_facts, tags_facts
from orders.templatetags.codes import QUIET, qr
from tests.cast import add_shirt
from tests.orders.workbench import draw

pytestmark = pytest.mark.django_db
HOUSE = "http://192.168.100.200:8000"


@pytest.fixture
def at_home(settings):
    settings.ADDRESS = HOUSE
    return HOUSE


def modules(svg):
    """Return the drawn code as rows of dark and light, read from its path: M, m and h with numbers."""
    side = int(re.search(r'viewBox="0 0 (\d+) \1"', svg)[1])
    grid = np.zeros((side, side), dtype=bool)
    x = y = 0.0
    for act, numbers in re.findall(r"([Mmh])(-?[\d.]+(?:[ ,]-?[\d.]+)?)", re.search(r' d="([^"]+)"', svg)[1]):
        values = [float(each) for each in re.split("[ ,]", numbers)]
        if act == "M":
            x, y = values
        elif act == "m":
            x, y = x + values[0], y + values[1]
        else:
            grid[int(y), int(x) : int(x + values[0])] = True
            x += values[0]
    return grid


def read(grid, size=8):
    picture = np.where(grid, 0, 255).astype(np.uint8).repeat(size, 0).repeat(size, 1)
    return cv2.QRCodeDetector().detectAndDecode(picture)[0]


def test_a_camera_reads_the_address_of_the_shirt(at_home):
    assert read(modules(qr(address_of("31-09F")))) == f"{HOUSE}/find/31-09F/"


def test_the_white_round_a_code_is_as_wide_as_the_standard_asks(at_home):
    grid = modules(qr(address_of("31-09F")))
    dark = np.argwhere(grid)
    assert dark.min() == QUIET == 4
    assert grid.shape[0] - 1 - dark.max() == 4


@pytest.mark.parametrize(("across", "down"), [(0.5, 0.55), (0.4, 0.62), (0.62, 0.4), (0.6, 0.7), (0.7, 0.6)])
def test_a_code_with_a_pin_hole_in_it_is_still_read(at_home, across, down):
    """A pin takes about a millimeter of a code of 25; here three modules across are gone."""
    grid = modules(qr(address_of("31-09F")))
    y, x = int(down * len(grid)), int(across * len(grid))
    grid[y - 1 : y + 2, x - 1 : x + 2] = ~grid[y - 1 : y + 2, x - 1 : x + 2]
    assert read(grid) == f"{HOUSE}/find/31-09F/"


def test_without_an_address_a_tag_has_its_number_only(order, twelve_shirts, settings):
    settings.ADDRESS = ""
    facts = tags_facts(order.bags.get(), sheet="plain", panels=False)
    assert {tag["url"] for tag in facts["tags"]} == {""}
    assert facts["tags"][8]["code"] == f"{order.number}-09"


def test_every_shirt_has_a_tag_and_every_kept_panel_where_wanted(order, twelve_shirts, at_home):
    bag = order.bags.get()
    assert len(tags_facts(bag, sheet="plain", panels=False)["tags"]) == 12
    codes = [tag["code"] for tag in tags_facts(bag, sheet="plain", panels=True)["tags"]]
    assert len(codes) == len(set(codes)) == 24
    assert f"{order.number}-09F" in codes


def test_what_was_struck_from_the_log_has_no_tag(order, twelve_shirts):
    Shirt.objects.filter(pk=twelve_shirts[0].pk).update(state="struck")
    assert len(tags_facts(order.bags.get(), sheet="plain", panels=False)["tags"]) == 11


def test_a_group_says_how_many_lie_under_its_tag(order, at_home):
    add_shirt(order.bags.get(), 1, garments=6)
    assert tags_facts(order.bags.get(), sheet="plain", panels=False)["tags"][0]["garments"] == 6


def test_no_name_stands_on_a_tag_or_a_bin(order, twelve_shirts, aunt, at_home):
    facts = str(tags_facts(order.bags.get(), sheet="labels", panels=True))
    for name in (aunt.name, aunt.phone, order.title, order.place, "the aunt"):
        assert name not in facts


def test_the_bin_label_has_the_count_in_words_and_every_number_it_serves(
    order, twelve_shirts, ada, aunt, at_home
):
    from orders.models import Order

    other = Order.objects.open(title="A pillow", customer=aunt, by=ada)
    order.bags.get().serve(other, by=ada)
    label = tags_facts(order.bags.get(), sheet="plain", panels=False)["bin"]
    assert label["numbers"] == [str(order.number), str(other.number)]
    assert label["in_words"] == "twelve"
    assert label["url"] == f"{HOUSE}/find/{order.number}/"


def test_labels_that_are_gone_from_the_sheet_are_left_free(order, twelve_shirts):
    facts = tags_facts(order.bags.get(), sheet="labels", panels=False, skipped=4)
    assert len(facts["skipped"]) == 4
    assert tags_facts(order.bags.get(), sheet="plain", panels=False, skipped=4)["skipped"] == []


@pytest.fixture
def mixed(order, twelve_shirts, shop, shelf, ada):
    for number, kind in ((3, "vinyl"), (5, "foil"), (7, "unknown")):
        Piece.objects.filter(shirt__number=number).update(print_kind=kind)
    draw(order, shop, ada)
    return order


def test_pieces_under_300_get_a_stop_tag_and_the_others_none(mixed):
    tags = stop_facts(mixed)["tags"]
    assert [(tag["code"], tag["heat"]) for tag in tags] == [
        (f"{mixed.number}-03F", "270 °F"), (f"{mixed.number}-05F", "250 °F"),
        (f"{mixed.number}-07F", "270 °F"),
    ]  # fmt: skip
    assert all(tag["settings"] == ["iron: Turn to one dot"] for tag in tags)


def test_a_stop_tag_says_its_limit_once(mixed):
    Piece.objects.filter(shirt__number=3).update(print_kind="paint")
    tags = stop_facts(mixed)["tags"]
    assert [
        reason for tag in tags for reason in tag["reasons"] if "above" in reason or "No heat" in reason
    ] == []
    assert all(tag["reasons"][0][0].isupper() for tag in tags)


def test_a_hold_gets_a_stop_tag_however_much_heat_it_bears(mixed):
    mixed.blocks.filter(piece__shirt__number=9).update(held="he decides on the day")
    (tag,) = [each for each in stop_facts(mixed)["tags"] if each["code"].endswith("09F")]
    assert "Held: he decides on the day." in tag["reasons"]


def test_a_tool_that_cannot_hold_the_limit_is_forbidden_on_the_tag(mixed, ada):
    Piece.objects.filter(shirt__number=3).update(print_kind="paint")
    tag = stop_facts(mixed)["tags"][0]
    assert (tag["heat"], tag["settings"]) == ("no heat", ["iron: do not use it"])


def test_the_tag_of_a_tender_shirt_says_stop(mixed):
    tags = tags_facts(mixed.bags.get(), sheet="plain", panels=False)["tags"]
    assert [tag["code"][-2:] for tag in tags if tag["stop"]] == ["03", "05", "07"]


def text_of(facts, kind, size="letter"):
    import io

    pdf = press.set_paper(kind, facts, {"kind": kind, "number": 1, "maker": "The workroom"}, size=size)
    pages = PdfReader(io.BytesIO(pdf)).pages
    return pages, " ".join(page.extract_text() for page in pages)


@pytest.mark.skipif(not press.is_ready(), reason="the libraries that set papers are missing")
@pytest.mark.parametrize(("sheet", "pages"), [("plain", 2), ("labels", 2)])
def test_the_sheet_of_a_bag_is_short_and_its_numbers_are_text(order, twelve_shirts, at_home, sheet, pages):
    made, words = text_of(tags_facts(order.bags.get(), sheet=sheet, panels=False), "tags")
    assert len(made) <= pages
    for number in range(1, 13):
        assert f"{order.number}-{number:02d}" in words
    assert "Twelve garments (12)" in " ".join(words.split())


@pytest.mark.skipif(not press.is_ready(), reason="the libraries that set papers are missing")
def test_stop_tags_say_stop_in_letters(mixed, at_home):
    _, words = text_of(stop_facts(mixed), "stop", size="a4")
    assert words.count("STOP") >= 3
    assert "Never above 250 °F" in words.replace("\N{NO-BREAK SPACE}", " ")


def test_each_is_a_paper_of_its_bag_or_quilt(mixed, ada):
    made = papers.tags(mixed.bags.get(), sheet="labels", panels=True, skipped=0, by=ada)
    assert (made.kind, made.bag, made.order) == ("tags", mixed.bags.get(), mixed)
    assert papers.stop_tags(mixed, by=ada).kind == "stop"

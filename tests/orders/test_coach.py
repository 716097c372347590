"""A running coach's jerseys (trade handbook S4), as far as care and the count reach.

Played here: heat batches (none, 265, 300), stop tags, tools that are refused, what is not sewn in as cloth
and what can be done instead, hard items for the needle, and the price to the cent. Which blocks the singlets
fill, and a paper for the quilter outside, belong to the layout and to the sending of quilts; the unproven
claim of a tax-exempt club to the books.
"""

from decimal import Decimal

import pytest

from orders.bench import stopping
from orders.bench.bench import bench_of
from orders.bench.pressing import pressing_of
from orders.bench.work import do_pile
from orders.models import HeatTool, Piece, Shirt
from orders.papers.tags import stop_facts
from orders.planning import bag_of, garment_of, piece_of
from planner.care import hard_items, instead_of_cloth, needs, setting
from planner.price import Costs, Line, Tax, Terms, price
from planner.problems import Impossible
from planner.units import INCH, Money, Rate
from tests.orders.workbench import draw, say_yes_to_cut

pytestmark = pytest.mark.django_db
POLY = {"polyester": "100"}
# number, kind, fibers, flags, knit, stretch, print, width and height of the print
GARMENTS = [
    *((n, "singlet", POLY, [], True, "high", "sublimation", 11, 14) for n in range(1, 7)),
    *((n, "sport tee", POLY, [], True, "high", "plastisol", 12, 14) for n in range(7, 11)),
    *((n, "sweatshirt", {"cotton": "80", "polyester": "20"}, ["fleece"], True, "low", "twill", 14, 8)
      for n in (11, 12)),
    (13, "windbreaker", {"nylon": "100"}, ["coated", "zip"], False, "none", "plastisol", 10, 4),
    *((n, "tee", {"cotton": "100"}, [], True, "medium", "plastisol", 13, 15) for n in (14, 15)),
    (16, "race bibs", {"olefin": "100"}, ["plastic"], False, "none", "none", 8, 7),
    *((n, "racer tank", {"nylon": "82", "spandex": "18"}, [], True, "very high", "plastisol", 6, 7)
      for n in (17, 18, 19)),
    (20, "cycling jersey", POLY, ["zip"], True, "high", "sublimation", 12, 12),
]  # fmt: skip


@pytest.fixture
def club(order, ada):
    bag = order.bags.get()
    bag.count_again(20, by=ada)
    order.width, order.height = 60 * INCH, 75 * INCH  # 4×5 of 15 in, before its border
    order.wish = {"blocks": [[15 * INCH, 15 * INCH]], "sashings": [None], "margin": 0}
    order.save()
    for number, kind, fibres, flags, knit, stretch, feel, wide, high in GARMENTS:
        shirt = Shirt.objects.create(
            bag=bag, number=number, kind=kind, fibres=fibres, flags=flags, knit=knit, stretch=stretch
        )
        Piece.objects.create(
            shirt=shirt, side="front", print_kind=feel, print_width=wide * INCH, print_height=high * INCH,
            free_top=2 * INCH, free_right=3 * INCH, free_bottom=3 * INCH, free_left=3 * INCH,
        )  # fmt: skip
    return order


def limits(club):
    bag = bag_of(club)
    return {piece.id[:2]: needs(bag.garment(piece.garment), piece).heat for piece in bag.pieces}


def test_the_jerseys_fall_into_three_batches_and_the_spandex_beside_them(club):
    """The handbook's own limits: none for 13 and 16, 265 for polyester, 300 for cotton and blends."""
    found = limits(club)
    assert {n for n, heat in found.items() if heat == 0} == {"13", "16"}
    assert {n for n, heat in found.items() if heat == 265} == {*(f"{n:02d}" for n in range(1, 11)), "20"}
    assert {n for n, heat in found.items() if heat == 275} == {"17", "18", "19"}  # nylon and spandex, 3.4
    assert {n for n, heat in found.items() if heat == 300} == {"11", "12", "14", "15"}


def test_the_windbreaker_is_sewn_in_and_the_polyester_gets_low_heat_tricot(club):
    bag = bag_of(club)
    kinds = {p.id[:2]: needs(bag.garment(p.garment), p).interfacing for p in bag.pieces}
    assert kinds["13"] == "sew-in"
    assert {kinds[f"{n:02d}"] for n in range(1, 11)} == {"low-heat tricot"}


def test_race_bibs_are_refused_as_cloth_with_an_alternative(club):
    bibs = garment_of(club.bags.get().shirts.get(number=16))
    assert "photograph" in instead_of_cloth(bibs).lower()
    others = [s for s in club.bags.get().shirts.exclude(number=16) if instead_of_cloth(garment_of(s))]
    assert others == []


def test_the_quilter_is_told_of_twill_and_zips(club):
    hard = {
        shirt.number: hard_items(garment_of(shirt), piece_of(shirt.pieces.get()))
        for shirt in club.bags.get().shirts.all()
    }
    assert {number for number, items in hard.items() if items} == {11, 12, 13, 20}
    assert hard[11] == ("sewn-on letters",)
    assert hard[13] == ("a zip",)


def test_every_piece_under_300_gets_a_stop_tag(club, shop, shelf, ada):
    Shirt.objects.filter(number=16).update(state="returned")
    draw(club, shop, ada)
    tags = {tag["code"].split("-")[1][:2] for tag in stop_facts(club)["tags"]}
    drawn = {block.piece.name[:2] for block in club.blocks.exclude(piece=None)}
    assert tags == drawn - {"11", "12", "14", "15"}
    assert len(tags) >= 8


def test_the_iron_cannot_fuse_the_jerseys_and_the_press_can(club, shop, shelf, ada):
    """One dot is 230 °F at the most, and low-heat tricot bonds at 250."""
    HeatTool.objects.create(name="heat press", kind="press", least=200, most=450, step=5)
    Shirt.objects.filter(number__in=[13, 16]).update(state="returned")
    draw(club, shop, ada)
    say_yes_to_cut(club, ada)
    do_pile(club, "cut", club.blocks.exclude(piece=None).values_list("pk", flat=True), by=ada)
    club.refresh_from_db()
    batches = bench_of(club, rough=2 * INCH).batches()
    assert [batch.heat for batch in batches] == sorted(batch.heat for batch in batches)
    assert {batch.heat for batch in batches} == {265, 275, 300}
    cool = next(batch for batch in batches if batch.heat == 265)
    tools = list(HeatTool.objects.in_use())
    at_the_iron = pressing_of(cool, tools)
    assert (at_the_iron.set.dots, at_the_iron.set.bonds) == (1, False)
    assert at_the_iron.ways[0] == "Take the heat press instead. Set 265 °F."
    at_the_press = pressing_of(cool, tools, wanted=str(tools[1].pk))
    assert (at_the_press.set.degrees, at_the_press.set.bonds) == (265, True)


def test_no_tool_is_offered_for_the_windbreaker(club):
    limit = needs(garment_of(club.bags.get().shirts.get(number=13))).heat
    for tool in HeatTool.objects.in_use():
        assert isinstance(setting(tool.as_tool(), limit), Impossible)


def test_the_fleece_does_not_stop_anybody(club):
    shirt = club.bags.get().shirts.get(number=11)
    assert stopping.reasons_for(shirt) == ()


def test_the_price_comes_to_the_handbooks_cents(club):
    """Handbook S4: 20×36 + 45 + 3×12 + 2×6 + 8 = 821, tax 57.47, total 878.47, deposit 439.24."""
    shirts = list(club.bags.get().shirts.all())
    fleece = sum("fleece" in shirt.flags for shirt in shirts)
    nylon = sum("coated" in shirt.flags for shirt in shirts)
    rows = [
        ("Blocks", 20, 36),
        ("Border", 1, 45),
        ("Composites", 3, 12),
        ("Fleece", fleece, 6),
        ("Nylon", nylon, 8),
    ]
    bill = [Line(words, n, rate := Rate(Decimal(each * 100), "USD"), rate.on(n)) for words, n, each in rows]
    none, hour = Money(0, "USD"), Rate(Decimal(3100), "USD", "hour")
    asked = price(
        bill, Terms((Tax(Decimal("0.07")),), deposit=Decimal("0.5")), Costs(none, none, none, 978, hour, hour)
    )
    assert [asked.net.minor, asked.tax.minor, asked.total.minor, asked.deposit.minor] == [
        82100, 5747, 87847, 43924,
    ]  # fmt: skip

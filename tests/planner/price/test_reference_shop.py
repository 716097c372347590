"""The reference shop of the trade handbook, section 8: its price list on the quilts of its scenarios."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from planner.layout.blocks import grid_quilt
from planner.price import Costs, Line, Pricing, Rule, Tax, Terms, lines, price, split
from planner.quilt import Bag, Border, Cell, Garment, Piece, Quilt, Sashing
from planner.units import INCH, Money, Rate, Rect, Sides, Size

SASHED = Sashing(2 * INCH, cornerstones=True)
PRINT = Size(10 * INCH, 10 * INCH)
DOLLAR = Money(100, "USD")
HOUR = Rate(3100, "USD", "hour")


def dollars(amount: str) -> Rate:
    """A rate in dollars for each."""
    return Rate(Decimal(amount) * 100, "USD")


PRICES = (
    Rule("Block", "block", dollars("36")),
    Rule("Sashing", "sashed", dollars("3")),
    Rule("Border", "border", dollars("45")),
    Rule("Composite block", "composite", dollars("12")),
    Rule("Filler", "filler", dollars("10")),
    Rule("Fleece", "garment:fleece", dollars("6")),
    Rule("Nylon or zip", "garment:nylon", dollars("8")),
    Rule("Oversize print", "oversize", dollars("12")),
)


def terms(**more) -> Terms:
    """The shop's terms: 7 % tax on everything, half first, whole dollars."""
    return Terms((Tax(Decimal("0.07")),), round_to=DOLLAR, deposit=Decimal("0.5"), **more)


def costs(materials: str = "0", minutes: int = 0) -> Costs:
    """What a quilt costs the shop in dollars; overhead 7 and aim 31 an hour."""
    none = Money(0, "USD")
    spent = Money(int(Decimal(materials) * 100), "USD")
    return Costs(spent, none, none, minutes, Rate(700, "USD", "hour"), HOUR)


def bag_of(count: int, *fleece: int, size: Size = PRINT) -> Bag:
    """Tees with a front each, some of them fleece."""
    cotton = {"cotton": Decimal(100)}
    garments = tuple(
        Garment(f"{n:02d}", "tee", cotton, flags=frozenset({"fleece"} if n in fleece else ()))
        for n in range(1, count + 1)
    )
    pieces = tuple(Piece(f"{g.id}F", g.id, "front", size, Sides.all_round(2 * INCH)) for g in garments)
    return Bag(garments, pieces)


def priced(quilt: Quilt, bag: Bag, what: Terms, spent: Costs | None = None) -> Pricing:
    """The shop's price for a quilt."""
    return price(lines(quilt, bag, PRICES), what, spent or costs())


def grid(columns: int, rows: int, side: int, bag: Bag, **trims) -> Quilt:
    """A grid filled with the bag's pieces."""
    return grid_quilt(
        columns, rows, Size(side * INCH, side * INCH), pieces=[each.id for each in bag.pieces], **trims
    )


def border(width: int) -> dict[str, tuple[Border, ...]]:
    """A border of one width all round."""
    return {"borders": (Border(Sides.all_round(width * INCH)),)}


def words(*amounts: Money) -> list[str]:
    """Amounts as dollars and cents."""
    return [f"{each.minor // 100}.{each.minor % 100:02d}" for each in amounts]


def test_s1_the_plain_one():
    bag = bag_of(12, 10)
    pricing = priced(grid(3, 4, 14, bag, sashing=SASHED), bag, terms(), costs("87", 876))
    assert [(line.words, line.count, line.amount.minor // 100) for line in pricing.lines] == [
        ("Block", 12, 432),
        ("Sashing", 12, 36),
        ("Fleece", 1, 6),
    ]
    assert words(pricing.net, pricing.tax, pricing.total, pricing.deposit) == [
        "474.00", "33.18", "507.18", "253.59",
    ]  # fmt: skip


def test_s1_before_the_fleece_an_hour_brings_less_than_the_aim():
    bag = bag_of(12)
    spent = costs("87", 876)
    pricing = priced(grid(3, 4, 14, bag, sashing=SASHED), bag, terms(), spent)
    assert words(pricing.net) == ["468.00"]
    assert pricing.hour.minor == pytest.approx(2611, rel=0.01)
    assert pricing.wage.minor == pytest.approx(1911, rel=0.01)
    assert pricing.hour < spent.aim.on(60)
    assert words(pricing.net_at_aim) == ["540.00"]  # 87 and 14.6 h at 31 are 539.60


@pytest.mark.parametrize(
    ("columns", "rows", "fleece", "trims", "before", "rush"),
    [
        (4, 5, (19, 20), {"sashing": SASHED}, 792, 198),
        (4, 4, (), border(4), 621, 155),
        (5, 5, (), {}, 900, 225),
    ],
)
def test_s2_three_graduations_and_what_haste_adds(columns, rows, fleece, trims, before, rush):
    bag = bag_of(columns * rows, *fleece)
    quilt = grid(columns, rows, 14, bag, **trims)
    assert priced(quilt, bag, terms()).net == Money(before * 100, "USD")
    hurried = priced(quilt, bag, terms(rush=Decimal("0.25")))
    assert hurried.lines[-1].amount == Money(rush * 100, "USD")
    assert hurried.net == Money((before + rush) * 100, "USD")


def test_s3_two_quilts_whose_deposits_asked_for_apart_are_one_cent_over():
    bag = bag_of(20)
    quilt = grid(4, 5, 12, bag, **border(3))
    each = priced(quilt, bag, terms())
    assert words(each.net, each.tax, each.total, each.deposit) == ["765.00", "53.55", "818.55", "409.28"]
    together = price(lines(quilt, bag, PRICES) * 2, terms(), costs())
    assert words(together.total, together.deposit) == ["1637.10", "818.55"]
    assert each.deposit + each.deposit - together.deposit == Money(1, "USD")


def test_s3_halves_of_the_two_children_add_up_exactly():
    assert words(*split(Money(163710, "USD"), (1, 1))) == ["818.55", "818.55"]
    assert words(*split(Money(81855, "USD"), (1, 1))) == ["409.28", "409.27"]


def tour_quilt() -> tuple[Quilt, Bag]:
    """The double-sided shirts: three columns of 5 fronts, three of 4 backs, panels top and bottom."""
    cotton = {"cotton": Decimal(100)}
    garments = tuple(Garment(f"{n:02d}", "tee", cotton) for n in range(15))
    prints = {"front": Size(11 * INCH, 13 * INCH), "back": Size(13 * INCH, 18 * INCH)}
    sides = [(g.id, "front") for g in garments] + [(g.id, "back") for g in garments[:12]]
    pieces = tuple(Piece(id + side, id, side, prints[side], Sides.all_round(INCH)) for id, side in sides)
    places = [(14 * (n // 5), 8 + 16 * (n % 5), 14, 16) for n in range(15)]
    places += [(42 + 16 * (n // 4), 8 + 20 * (n % 4), 16, 20) for n in range(12)]
    cells = tuple(
        Cell(piece.id, Rect(*(each * INCH for each in place)), piece=piece.id)
        for piece, place in zip(pieces, places, strict=True)
    )
    panels = Border(Sides(top=8 * INCH, bottom=8 * INCH))
    return Quilt(Size(90 * INCH, 96 * INCH), cells, borders=(panels,)), Bag(garments, pieces)


def test_s7_double_sided_tour_shirts():
    pricing = priced(*tour_quilt(), terms())
    assert [(line.words, line.count) for line in pricing.lines] == [
        ("Block", 27), ("Border", 1), ("Oversize print", 12),
    ]  # fmt: skip
    assert words(pricing.net, pricing.tax, pricing.total, pricing.deposit) == [
        "1161.00", "81.27", "1242.27", "621.14",
    ]  # fmt: skip


def test_s8_christmas_in_three_instalments():
    bag = bag_of(9)
    quilt = grid(3, 3, 14, bag, sashing=SASHED)
    assert words(priced(quilt, bag, terms()).net) == ["351.00"]
    pricing = priced(quilt, bag, terms(rush=Decimal("0.25"), instalments=3))
    assert words(pricing.lines[-1].amount, pricing.net, pricing.tax) == ["88.00", "439.00", "30.73"]
    assert words(pricing.total, pricing.deposit) == ["469.73", "234.87"]
    assert words(*pricing.instalments) == ["78.29", "78.29", "78.28"]


def test_s5_a_credit_for_a_damaged_print_is_a_line_of_its_own():
    bag = bag_of(16)
    made = lines(grid(4, 4, 14, bag, sashing=SASHED), bag, PRICES)
    agreed = price(made, terms(), costs())
    assert words(agreed.net, agreed.total, agreed.deposit) == ["624.00", "667.68", "333.84"]
    credit = Line.of("For the hole in no. 09", Money(-3600, "USD"), kind="credit")
    assert words(price((*made, credit), terms(), costs()).total) == ["629.16"]  # 588 and 7 %


def with_composites(quilt: Quilt, count: int) -> Quilt:
    """The quilt with its first blocks halved, each half its own cell."""
    made = [replace(cell, piece=None, inside=halves(cell)) for cell in quilt.cells[:count]]
    return replace(quilt, cells=(*made, *quilt.cells[count:]))


def halves(cell: Cell) -> tuple[Cell, Cell]:
    """The two halves of a block, its piece in the left one."""
    half = replace(cell.at, width=cell.at.width // 2)
    return Cell(f"{cell.id}a", half, piece=cell.piece), Cell(f"{cell.id}b", replace(half, x=half.right))


def test_s4_jerseys_with_composites_fleece_and_nylon():
    bag = bag_of(20, 11, 12)
    windbreaker = replace(bag.garments[12], flags=frozenset({"nylon"}))
    bag = replace(bag, garments=(*bag.garments[:12], windbreaker, *bag.garments[13:]))
    pricing = priced(with_composites(grid(4, 5, 15, bag, **border(4)), 3), bag, terms())
    assert words(pricing.net, pricing.tax, pricing.total, pricing.deposit) == [
        "821.00", "57.47", "878.47", "439.24",
    ]  # fmt: skip


def test_s6_baby_clothes_all_in_composites():
    bag = bag_of(16, size=Size(4 * INCH, 4 * INCH))
    quilt = with_composites(grid(4, 4, 12, bag, sashing=SASHED, **border(3)), 16)
    pricing = priced(quilt, bag, terms())
    assert quilt.size == Size(64 * INCH, 64 * INCH)
    assert words(pricing.net, pricing.tax, pricing.total, pricing.deposit) == [
        "861.00", "60.27", "921.27", "460.64",
    ]  # fmt: skip

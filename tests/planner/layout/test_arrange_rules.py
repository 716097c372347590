"""Each rule of arranging, alone: what it minds, what it likes, and that the quilt obeys it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from planner.colour import Palette, Swatch, difference
from planner.layout import arrange, grid_quilt, why
from planner.layout.arranging import pair_rules as pair
from planner.layout.arranging import place_rules as place
from planner.layout.arranging.board import Board, Wishes
from planner.layout.arranging.moods import light_and_dark_balanced
from planner.layout.arranging.places import lines, nearness, quarters
from planner.problems import Limit
from planner.quilt import Cell, Quilt
from planner.units import INCH, Rect, Sides, Size
from tests.planner.layout.boards import (
    BLACK,
    BLUE,
    GOLD,
    GRAY,
    RED,
    SHORT,
    WHITE,
    bag_of,
    colored,
    front,
    grid_of,
    place_of,
)


def board_of(bag, columns, rows):
    return Board(grid_of(bag, columns, rows).quilt, bag)


def arranged(bag, columns, rows, **asked):
    return arrange(grid_of(bag, columns, rows), bag, **({"keep": {}, "limit": SHORT} | asked))


def grays(count, **changes):
    return bag_of([front(n, GRAY, **changes.get(f"n{n}", {})) for n in range(1, count + 1)])


def test_blocks_of_a_grid_are_near_by_side_by_corner_and_two_away():
    board = board_of(grays(20), 5, 4)
    from_the_middle = nearness(board)[7].reshape(4, 5)  # block 08: the second row, the third column
    assert from_the_middle.tolist() == [
        [0, 3, 8, 3, 0],
        [1, 8, 0, 8, 1],
        [0, 3, 8, 3, 0],
        [0, 0, 1, 0, 0],
    ]


def test_blocks_of_unlike_size_are_side_by_side_where_they_share_half_a_side():
    wide, low = 12 * INCH, 4 * INCH
    cells = (
        Cell("01", Rect(0, 0, 2 * wide, wide)),
        Cell("02", Rect(0, wide, wide, wide)),
        Cell("03", Rect(wide, wide, wide, wide)),
        Cell("04", Rect(2 * wide, 0, wide, wide + low)),
        Cell("05", Rect(2 * wide, wide + low, wide, wide - low)),
    )
    near = nearness(Board(Quilt(Size(3 * wide, 2 * wide), cells), bag_of([])))
    order = {cell.at: n for n, cell in enumerate(sorted(cells, key=lambda c: (c.at.y, c.at.x)))}
    at = {cell.id: order[cell.at] for cell in cells}
    assert near[at["01"], at["02"]] == near[at["01"], at["04"]] == near[at["03"], at["05"]] == 8
    assert near[at["03"], at["04"]] == 3  # a third of its side in common
    assert near[at["02"], at["05"]] == 1  # 03 lies between them


def test_one_color_is_alike_and_colors_fourteen_apart_are_alike_by_a_third():
    bag = colored(GRAY, GRAY, BLUE, None)
    like = pair.likeness(board_of(bag, 2, 2))
    assert like[0, 1] == pytest.approx(1)
    assert like[0, 2] == pytest.approx(np.exp(-((float(difference(GRAY, BLUE)) / 14) ** 2)))
    assert not like[3].any()
    assert not like.diagonal().any()


def test_prints_count_by_their_share_of_the_shirt():
    one = Palette(Swatch(BLUE, 0.5), (Swatch(GOLD, 0.5),))
    other = Palette(Swatch(GOLD, 0.5), (Swatch(BLUE, 0.5),))
    bag = bag_of([front(1, palette=one), front(2, palette=other), front(3, BLUE), front(4, RED)])
    like = pair.likeness(board_of(bag, 2, 2))
    assert like[0, 1] == pytest.approx(1)
    assert 0.6 < like[0, 2] < 0.8  # cos 45° = 0.71, and blue and gold are a little alike to no one
    assert like[0, 3] < 0.1


def test_the_weight_of_light_and_dark_is_the_squared_sums_of_rows_columns_and_quarters():
    bag = colored(
        WHITE, BLACK, GRAY, BLUE, GOLD, RED, WHITE, BLACK, GRAY, BLUE, GOLD, RED, RED, GOLD, BLUE, GRAY
    )
    quilt = grid_quilt(4, 4, Size(14 * INCH, 14 * INCH), pieces=[p.id for p in bag.pieces])
    board = Board(quilt, bag)
    pairs, own = light_and_dark_balanced(board, Wishes())
    light = np.rint((board.lightness - board.lightness.mean()) / 4)
    places = np.array([board.standing])
    table = light[np.argsort(places[0])].reshape(4, 4)
    halves = [table[:2, :2], table[:2, 2:], table[2:, :2], table[2:, 2:]]
    squares = sum((row.sum() ** 2) / 4 for row in [*table, *table.T]) + sum(h.sum() ** 2 / 4 for h in halves)
    told = pairs.cost(places)[0] + own[np.arange(16), places[0]].sum()
    assert told == pytest.approx(41 * squares, rel=0.05)  # the table of lines is in whole numbers
    assert lines(board).max() == round(41 * 0.75)


def test_light_and_dark_are_spread_over_the_four_quarters():
    bag = colored(*[WHITE] * 8, *[BLACK] * 8)
    found = arranged(bag, 4, 4)
    said = [each for each in found.reasons if each.startswith("Light and dark")]
    assert said == ["Light and dark: the four quarters differ by 0 in 100 of lightness. It was 83."]


def test_a_middle_block_belongs_to_all_quarters():
    share = quarters(board_of(grays(9), 3, 3).grown)
    assert share[4] == pytest.approx([0.25] * 4)
    assert share.sum(axis=1) == pytest.approx([1] * 9)


def test_heavy_blocks_lie_apart_and_out_of_the_corners():
    bag = grays(16, n1={"heavy": True}, n2={"print_kind": "twill"}, n4={"heavy": True})
    board = board_of(bag, 4, 4)
    assert pair.heavy(board).sum() == 3
    found = arranged(bag, 4, 4)
    spots = [place_of(found.layout, name) for name in ("01F", "02F", "04F")]
    assert not {(0, 0), (0, 3), (3, 0), (3, 3)} & set(spots)
    assert all(max(abs(a[0] - b[0]), abs(a[1] - b[1])) > 1 for a in spots for b in spots if a != b)
    assert "01F, 02F and 04F, the heavy blocks, lie apart and out of the corners." in found.reasons


@pytest.mark.parametrize(
    ("thickness", "flag"), [("thick", ""), ("medium", "zip"), ("medium", "fleece"), ("medium", "hood")]
)
def test_a_thick_or_zipped_garment_makes_a_heavy_block(thickness, flag):
    bag = grays(4)
    thick = replace(bag.garments[0], thickness=thickness, flags=frozenset({flag} - {""}))
    bag = replace(bag, garments=(thick, *bag.garments[1:]))
    assert pair.heavy(board_of(bag, 2, 2)).tolist() == [True, False, False, False]


def test_heavy_blocks_that_cannot_lie_otherwise_are_named():
    bag = grays(4, n1={"heavy": True}, n2={"heavy": True})
    said = why(grid_of(bag, 2, 2), bag, keep={})
    assert "Heavy blocks lie side by side: 01F beside 02F; heavy in a corner: 01F and 02F." in said


def test_wanted_neighbors_lie_side_by_side_and_unwanted_ones_do_not():
    bag = grays(12)
    found = arranged(bag, 3, 4, together=[("01F", "12F")], apart=[("02F", "03F"), ("05F", "06F")])
    (y, x), (v, u) = place_of(found.layout, "01F"), place_of(found.layout, "12F")
    assert abs(y - v) + abs(x - u) == 1
    for a, b in (("02F", "03F"), ("05F", "06F")):
        (y, x), (v, u) = place_of(found.layout, a), place_of(found.layout, b)
        assert abs(y - v) + abs(x - u) > 1
    assert "01F and 12F lie side by side, as you wished." in found.reasons
    assert "02F and 03F and 05F and 06F lie apart, as you wished." in found.reasons


def test_fronts_of_one_team_lie_apart_and_its_backs_may_touch():
    pieces = [front(n, GRAY) for n in range(1, 10)]
    pieces[3] = replace(pieces[3], side="back")
    bag = bag_of(pieces)
    team = ["01F", "02F", "04F"]
    assert pair.two_fronts_of_one_team_apart(board_of(bag, 3, 3), Wishes(teams=(team,))).sum() == 2 * 800
    found = arranged(bag, 3, 3, teams=[team])
    (y, x), (v, u) = place_of(found.layout, "01F"), place_of(found.layout, "02F")
    assert abs(y - v) + abs(x - u) > 1
    assert "No two fronts of one team lie side by side." in found.reasons


def test_plain_blocks_do_not_make_a_hole():
    bag = grays(10)
    found = arrange(grid_of(bag, 3, 4), bag, keep={}, limit=SHORT)
    plain = [cell.at for cell in found.layout.quilt.cells if cell.is_filler]
    assert len(plain) == 2
    assert abs(plain[0].x - plain[1].x) + abs(plain[0].y - plain[1].y) > 16 * INCH


def test_a_favorite_lies_in_the_upper_middle():
    bag = grays(20)
    found = arranged(bag, 4, 5, favorites=["20F"])
    row, column = place_of(found.layout, "20F")
    assert row in (1, 2)
    assert column in (1, 2)
    assert "20F, the favorite, lies in the upper middle, where it is seen." in found.reasons


def test_what_must_be_in_is_dear_only_where_few_must():
    few = grays(9, n5={"wanted": "must"})
    assert place.favorites(board_of(few, 3, 3), Wishes()).sum() == 1
    many = grays(9, **{f"n{n}": {"wanted": "must"} for n in range(1, 6)})
    assert not place.favorites(board_of(many, 3, 3), Wishes()).any()


def test_a_block_is_tucked_away_by_the_share_of_it_under_the_fold():
    board = Board(grid_quilt(1, 2, Size(10 * INCH, 10 * INCH)), bag_of([]))
    assert place.tucked(board, Sides(bottom=5 * INCH)).tolist() == [0, 0.5]
    assert place.tucked(board, Sides(top=10 * INCH)).tolist() == [1, 0]
    assert place.tucked(board, Sides(top=99 * INCH)).tolist() == [1, 1]


def test_a_cool_iron_print_keeps_off_the_top_edge():
    bag = grays(12, n1={"print_kind": "vinyl"}, n2={"print_kind": "foil"}, n3={"print_kind": "none"})
    assert place.cool_iron(board_of(bag, 3, 4)).sum() == 2
    found = arranged(bag, 3, 4)
    assert all(place_of(found.layout, name)[0] > 0 for name in ("01F", "02F"))
    assert "No print that needs a cool iron lies at the top edge, where faces touch." in found.reasons


def test_where_all_prints_are_tender_those_at_the_top_are_named():
    bag = grays(4, **{f"n{n}": {"print_kind": "vinyl"} for n in range(1, 5)})
    said = why(grid_of(bag, 2, 2), bag, keep={})
    assert "Prints for a cool iron lie at the top edge, where faces touch: 01F and 02F." in said


def bright(count, of):
    """Return a bag of gray shirts, the first `count` of them red."""
    return colored(*[RED] * count, *[GRAY] * (of - count))


def test_bright_blocks_run_along_a_diagonal_in_a_calm_quilt_and_are_scattered_in_a_lively_one():
    bag = bright(3, 30)
    calm = arranged(bag, 5, 6, limit=Limit(effort=16_000))
    spots = sorted(place_of(calm.layout, name) for name in ("01F", "02F", "03F"))
    assert all(abs((row + 0.5) / 6 - (column + 0.5) / 5) <= 0.2 for row, column in spots)
    assert "The bright ones, 01F, 02F and 03F, run from the upper left to the lower right." in calm.reasons
    lively = arranged(bag, 5, 6, mood="lively", limit=Limit(effort=16_000))
    spots = [place_of(lively.layout, name) for name in ("01F", "02F", "03F")]
    assert all(abs(a[0] - b[0]) + abs(a[1] - b[1]) > 1 for a in spots for b in spots if a != b)


def test_a_color_that_many_blocks_have_is_no_accent():
    assert pair.accents(board_of(bright(3, 30), 5, 6)).sum() == 3
    assert not pair.accents(board_of(bright(12, 30), 5, 6)).any()
    assert not pair.accents(board_of(colored(*[GRAY] * 30), 5, 6)).any()


def test_a_lively_quilt_lays_dark_beside_light():
    bag = colored(*[WHITE] * 8, *[BLACK] * 8)
    found = arranged(bag, 4, 4, mood="lively")
    light = {p.id: p.palette.ground.lab[0] for p in bag.pieces}
    cells = {place_of(found.layout, name): value for name, value in light.items()}
    steps = [
        abs(value - cells[spot])
        for (y, x), value in cells.items()
        for spot in ((y, x + 1), (y + 1, x))
        if spot in cells
    ]
    assert sum(step > 50 for step in steps) >= 20  # of 24 pairs


def test_a_story_reads_in_the_order_of_the_shirts():
    bag = grays(12)
    found = arranged(bag, 3, 4, mood="story")
    assert [place_of(found.layout, f"{n:02d}F") for n in range(1, 13)] == [divmod(n, 3) for n in range(12)]
    assert "The shirts read in their order, from the upper left, row by row." in found.reasons


def test_a_story_may_step_aside_to_keep_like_colors_apart():
    blue, red, green, gray = (50.0, 0.0, -60.0), (50.0, 60.0, 30.0), (50.0, -60.0, 40.0), (50.0, 0.0, 0.0)
    bag = colored(blue, blue, red, green, gray, (50.0, 60.0, -60.0))
    found = arranged(bag, 3, 2, mood="story")
    assert any("none is more than one place off" in each for each in found.reasons)
    assert "No two blocks of like color lie side by side; there was 1 before." in found.reasons

"""The trade's rules for choosing cloth (common practice) hold, also on a shelf nothing was tuned on."""

from __future__ import annotations

import random

import pytest

from planner.colour import FabricLook, Palette, Swatch, advise, sort_out
from planner.colour.places import PLACES
from planner.colour.rules import ASKED, UNASKED
from planner.problems import BadInput
from tests.planner.colour.piles import (
    A_CHILDHOOD,
    A_FESTIVAL_GOER,
    A_SWIM_TEAM,
    BLUES,
    DARKS,
    OTHER_SHELF,
    REDS,
    SHELF,
    cloth,
    lab,
    numbered,
    shirt,
)

TUNED = {"reds": (REDS, SHELF), "blues": (BLUES, SHELF), "darks": (DARKS, SHELF)}
NOT_TUNED = {
    "a swim team": (A_SWIM_TEAM, OTHER_SHELF),
    "a festival-goer": (A_FESTIVAL_GOER, OTHER_SHELF),
    "a childhood": (A_CHILDHOOD, OTHER_SHELF),
}
EVERY = TUNED | NOT_TUNED
NEUTRAL = {
    "Charcoal", "Navy", "Chalk white", "Gray sprig", "Gray", "Black", "Cream", "Anthracite", "Dove", "Ink",
    "Linen", "Midnight", "Pebble print", "Slate", "Snow",
}  # fmt: skip


@pytest.fixture(params=EVERY)
def pile(request):
    return EVERY[request.param]


def ranked(pile, role, **asked):
    shirts, shelf = pile
    return [each.cloth for each in advise(shirts, shelf, role, **asked)]


def scores(pile, role, **asked):
    shirts, shelf = pile
    return {each.cloth: each.score for each in advise(shirts, shelf, role, **asked)}


def reason(pile, role, name, rule):
    shirts, shelf = pile
    found = next(each for each in advise(shirts, shelf, role) if each.cloth == name)
    return next((each for each in found.reasons if each.rule == rule), None)


def test_a_neutral_leads_the_strips_between(pile):
    assert ranked(pile, "sashing")[0] in NEUTRAL


def test_a_print_of_many_colors_is_in_the_lower_half_for_strips(pile):
    order = ranked(pile, "sashing")
    many = [name for name, look in pile[1].items() if look.kind == "multi"]
    assert all(order.index(name) >= len(order) / 2 for name in many)


def test_corner_squares_are_led_by_color(pile):
    assert not set(ranked(pile, "cornerstone")[:3]) & NEUTRAL


def test_a_loud_color_is_not_tried_first_where_it_is_wide(pile):
    loud = {"Red", "Royal", "Lime", "Scarlet", "Tangerine", "Rainbow", "Carnival"}
    for role in ("sashing", "border"):
        first = sort_out(advise(*pile, role)).try_first
        assert first
        assert not loud & {each.cloth for each in first}


def test_what_is_tried_first_loses_few_shirts(pile):
    for each in sort_out(advise(*pile, "sashing")).try_first:
        lost = [why for why in each.reasons if why.rule == "the_cloth_must_not_get_lost_beside_the_shirts"]
        assert sum(len(why.shirts) for why in lost) <= len(pile[0]) / 3


@pytest.mark.parametrize(
    ("pile", "solid", "mottled"),
    [
        (TUNED["reds"], "Red", "Red clouds"),
        (NOT_TUNED["a swim team"], "Ocean", "Ocean clouds"),
        (NOT_TUNED["a childhood"], "Brick", "Brick clouds"),
    ],
)
def test_mottled_stands_above_plain_of_the_color_the_shirts_wear(pile, solid, mottled):
    for role in ("sashing", "border"):
        assert scores(pile, role)[mottled] - scores(pile, role)[solid] > 10
    assert reason(pile, "border", solid, "a_solid_is_never_matched_to_shirts_of_its_color").points < -8
    assert solid not in ranked(pile, "sashing")[:3]


def test_black_is_not_among_the_first_three_in_a_dark_pile():
    assert "Black" not in ranked(TUNED["darks"], "sashing")[:3]
    assert "Ink" not in ranked(NOT_TUNED["a festival-goer"], "sashing")[:3]


def test_strips_of_the_color_most_shirts_wear_lose_points_for_it():
    rule = "the_most_worn_color_is_not_automatically_the_strips"
    why = reason(NOT_TUNED["a childhood"], "sashing", "Brick clouds", rule)
    assert why.points == -15
    assert why.words.startswith("Red is worn by 4 of 14 shirts")
    assert reason(NOT_TUNED["a childhood"], "border", "Brick clouds", rule) is None
    assert reason(NOT_TUNED["a swim team"], "sashing", "Ocean clouds", rule) is None


A_FEW_OTHERS = ("#1b4f8f", "#2f8f3a", "#e2a71e", "#4d2a5a", "#2aa5a0", "#ffffff", "#8c8f94")


def test_two_shirts_of_a_color_are_no_theme_and_lead_nothing():
    pile = numbered([shirt("#9c3b2a")] * 2 + [shirt(color) for color in A_FEW_OTHERS])
    for role in ("sashing", "border"):
        for each in advise(pile, OTHER_SHELF, role):
            assert not [why for why in each.reasons if "worn by" in why.words]


def test_a_gray_blue_is_not_called_navy():
    shelf = {"Dusk": cloth("solid", "#9aa5b0"), "Night": cloth("solid", "#1f2a4d")}
    words = {
        each.cloth: " ".join(why.words for why in each.reasons) for each in advise(REDS, shelf, "sashing")
    }
    assert "Navy goes with nearly everything" in words["Night"]
    assert "Navy" not in words["Dusk"]


def test_a_color_worn_by_a_third_is_named_as_a_theme():
    pile = NOT_TUNED["a childhood"]
    reds = numbered([shirt("#9c3b2a")] * 4 + [shirt("#ffffff")] * 3 + [shirt("#1b4f8f")] * 4)
    rule = "a_color_worn_by_a_third_is_a_theme_to_consider"
    assert "a theme to consider" in reason((reds, pile[1]), "border", "Ocean clouds", rule).words
    assert reason((reds, pile[1]), "border", "Plum", rule) is None


def test_a_color_that_half_the_pile_shares_is_told_as_a_teams():
    why = reason(
        NOT_TUNED["a swim team"], "border", "Ocean clouds",
        "team_or_school_colors_when_half_the_pile_shares_them",
    )  # fmt: skip
    assert why.points > 0
    assert why.words.startswith("Blue is in 10 of 13 shirts")


def test_a_themed_print_rises_when_the_customer_asks_for_it(pile):
    many = [name for name, look in pile[1].items() if look.kind == "multi"]
    for name in many:
        assert scores(pile, "sashing", theme_wanted=True)[name] > scores(pile, "sashing")[name] + 20
        assert ranked(pile, "backing").index(name) <= ranked(pile, "sashing").index(name)


def test_dark_or_red_beside_white_is_soaked_first_and_costs_nothing():
    rule = "dark_or_red_beside_white_is_soaked_first"
    scarlet = reason(NOT_TUNED["a swim team"], "binding", "Scarlet", rule)
    assert (scarlet.points, scarlet.shirts) == (0, ("06", "07"))
    assert scarlet.words == "Beside 2 white shirts: soak a scrap first, its dye may run"
    assert reason(NOT_TUNED["a swim team"], "binding", "Dove", rule) is None
    snow = reason(NOT_TUNED["a festival-goer"], "sashing", "Snow", rule)
    assert snow.words.startswith("White beside")


def test_white_and_gray_shirts_count_little():
    rule = "it_picks_up_the_colors_of_the_shirts"
    four = {kind: {f"g{number}": shirt(color) for number in range(4)} for kind, color in
            (("gray", "#c8c8c8"), ("green", "#2f8f3a"))}  # fmt: skip
    before = reason((REDS, OTHER_SHELF), "backing", "Ocean", rule).points
    with_gray = reason((REDS | four["gray"], OTHER_SHELF), "backing", "Ocean", rule).points
    with_green = reason((REDS | four["green"], OTHER_SHELF), "backing", "Ocean", rule).points
    assert 0 < abs(with_gray - before) < abs(with_green - before) / 2


def test_a_cloth_of_the_color_of_every_shirt_sets_none_off():
    pile = numbered([shirt("#2350b0")] * 5)
    (only,) = advise(pile, {"Same": cloth("solid", "#2350b0")}, "sashing")
    edge = [why.points for why in only.reasons if why.rule == "the_strips_between_touch_every_shirt"]
    lost = [why.words for why in only.reasons if why.rule == "the_cloth_must_not_get_lost_beside_the_shirts"]
    assert edge == [0]
    assert lost == ["Gets lost beside all 5 shirts"]


def test_cloth_far_lighter_than_the_set_is_told():
    why = reason(TUNED["darks"], "border", "Chalk white", "it_is_not_far_too_dark_or_light_against_the_set")
    assert why.words == "Far too light against the set"


def test_a_print_larger_than_a_corner_square_is_told_only_where_the_scale_is_known():
    rule = "a_print_is_not_cut_to_pieces_by_a_narrow_place"
    shelf = {
        "Large": cloth("blender", "#2aa5a0", "#e8f4f2", scale=4.0),
        "Small": cloth("blender", "#2aa5a0", "#e8f4f2", scale=0.5),
        "Unknown": cloth("blender", "#2aa5a0", "#e8f4f2"),
    }
    pile = (A_SWIM_TEAM, shelf)
    assert "larger than a corner square" in reason(pile, "cornerstone", "Large", rule).words
    assert reason(pile, "cornerstone", "Small", rule) is None
    assert reason(pile, "cornerstone", "Unknown", rule) is None
    assert reason(pile, "backing", "Large", rule) is None


def test_the_score_is_the_sum_of_its_reasons_and_each_reason_has_words(pile):
    for role in PLACES:
        for theme in (False, True):
            for each in advise(*pile, role, theme_wanted=theme):
                whole = sum(why.points for why in each.reasons)
                assert each.score == pytest.approx(min(100, max(0, whole)), abs=1e-6)
                assert all(why.words and why.words[0].isupper() for why in each.reasons)


def test_the_weights_of_a_place_add_up_to_one():
    for place in PLACES.values():
        assert place.support + place.edge + place.quiet + place.value + place.pop == pytest.approx(1)


def test_the_order_in_which_shirts_and_cloths_are_given_changes_nothing(pile):
    shirts, shelf = pile
    shuffle = random.Random(7)
    other_shirts = dict(shuffle.sample(list(shirts.items()), len(shirts)))
    other_shelf = dict(shuffle.sample(list(shelf.items()), len(shelf)))
    assert advise(other_shirts, other_shelf, "border") == advise(shirts, shelf, "border")


def test_alike_cloths_stand_by_name():
    shelf = dict.fromkeys(("Z", "A", "M"), SHELF["Charcoal"])
    assert [each.cloth for each in advise(REDS, shelf, "binding")] == ["A", "M", "Z"]


def test_the_three_heaps_hold_every_cloth_once(pile):
    for role in PLACES:
        advice = advise(*pile, role)
        heaps = sort_out(advice)
        names = [
            each.cloth for heap in (heaps.try_first, heaps.also_good, heaps.only_narrow) for each in heap
        ]
        assert sorted(names) == sorted(pile[1])
        assert 0 < len(heaps.try_first) <= 3


def test_every_rule_states_itself_and_is_common_practice():
    for rule in {*ASKED, *UNASKED}:
        assert (rule.__doc__ or "").strip().endswith(".")
        assert len(rule.__name__) > 20


def test_without_shirts_or_cloth_there_is_no_advice():
    assert advise({}, SHELF, "sashing") == ()
    assert advise(REDS, {}, "sashing") == ()


def test_a_role_nothing_is_chosen_for_is_refused():
    with pytest.raises(BadInput) as fault:
        advise(REDS, SHELF, "batting")
    assert fault.value.field == "role"


def test_a_pile_without_any_color_is_answered():
    pile = numbered([shirt("#ffffff"), shirt("#8a8a8a"), shirt("#101010")])
    assert len(advise(pile, SHELF, "sashing")) == len(SHELF)


def test_shares_of_a_palette_weigh_what_a_cloth_looks_like():
    half = FabricLook(
        Palette(Swatch(lab("#1f2a4d"), 0.5), (Swatch(lab("#f7f7f2"), 0.5),)), 0.5, 0.5, 1, "blender"
    )
    navy = numbered([shirt("#1f2a4d")] * 3)
    (mixed,) = advise(navy, {"Stripe": half}, "sashing")
    (plain,) = advise(navy, {"Plain": cloth("solid", "#1f2a4d")}, "sashing")
    assert mixed.score > plain.score

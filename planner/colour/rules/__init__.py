"""The trade's rules for choosing cloth, one function a rule, in the order a maker reads them."""

from .contrast import (
    a_loud_color_takes_over_where_it_is_wide,
    a_shirt_close_to_the_cloth_is_set_off_but_little,
    it_is_not_far_too_dark_or_light_against_the_set,
    quiet_cloth_leaves_the_talking_to_the_shirts,
    the_cloth_must_not_get_lost_beside_the_shirts,
    the_strips_between_touch_every_shirt,
)
from .dye import dark_or_red_beside_white_is_soaked_first
from .groups import (
    a_color_worn_by_a_third_is_a_theme_to_consider,
    team_or_school_colors_when_half_the_pile_shares_them,
    the_most_worn_color_is_not_automatically_the_strips,
)
from .hues import (
    a_mottled_print_sits_well_beside_all_its_hues,
    a_solid_is_never_matched_to_shirts_of_its_color,
    corner_squares_may_be_the_one_bright_spot,
    it_picks_up_the_colors_of_the_shirts,
    neutrals_go_with_nearly_everything,
)
from .prints import (
    a_print_is_not_cut_to_pieces_by_a_narrow_place,
    a_themed_print_is_the_customers_exception,
    a_themed_print_she_asked_for_is_welcome,
    prints_of_one_to_three_colors_read_as_blenders,
)
from .verdict import Rule, Verdict

RULES: tuple[Rule, ...] = (
    the_strips_between_touch_every_shirt,
    it_picks_up_the_colors_of_the_shirts,
    neutrals_go_with_nearly_everything,
    a_mottled_print_sits_well_beside_all_its_hues,
    corner_squares_may_be_the_one_bright_spot,
    team_or_school_colors_when_half_the_pile_shares_them,
    a_color_worn_by_a_third_is_a_theme_to_consider,
    prints_of_one_to_three_colors_read_as_blenders,
    quiet_cloth_leaves_the_talking_to_the_shirts,
    the_cloth_must_not_get_lost_beside_the_shirts,
    a_shirt_close_to_the_cloth_is_set_off_but_little,
    a_solid_is_never_matched_to_shirts_of_its_color,
    a_loud_color_takes_over_where_it_is_wide,
    it_is_not_far_too_dark_or_light_against_the_set,
    the_most_worn_color_is_not_automatically_the_strips,
    a_print_is_not_cut_to_pieces_by_a_narrow_place,
    dark_or_red_beside_white_is_soaked_first,
)
UNASKED: tuple[Rule, ...] = (*RULES, a_themed_print_is_the_customers_exception)
ASKED: tuple[Rule, ...] = (*RULES, a_themed_print_she_asked_for_is_welcome)

__all__ = ["ASKED", "RULES", "UNASKED", "Rule", "Verdict"]

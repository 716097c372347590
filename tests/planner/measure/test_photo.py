"""Sizes from pictures, exact where the taps are; the pictures are made up (see pictures.py)."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from planner.measure import A4, CARD, LETTER, MAT_12, Measured, Reference, measure
from planner.problems import BadInput
from planner.units import INCH, Size
from tests.planner.measure.pictures import FOCAL, MIDDLE, inches, oblong, picture, seen, turned

POSES = [
    {"above": above, "tilt": tilt, "toward": toward, "roll": roll}
    for (above, tilt), (toward, roll) in product(
        [(20.0, 0.0), (38.0, 7.0), (45.0, 25.0), (60.0, 45.0)], [(0.0, 0.0), (70.0, 90.0), (200.0, 233.0)]
    )
]
TRUE = Size(11 * INCH, 13 * INCH)


def scene(
    reference: Reference, pose: dict[str, float], *, lying: float = 20.0
) -> tuple[np.ndarray, np.ndarray]:
    beside = turned(oblong(*inches(reference)), lying) + np.array([9.5, -2.0])
    return seen(beside, **pose), seen(oblong(11, 13), **pose)


def known(what: str) -> dict[str, object]:
    return {
        "lens and middle": {"focal_px": FOCAL, "middle_px": MIDDLE},
        "lens only": {"focal_px": FOCAL},
        "middle only": {"middle_px": MIDDLE},
        "nothing": {},
    }[what]


@pytest.mark.parametrize("pose", POSES)
@pytest.mark.parametrize("reference", [MAT_12, LETTER, A4, CARD])
@pytest.mark.parametrize("what", ["lens and middle", "lens only", "middle only", "nothing"])
def test_taps_without_noise_give_the_exact_size_at_any_pose(
    what: str, reference: Reference, pose: dict[str, float]
) -> None:
    said = measure(reference, *scene(reference, pose), **known(what))
    assert abs(said.width - TRUE.width) <= 2
    assert abs(said.height - TRUE.height) <= 2


def test_a_square_seen_straight_on_is_itself() -> None:
    """Identity: a 12-in square that is the mat's own square."""
    square = oblong(1200, 1200) + np.array(MIDDLE)
    said = measure(MAT_12, square, square)
    assert (said.width, said.height) == (12 * INCH, 12 * INCH)


@pytest.mark.parametrize("what", ["lens and middle", "middle only", "nothing"])
def test_the_corners_of_the_card_may_be_tapped_in_any_order(what: str) -> None:
    made = picture(np.random.default_rng(3), "card beside it")
    reference_px, print_px = made.tapped(np.random.default_rng(4))
    first = measure(CARD, reference_px, print_px, **known(what))
    for order in ([2, 3, 0, 1], [1, 2, 3, 0], [3, 2, 1, 0], [0, 2, 1, 3]):
        again = measure(CARD, reference_px[order], print_px, **known(what))
        assert abs(again.width - first.width) <= 2
        assert abs(again.height - first.height) <= 2


def test_the_print_may_be_tapped_either_way_round_from_its_top_left() -> None:
    reference_px, print_px = scene(LETTER, POSES[4])
    first = measure(LETTER, reference_px, print_px)
    for order in ([0, 3, 2, 1], [0, 1, 3, 2]):
        assert measure(LETTER, reference_px, print_px[order]) == first


@pytest.mark.parametrize("lying", [0.0, 20.0, 90.0, 170.0, 270.0])
def test_a_card_lying_on_either_side_gives_the_same_answer(lying: float) -> None:
    for pose in POSES[:6]:
        said = measure(CARD, *scene(CARD, pose, lying=lying), **known("lens and middle"))
        assert abs(said.width - TRUE.width) <= 2


def test_a_picture_twice_as_fine_gives_the_same_size_and_half_the_doubt() -> None:
    made = picture(np.random.default_rng(8), "sheet beside it")
    reference_px, print_px = made.tapped(np.random.default_rng(9))
    coarse = measure(LETTER, reference_px, print_px, focal_px=FOCAL, middle_px=MIDDLE)
    fine = measure(
        LETTER,
        2 * reference_px,
        2 * print_px,
        focal_px=2 * FOCAL,
        middle_px=(2 * MIDDLE[0], 2 * MIDDLE[1]),
        click_sigma_px=1.5,
    )
    assert abs(fine.width - coarse.width) < coarse.plus_minus // 4
    assert fine.plus_minus == pytest.approx(coarse.plus_minus / 2, rel=0.05)


def test_worse_taps_widen_the_plus_or_minus_in_proportion() -> None:
    made = picture(np.random.default_rng(12), "card on the shirt")
    with_finger, with_thumb = (
        measure(CARD, made.reference_px, made.print_px, focal_px=FOCAL, middle_px=MIDDLE, click_sigma_px=each)
        for each in (1.5, 3.0)
    )
    assert with_thumb.plus_minus == pytest.approx(2 * with_finger.plus_minus, rel=0.1)


def test_the_mat_is_surer_than_the_sheet_and_the_sheet_than_the_card() -> None:
    doubts = []
    for scene_name in ("mat", "sheet beside it", "card beside it"):
        made = [picture(np.random.default_rng(seed), scene_name) for seed in range(8)]
        said = [measure(each.reference, each.reference_px, each.print_px) for each in made]
        doubts.append(sum(each.plus_minus for each in said))
    assert doubts == sorted(doubts)


def test_a_print_that_is_not_square_is_averaged_and_doubted_by_half_its_unevenness() -> None:
    pose = POSES[4]
    uneven = np.array([[-5.5, -6.5], [5.5, -6.5], [5.0, 6.5], [-5.0, 6.5]])
    reference_px, _ = scene(MAT_12, pose)
    said = measure(MAT_12, reference_px, seen(uneven, **pose), focal_px=FOCAL, middle_px=MIDDLE)
    assert said.method.endswith("print not square")
    assert said.width == pytest.approx(10.5 * INCH, abs=INCH / 50)
    assert said.plus_minus > INCH // 2


def test_a_picture_that_was_cut_off_is_told_by_its_corners_and_the_lens_left_out() -> None:
    """Half of the picture gone, so that its middle is not where the lens looked: seen at a tilt."""
    pose = {"above": 38.0, "tilt": 20.0, "toward": 30.0, "roll": 0.0}
    reference_px, print_px = scene(MAT_12, pose)
    said = measure(MAT_12, reference_px, print_px, focal_px=FOCAL, middle_px=(5200.0, 900.0))
    assert said.method == "grid, lens does not agree"
    assert abs(said.width - TRUE.width) <= 2


LINE = [(0, 0), (500, 2), (1000, 0), (700, 900)]
INSIDE = [(0, 0), (1000, 0), (500, 300), (500, 1000)]
SOUND = [(100, 100), (900, 110), (905, 800), (95, 790)]


@pytest.mark.parametrize(
    ("reference_px", "print_px", "field"),
    [
        (LINE, SOUND, "reference_px"),
        (SOUND, LINE, "print_px"),
        (SOUND, INSIDE, "print_px"),
        (SOUND, [*SOUND[:3], SOUND[2]], "print_px"),
        (SOUND, SOUND[:3], "print_px"),
        (SOUND, [*SOUND, (1, 1)], "print_px"),
        (SOUND, [(float("nan"), 0), *SOUND[1:]], "print_px"),
        (SOUND, "nothing", "print_px"),
        (SOUND, [(1, 2, 3)] * 4, "print_px"),
    ],
)
def test_corners_that_are_none_are_refused_by_name(
    reference_px: object, print_px: object, field: str
) -> None:
    with pytest.raises(BadInput) as caught:
        measure(CARD, reference_px, print_px)  # type: ignore[arg-type]
    assert caught.value.field == field


@pytest.mark.parametrize(
    ("change", "field"), [({"click_sigma_px": 0}, "click_sigma_px"), ({"focal_px": -1}, "focal_px")]
)
def test_a_camera_that_cannot_be_is_refused(change: dict[str, float], field: str) -> None:
    with pytest.raises(BadInput) as caught:
        measure(CARD, SOUND, SOUND, **change)  # type: ignore[arg-type]
    assert caught.value.field == field


def test_any_eight_taps_are_measured_or_refused_in_words() -> None:
    rng = np.random.default_rng(77)
    said = [answer(rng.uniform(0, 4000, (8, 2))) for _ in range(40)]
    sizes = [each for each in said if isinstance(each, Measured)]
    words = [each for each in said if isinstance(each, str)]
    assert len(sizes) > 3 < len(words)
    assert all(each.width > 0 < each.plus_minus for each in sizes)
    assert all("tap" in each for each in words)


def answer(taps: np.ndarray) -> Measured | str:
    try:
        return measure(CARD, taps[:4], taps[4:], middle_px=MIDDLE)
    except BadInput as fault:
        return fault.message


def test_nothing_that_was_given_is_changed() -> None:
    reference_px, print_px = scene(CARD, POSES[3])
    before = reference_px.copy(), print_px.copy()
    measure(CARD, reference_px, print_px, focal_px=FOCAL)
    assert (reference_px == before[0]).all()
    assert (print_px == before[1]).all()

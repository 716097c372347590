"""The geometry underneath, against OpenCV (the reference library of camera geometry)."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from planner.measure import MAT_12, measure
from planner.measure.camera import homography, rotations, turned_by
from planner.units import INCH
from tests.planner.measure.pictures import FOCAL, MIDDLE, picture

CAMERA = np.array([[FOCAL, 0, MIDDLE[0]], [0, FOCAL, MIDDLE[1]], [0, 0, 1]])


def test_a_rotation_is_the_one_of_rodrigues() -> None:
    rng = np.random.default_rng(1)
    for vector in [*rng.uniform(-2, 2, (40, 3)), np.zeros(3), np.array([0.0, 0.0, np.pi])]:
        theirs, _ = cv2.Rodrigues(vector)
        assert rotations(vector[None])[0] == pytest.approx(theirs, abs=1e-12)
        assert rotations(turned_by(theirs)[None])[0] == pytest.approx(theirs, abs=1e-6)


def test_a_view_through_four_points_is_theirs() -> None:
    rng = np.random.default_rng(2)
    square = np.array([[0, 0], [3, 0], [3, 2], [0, 2]], dtype=np.float32)
    for _ in range(40):
        seen = (square * 300 + rng.uniform(-120, 120, (4, 2))).astype(np.float32)
        theirs = cv2.getPerspectiveTransform(square, seen)
        ours = homography(square.astype(float), seen.astype(float))
        assert ours / ours[2, 2] == pytest.approx(theirs, rel=1e-5, abs=1e-5)


def test_with_taps_without_noise_the_size_is_what_their_pose_unprojects_to() -> None:
    for seed in range(10):
        made = picture(np.random.default_rng(seed), "mat", most_tilt=35)
        half = 6.0
        known = np.array([[-half, half, 0], [half, half, 0], [half, -half, 0], [-half, -half, 0]])
        _, turn, place = cv2.solvePnP(known, made.reference_px, CAMERA, None, flags=cv2.SOLVEPNP_IPPE_SQUARE)
        at = on_table(made.print_px, cv2.Rodrigues(turn)[0], place)
        said = measure(MAT_12, made.reference_px, made.print_px, focal_px=FOCAL, middle_px=MIDDLE)
        assert said.width / INCH == pytest.approx(np.linalg.norm(at[1] - at[0]), abs=0.002)
        assert said.height / INCH == pytest.approx(np.linalg.norm(at[3] - at[0]), abs=0.002)


def on_table(seen: np.ndarray, turn: np.ndarray, place: np.ndarray) -> np.ndarray:
    flat = CAMERA @ np.column_stack([turn[:, :2], place])
    at = np.linalg.solve(flat, np.column_stack([seen, np.ones(4)]).T).T
    return at[:, :2] / at[:, 2:]

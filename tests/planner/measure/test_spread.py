"""How far two sides may be off together, against SciPy's bivariate normal distribution."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import multivariate_normal

from planner.measure.spread import SHARE, plus_minus


@pytest.mark.parametrize("together", [-0.9, -0.3, 0.0, 0.5, 0.98])
@pytest.mark.parametrize("other", [0.2, 0.7, 1.0, 3.0])
def test_both_sides_lie_within_it_as_often_as_said(other: float, together: float) -> None:
    covariance = np.array([[1.0, together * other], [together * other, other**2]])
    reach = plus_minus(covariance)
    box = multivariate_normal([0, 0], covariance)
    inside = (
        box.cdf([reach, reach])
        - box.cdf([-reach, reach])
        - box.cdf([reach, -reach])
        + box.cdf([-reach, -reach])
    )
    assert inside == pytest.approx(SHARE, abs=2e-4)


def test_where_nothing_is_uncertain_it_is_nothing() -> None:
    assert plus_minus(np.zeros((2, 2))) == 0

"""What a search for mixed sizes tells while it has nothing yet."""

from __future__ import annotations

import re

from planner.layout import mixed_layout
from planner.problems import Impossible, Limit
from planner.quilt import Sashing
from planner.units import INCH

from .quilts import random_bag, wish_for


def test_while_there_is_none_the_wished_size_is_settled_first_and_it_says_how_far_it_is() -> None:
    said: list[str] = []
    sashings = (None, Sashing(2 * INCH))
    wish = wish_for(28, 34, tolerance=4 * INCH, sashings=sashings)
    answer = mixed_layout(random_bag(6, 1), wish, limit=Limit(effort=450, tell=said.append))
    assert isinstance(answer, Impossible)
    first, last = said[0], said[-1]
    total = re.search(r"1 of (\d+) sizes and directions settled", first)
    assert total is not None
    assert any(words.startswith("None at ") for words in said[:5])
    assert last.endswith(f"{total[1]} of {total[1]} sizes and directions settled.")

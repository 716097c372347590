"""What a shirt or a cloth looks like, as records that make sense."""

from __future__ import annotations

import pytest

from planner.colour import FabricLook, Palette, Swatch
from planner.problems import BadInput

GREEN = (40.0, -30.0, 20.0)


@pytest.mark.parametrize(
    ("lab", "share", "field"),
    [
        ((50.0, 0.0), 1.0, "lab"),
        ((101.0, 0.0, 0.0), 1.0, "lab"),
        ((-1.0, 0.0, 0.0), 1.0, "lab"),
        ((float("nan"), 0.0, 0.0), 1.0, "lab"),
        (GREEN, 1.1, "share"),
        (GREEN, -0.1, "share"),
        (GREEN, float("nan"), "share"),
    ],
)
def test_a_swatch_that_is_no_color_or_no_share_cannot_be_built(lab, share, field):
    with pytest.raises(BadInput) as caught:
        Swatch(lab, share)
    assert caught.value.field == field


def test_the_shares_of_a_shirt_make_the_whole_shirt():
    prints = (Swatch((90.0, 0.0, 0.0), 0.2), Swatch((20.0, 0.0, 0.0), 0.1))
    assert Palette(Swatch(GREEN, 0.7), prints).prints == prints
    with pytest.raises(BadInput, match="add up to 1"):
        Palette(Swatch(GREEN, 0.8), prints)


def test_a_plain_shirt_is_one_color():
    assert Palette(Swatch(GREEN)).ground.share == 1


def test_a_cloth_of_no_known_kind_cannot_be_built():
    look = FabricLook(Palette(Swatch(GREEN)), value=40.0, busy=0.1, hues=1, kind="solid")
    assert look.scale is None
    with pytest.raises(BadInput) as caught:
        FabricLook(look.palette, value=40.0, busy=0.1, hues=1, kind="stripy")
    assert caught.value.field == "kind"

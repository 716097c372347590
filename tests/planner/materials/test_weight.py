"""What a quilt weighs: area by weight per area, rounded once."""

from __future__ import annotations

import pytest

from planner.materials import Layer, quilt_layers, quilt_weight, usual_layer
from planner.problems import BadInput
from planner.units import MM, Size

from .samples import inch, size

METRE = 1000 * MM


def test_a_square_metre_weighs_what_its_cloth_does():
    assert quilt_weight([Layer("jersey", METRE**2, 170)]) == 170


def test_half_a_gram_is_rounded_up_once():
    halves = [Layer("a", METRE**2 // 2, 1), Layer("b", METRE**2, 1), Layer("c", METRE**2, 1)]
    assert quilt_weight(halves) == 3
    assert quilt_weight(halves[:1]) == 1


def test_a_throw_of_light_batting_weighs_what_ounces_a_square_yard_say():
    # 60 x 75 in = 3.4722 yd2 = 2.9032 m2; times 51 g is 148.06 g, or 5.22 oz, 1.504 oz a square yard
    assert quilt_weight([Layer("batting", size(60, 75).area, 51)]) == 148


def test_a_throw_of_tees_weighs_its_four_layers():
    # 50 x 66 in = 2.129 m2: jersey 170 and seams 8 in 100, interfacing 35 likewise, cotton 145, batting 140
    quilt = size(50, 66)
    top = {"jersey": quilt.area, "light non-woven": quilt.area}
    layers = quilt_layers(quilt, top, backing="cotton", batting="80/20 batting")
    assert [layer.name for layer in layers] == ["jersey", "light non-woven", "cotton", "80/20 batting"]
    assert quilt_weight(layers) == pytest.approx(2.129 * (1.08 * 205 + 285), abs=2)


def test_a_quilt_without_batting_has_no_such_layer():
    layers = quilt_layers(size(40, 50), {"cotton": 1}, backing="plush", batting=None)
    assert [layer.name for layer in layers] == ["cotton", "plush"]


def test_a_cloth_nobody_weighed_is_refused_and_a_negative_weight_cannot_be_built():
    with pytest.raises(BadInput, match="weigh it"):
        usual_layer("moonlight", inch(1))
    with pytest.raises(BadInput):
        Layer("cotton", -1, 145)
    with pytest.raises(BadInput):
        Size(-1, 3)

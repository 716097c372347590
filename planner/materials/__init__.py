"""What is cut, what it is cut from, and how much to buy."""

from .allowances import INTERFACING_OVER, Allowances
from .backing import BackingOption, backing_options, pieced_backing_options
from .batting import BattingOption, Pack, batting_options
from .binding import Strips, bias_square, binding_strips
from .check import check_cuts
from .cloth import Buy, Cloth, Column, CutPiece, CutPlan, Item, Ribbon, Strip
from .interfacing import (
    InterfacingOption,
    behind_strips,
    interfacing_options,
    interfacing_pieces,
    interfacing_size,
)
from .parts import parts
from .sharing import Shared, share_out
from .shirts import ShirtCut, shirt_cuts
from .strips import THOROUGH, plan_cuts
from .weight import Layer, quilt_layers, quilt_weight, usual_layer

__all__ = [
    "INTERFACING_OVER",
    "THOROUGH",
    "Allowances",
    "BackingOption",
    "BattingOption",
    "Buy",
    "Cloth",
    "Column",
    "CutPiece",
    "CutPlan",
    "InterfacingOption",
    "Item",
    "Layer",
    "Pack",
    "Ribbon",
    "Shared",
    "ShirtCut",
    "Strip",
    "Strips",
    "backing_options",
    "batting_options",
    "behind_strips",
    "bias_square",
    "binding_strips",
    "check_cuts",
    "interfacing_options",
    "interfacing_pieces",
    "interfacing_size",
    "parts",
    "pieced_backing_options",
    "plan_cuts",
    "quilt_layers",
    "quilt_weight",
    "share_out",
    "shirt_cuts",
    "usual_layer",
]

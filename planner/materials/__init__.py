"""What is cut, what it is cut from, and how much to buy."""

from .allowances import INTERFACING_OVER, OVERHANGS, Allowances, overhang_for
from .backing import BackingOption, backing_options, pieced_backing_options
from .batting import BattingOption, Pack, batting_options
from .binding import Strips, bias_square, binding_strips
from .binding_ways import BindingOption, binding_options
from .check import check_cuts
from .cloth import Buy, Cloth, Column, CutPiece, CutPlan, Item, Ribbon, Strip
from .fat_quarters import (
    FAT_QUARTER,
    METRIC_FAT_QUARTER,
    PieceOption,
    fewest_pieces,
    pieces_for_less,
    quarter_of,
)
from .finishing import hanging_sleeve, label
from .interfacing import (
    InterfacingOption,
    behind_strips,
    interfacing_options,
    interfacing_pieces,
    interfacing_size,
)
from .measured import MeasuredTop, fits, measured_center, measured_parts, measured_size
from .parts import parts
from .sharing import Shared, share_out
from .shirts import ShirtCut, shirt_cuts
from .strips import THOROUGH, plan_cuts
from .weight import Layer, quilt_layers, quilt_weight, usual_layer

__all__ = [
    "FAT_QUARTER",
    "INTERFACING_OVER",
    "METRIC_FAT_QUARTER",
    "OVERHANGS",
    "THOROUGH",
    "Allowances",
    "BackingOption",
    "BattingOption",
    "BindingOption",
    "Buy",
    "Cloth",
    "Column",
    "CutPiece",
    "CutPlan",
    "InterfacingOption",
    "Item",
    "Layer",
    "MeasuredTop",
    "Pack",
    "PieceOption",
    "Ribbon",
    "Shared",
    "ShirtCut",
    "Strip",
    "Strips",
    "backing_options",
    "batting_options",
    "behind_strips",
    "bias_square",
    "binding_options",
    "binding_strips",
    "check_cuts",
    "fewest_pieces",
    "fits",
    "hanging_sleeve",
    "interfacing_options",
    "interfacing_pieces",
    "interfacing_size",
    "label",
    "measured_center",
    "measured_parts",
    "measured_size",
    "overhang_for",
    "parts",
    "pieced_backing_options",
    "pieces_for_less",
    "plan_cuts",
    "quarter_of",
    "quilt_layers",
    "quilt_weight",
    "share_out",
    "shirt_cuts",
    "usual_layer",
]

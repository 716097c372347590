"""Layouts: which block each piece gets, and whether the whole sews in straight seams."""

from planner.quilt import SeamTree, seam_rects, straight_seams

from .arranging.arrange import arrange, why
from .arranging.assign import assign
from .blocks import grid_quilt, grid_size
from .check import check_layout
from .fit import fit
from .grid import grid_options
from .mixing.mixed import mixed_layout
from .options import (
    AS_GIVEN,
    Arrangement,
    Assignment,
    Fit,
    GridAnswer,
    Layout,
    LeftOut,
    Remedy,
    Wish,
)
from .sewing import SewingStep, sewing_order

__all__ = [
    "AS_GIVEN",
    "Arrangement",
    "Assignment",
    "Fit",
    "GridAnswer",
    "Layout",
    "LeftOut",
    "Remedy",
    "SeamTree",
    "SewingStep",
    "Wish",
    "arrange",
    "assign",
    "check_layout",
    "fit",
    "grid_options",
    "grid_quilt",
    "grid_size",
    "mixed_layout",
    "seam_rects",
    "sewing_order",
    "straight_seams",
    "why",
]

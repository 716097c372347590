"""What is in the bag and what is to be sewn, as every engine sees it."""

from .bag import PRINT_KINDS, STRETCHES, THICKNESSES, WANTED, WASHES, Bag, Garment, Piece
from .counts import PER, amount_of
from .seams import SeamTree, seam_rects, straight_seams
from .sizes import size_name
from .top import CORNERS, FINISHES, Binding, Border, Cell, Quilt, Role, Sashing

__all__ = [
    "CORNERS",
    "FINISHES",
    "PER",
    "PRINT_KINDS",
    "STRETCHES",
    "THICKNESSES",
    "WANTED",
    "WASHES",
    "Bag",
    "Binding",
    "Border",
    "Cell",
    "Garment",
    "Piece",
    "Quilt",
    "Role",
    "Sashing",
    "SeamTree",
    "amount_of",
    "seam_rects",
    "size_name",
    "straight_seams",
]

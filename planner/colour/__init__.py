"""Colors of shirts and cloth: CIELAB (D65) for every threshold told to people, OKLab for hue."""

from .advice import Sorted, advise, sort_out, spoken_of
from .convert import contrast_ratio, difference, lab_to_srgb, srgb_to_lab, srgb_to_oklab
from .fabric import describe_fabric
from .groups import FAMILIES, NEUTRALS, count_families, family, family_names
from .look import Advice, FabricLook, Family, Lab, Neutral, Outline, Palette, Reason, Swatch
from .palette import read_palette
from .shirt import find_shirt

__all__ = [
    "FAMILIES",
    "NEUTRALS",
    "Advice",
    "FabricLook",
    "Family",
    "Lab",
    "Neutral",
    "Outline",
    "Palette",
    "Reason",
    "Sorted",
    "Swatch",
    "advise",
    "contrast_ratio",
    "count_families",
    "describe_fabric",
    "difference",
    "family",
    "family_names",
    "find_shirt",
    "lab_to_srgb",
    "read_palette",
    "sort_out",
    "spoken_of",
    "srgb_to_lab",
    "srgb_to_oklab",
]

"""Colors of shirts and cloth: CIELAB (D65) for every threshold told to people, OKLab for hue."""

from .convert import contrast_ratio, difference, srgb_to_lab, srgb_to_oklab
from .groups import FAMILIES, NEUTRALS, count_families, family, family_names
from .look import Advice, FabricLook, Family, Lab, Neutral, Outline, Palette, Reason, Swatch

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
    "Swatch",
    "contrast_ratio",
    "count_families",
    "difference",
    "family",
    "family_names",
    "srgb_to_lab",
    "srgb_to_oklab",
]

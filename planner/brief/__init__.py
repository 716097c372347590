"""What is asked, gathered and checked."""

from .kept import read_layout, read_quilt, read_shop_rules
from .question import ORDER, Brief
from .reading import read_brief
from .schema import brief_schema
from .shop import OutsideQuilter, ShopRules, Step
from .writing import as_json

__all__ = [
    "ORDER",
    "Brief",
    "OutsideQuilter",
    "ShopRules",
    "Step",
    "as_json",
    "brief_schema",
    "read_brief",
    "read_layout",
    "read_quilt",
    "read_shop_rules",
]

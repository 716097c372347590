"""Heat, interfacing, washing and pressing: what each piece can bear.

General cautions of the trade; the care label, the product's own sheet and a test on a corner
that will be cut away come first.
"""

from .heat import heat_limit, show_heat
from .interfacing import BONDS_AT, INTERFACINGS
from .needs import Needs, needs
from .press import Batch, press_batches
from .wash import Load, wash_loads

__all__ = [
    "BONDS_AT",
    "INTERFACINGS",
    "Batch",
    "Load",
    "Needs",
    "heat_limit",
    "needs",
    "press_batches",
    "show_heat",
    "wash_loads",
]

"""Heat, interfacing, washing and pressing: what each piece can bear.

General cautions of the trade; the care label, the product's own sheet and a test on a corner
that will be cut away come first.
"""

from .heat import NO_HEAT, heat_limit, show_heat
from .interfacing import BONDS_AT, INTERFACINGS
from .needs import Needs, needs
from .press import Batch, press_batches
from .tools import IRON, ISO_DOTS, PRESS, Setting, Tool, setting, ways_out
from .warnings import STOP_BELOW, hard_items, holds, instead_of_cloth, melts, stop_reasons
from .wash import KeptOut, Load, kept_out, wash_loads, wash_partners

__all__ = [
    "BONDS_AT",
    "INTERFACINGS",
    "IRON",
    "ISO_DOTS",
    "NO_HEAT",
    "PRESS",
    "STOP_BELOW",
    "Batch",
    "KeptOut",
    "Load",
    "Needs",
    "Setting",
    "Tool",
    "hard_items",
    "heat_limit",
    "holds",
    "instead_of_cloth",
    "kept_out",
    "melts",
    "needs",
    "press_batches",
    "setting",
    "show_heat",
    "stop_reasons",
    "wash_loads",
    "wash_partners",
    "ways_out",
]

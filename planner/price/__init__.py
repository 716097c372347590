"""What a quilt costs, what it earns an hour, and how the sum is divided.

Sales tax, what it is charged on and the law on deposits and instalments differ by place. The
figures here are what the maker has set; ask the local tax authority or an accountant.
"""

from .bill import KINDS, Line, Rule, lines
from .pricing import Pricing, price
from .shares import split
from .taxes import Tax, Taxed, tax
from .terms import Costs, Terms

__all__ = [
    "KINDS",
    "Costs",
    "Line",
    "Pricing",
    "Rule",
    "Tax",
    "Taxed",
    "Terms",
    "lines",
    "price",
    "split",
    "tax",
]

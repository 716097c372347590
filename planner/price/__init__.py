"""What a quilt costs, what it earns an hour, and how the sum is divided.

Sales tax, what it is charged on and the law on deposits and instalments differ by place. The
figures here are what the maker has set; ask the local tax authority or an accountant.
"""

from .bill import KINDS, Line, Rule, by_the_hour, by_the_pillow, lines
from .legs import ACCOUNTS, Leg, balances, charging, crediting, giving_back, paying, turned
from .portions import Portion, parts_in_turn, portions_in_turn
from .pricing import Earned, Pricing, earn, price
from .roundings import ToldApart, told_apart
from .settling import STAGES, Keeps, Rounds, Settlement, Storage, called_off, rounds_beyond, storage
from .shares import split
from .surcharges import USUAL, Surcharge, by_hand, not_on
from .taxes import Tax, Taxed, tax
from .terms import Costs, Terms
from .together import split_in_turn, told_together

__all__ = [
    "ACCOUNTS",
    "KINDS",
    "STAGES",
    "USUAL",
    "Costs",
    "Earned",
    "Keeps",
    "Leg",
    "Line",
    "Portion",
    "Pricing",
    "Rounds",
    "Rule",
    "Settlement",
    "Storage",
    "Surcharge",
    "Tax",
    "Taxed",
    "Terms",
    "ToldApart",
    "balances",
    "by_hand",
    "by_the_hour",
    "by_the_pillow",
    "called_off",
    "charging",
    "crediting",
    "earn",
    "giving_back",
    "lines",
    "not_on",
    "parts_in_turn",
    "paying",
    "portions_in_turn",
    "price",
    "rounds_beyond",
    "split",
    "split_in_turn",
    "storage",
    "tax",
    "told_apart",
    "told_together",
    "turned",
]

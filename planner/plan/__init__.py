"""A brief answered: layouts, minutes, cloth, price and date, with what stands in the way."""

from .answer import Offer, Plan
from .plan import answer_drawn, plan
from .supplies import items_by_cloth

__all__ = ["Offer", "Plan", "answer_drawn", "items_by_cloth", "plan"]

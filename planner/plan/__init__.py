"""A brief answered: layouts, minutes, cloth, price and date, with what stands in the way."""

from .answer import Offer, Plan
from .plan import answer_drawn, plan

__all__ = ["Offer", "Plan", "answer_drawn", "plan"]

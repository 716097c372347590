"""A brief answered: layouts, minutes, cloth, price and date, with what stands in the way."""

from .answer import Offer, Plan
from .plan import plan

__all__ = ["Offer", "Plan", "plan"]

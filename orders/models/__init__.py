"""The shop's records."""

from orders.models.people import Person, SignInFailure

__all__ = ["Person", "SignInFailure"]

"""Made-up accounts, lived through posting by posting with plain values; each step is checked."""

from __future__ import annotations

import os
import random
from dataclasses import dataclass, field

from planner.price import Leg, balances, charging, crediting, giving_back, paying, split, turned
from planner.problems import BadInput
from planner.units import Money

POSTINGS = int(os.environ.get("SOAK_POSTINGS", "50000"))
INTO = ("cash", "bank", "certificates")


@dataclass
class Payment:
    """A payment that stands, and what went back of it."""

    leg: Leg
    back: int = 0


@dataclass
class Account:
    """One order's account: a chance, its legs, and the payments that stand."""

    chance: random.Random
    legs: list[Leg] = field(default_factory=list)
    payments: list[Payment] = field(default_factory=list)
    net: int = 0
    tax: int = 0
    refused: int = 0

    def live(self, steps: int) -> None:
        """Charge, then do anything that may happen, so many times."""
        self.net, self.tax = self.chance.randint(1, 200_000), self.chance.randint(0, 20_000)
        self.legs += charging(self.net, self.tax)
        for _ in range(steps):
            getattr(
                self, self.chance.choice(("pay", "pay", "give_back", "bounce", "credit", "add", "share"))
            )()
            self.check()

    @property
    def open(self) -> int:
        return balances(self.legs)["owed"]

    def pay(self) -> None:
        minor, open_ = self.chance.randint(1, 120_000), self.open
        try:
            (leg,) = paying(minor, self.chance.choice(INTO), open_=open_)
        except BadInput:
            assert minor > open_
            self.refused += 1
            return
        assert minor <= open_
        self.legs.append(leg)
        self.payments.append(Payment(leg))

    def give_back(self) -> None:
        if not self.payments:
            return
        paid, minor = self.chance.choice(self.payments), self.chance.randint(1, 60_000)
        try:
            (leg,) = giving_back(minor, paid.leg, back=paid.back)
        except BadInput:
            assert paid.back + minor > paid.leg.minor
            self.refused += 1
            return
        assert (leg.out_of, leg.into) == (paid.leg.into, "owed")
        paid.back += minor
        self.legs.append(leg)

    def bounce(self) -> None:
        whole = [each for each in self.payments if not each.back]
        if whole:
            gone = self.chance.choice(whole)
            self.payments.remove(gone)
            self.legs += turned([gone.leg])

    def credit(self) -> None:
        minor = self.chance.randint(1, 5_000)
        given = crediting(minor, net=self.net, tax=self.tax, currency="USD")
        assert sum(leg.minor for leg in given) == minor
        self.legs += given

    def add(self) -> None:
        self.legs += charging(self.chance.randint(1, 9_000), self.chance.randint(0, 700))

    def share(self) -> None:
        weights = [self.chance.randint(1, 9) for _ in range(self.chance.randint(1, 6))]
        owed, whole = self.net + self.tax, sum(weights)
        parts = [part.minor for part in split(Money(owed, "USD"), weights)]
        assert sum(parts) == owed
        assert all(
            abs(part * whole - owed * weight) < whole for part, weight in zip(parts, weights, strict=True)
        )

    def check(self) -> None:
        """Hold all that must be true of an account, whatever happened."""
        lies = balances(self.legs)
        assert sum(lies.values()) == 0
        assert all(paid.back <= paid.leg.minor for paid in self.payments)
        assert sum(lies[each] for each in INTO) == sum(paid.leg.minor - paid.back for paid in self.payments)

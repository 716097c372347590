"""A shop with two orders of one customer; a verb is done, or the lights go out and nothing of it is left."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from datetime import UTC, datetime, timedelta
from typing import Any

from django.db import connection, transaction
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine

from orders.demo.clock import running_by
from orders.models import (
    ApprovedPiece,
    AskedSingly,
    Bag,
    Block,
    Consent,
    Customer,
    Cut,
    Design,
    Event,
    Look,
    Move,
    Order,
    Person,
    Piece,
    Shirt,
    Shop,
)  # fmt: skip
from tests.orders.lives.notebook import Notebook

NOON = datetime(2027, 3, 1, 12, 0, tzinfo=UTC)
NAMES = ("His sister", "The neighbor", "An aunt of Ferncliff")
KEPT = (
    Bag, Shirt, Piece, Order, Design, Move, Block, Consent, ApprovedPiece, Cut, Look, AskedSingly, Event
)  # fmt: skip
WHEN = st.sampled_from([0, 0, 0, 0, 0, 0, 0, 0, 1, 2, 4])  # before which write the lights go out; 0: never
ANY = st.integers(0, 9999)


class LightsOut(BaseException):
    """The shop's computer stops in the middle of a verb."""


@contextmanager
def lights_out_at(write: int) -> Iterator[None]:
    """Stop before the so-many-th write."""
    seen = 0

    def watch(execute: Callable[..., Any], sql: str, *rest: Any) -> Any:
        nonlocal seen
        if sql.startswith(("INSERT", "UPDATE", "DELETE")):
            seen += 1
            if seen == write:
                raise LightsOut
        return execute(sql, *rest)

    with connection.execute_wrapper(watch):
        yield


def everything() -> list[Any]:
    """Return all that the records say, to be compared as a whole."""
    found = []
    with connection.cursor() as cursor:
        for model in KEPT:
            found.append(cursor.execute(f"SELECT * FROM {model._meta.db_table} ORDER BY id").fetchall())
    return found


class World(RuleBasedStateMachine):
    """What every rule stands on; `tally` counts steps, crashes, cuts and quilts that left over all lives."""

    tally: dict[str, int] = {"steps": 0, "crashes": 0, "cuts": 0, "left": 0}

    def open_the_shop(self) -> None:
        self.stack = ExitStack()
        self.stack.enter_context(transaction.atomic())
        self.book, self.moment = Notebook(), NOON
        self.recounts, self.since_night, self.apart = 0, 0, set[tuple[int, int]]()
        self.stack.enter_context(running_by(lambda: self.moment))
        Shop.objects.set_up(
            name="The workroom", country="US", unit="in", currency="USD", paper="letter", time_zone="UTC"
        )
        make = Person.objects.create_person
        self.people = [make("Ada", role="owner", password="x"), make("Bo", role="helper", password="x")]
        self.customer = Customer.objects.create(name=NAMES[2])
        self.orders = [self.open_order(), self.open_order()]

    def teardown(self) -> None:
        if hasattr(self, "stack"):
            transaction.set_rollback(True)
            self.stack.close()

    def open_order(self) -> Order:
        return Order.objects.open(
            title="A quilt", customer=self.customer, by=self.ada, leaving=Order.Leaving.PARCEL
        )

    @property
    def ada(self) -> Person:
        return self.people[0]

    def do(self, verb: Callable[[], Any], lights_out: int) -> Any:
        """Do a verb; where the lights go out nothing of it is left, and it is done again."""
        World.tally["steps"] += 1
        self.since_night += 1
        self.moment += timedelta(seconds=1)
        if not lights_out:
            return verb()
        before = everything()
        try:
            with lights_out_at(lights_out):
                return verb()
        except LightsOut:
            World.tally["crashes"] += 1
            assert everything() == before
        return verb()

    def open_one(self, at: int) -> Order:
        orders = self.open_orders()
        return orders[at % len(orders)]

    def open_orders(self) -> list[Order]:
        return [order for order in self.orders if order.pk not in self.book.closed]

    def piece(self, pk: int) -> Piece:
        return Piece.objects.select_related("shirt__asked_singly").get(pk=pk)

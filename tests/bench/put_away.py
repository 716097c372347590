"""Years of work put away: copies of orders that were made, in large numbers and always the same ones."""

from __future__ import annotations

import copy
import hashlib
import os
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from datetime import timedelta
from random import Random
from typing import Any

from django.db import connection, models, transaction

from orders import stamp
from orders.models import (
    ApprovedPiece,
    Bag,
    Block,
    Consent,
    Customer,
    Cut,
    Design,
    DesignVersion,
    Entry,
    Event,
    Move,
    Order,
    Paper,
    Payer,
    Photo,
    Piece,
    Posting,
    Quote,
    Shirt,
    Shop,
    Stage,
)
from orders.models.photo import SIZES, photo_file, photo_folder
from tests.bench.many_times import once_more

# Names in several scripts, long and with an apostrophe; all invented.
NAMES = ("An aunt of Ferncliff", "Zoë Brandelholm", "Ó Maoilriain’s boys", "Тётя из Озёрска", "山の上の学校",
         "The choir of Lower Pentland with all who ever sang in it", "نادي التل", "Ἡ θεία")  # fmt: skip
GRAPH: tuple[tuple[type[Any], str], ...] = (
    (Order, "pk"), (Payer, "order"), (Bag, "orders"), (Shirt, "bag__orders"), (Piece, "shirt__bag__orders"),
    (Design, "order"), (Move, "design__order"), (DesignVersion, "order"), (Consent, "order"),
    (ApprovedPiece, "order"), (Cut, "approved__order"), (Block, "order"), (Stage, "order"), (Quote, "order"),
    (Paper, "order"), (Entry, "order"), (Posting, "entry__order"), (Event, "order"),
)  # fmt: skip
# So much of an order that was handed over is copied, that a hundred thousand fit on a disk and into minutes.
LITTLE = {Shirt: 4, Piece: 4, Block: 4, Stage: 5, Event: 4, Entry: 3, Posting: 4, Move: 1, ApprovedPiece: 2}
LITTLE |= {Cut: 2, Quote: 1, Paper: 1, DesignVersion: 1}
AT_ONCE = 250  # orders
BY_HAND = 1000  # orders; what goes beyond is these again


class Copies:
    """Copies one order with all that hangs on it."""

    def __init__(self, template: Order, *, little: bool) -> None:
        self.template = template
        self.rows = {
            kind: list(kind._base_manager.filter(**{path: template.pk}).order_by("pk").distinct())
            for kind, path in GRAPH
        }
        if little:
            self.rows |= {kind: self.rows[kind][:most] for kind, most in LITTLE.items()}
        self.next = {kind: _last(kind) + 1 for kind, _ in GRAPH}
        self.receipt = _highest(Entry, "receipt_number") + 1
        self.number, self.paper = _highest(Order, "number") + 1, _highest(Paper, "number") + 1

    def make(
        self,
        numbers: Iterable[int],
        *,
        change: Any,
        customers: Sequence[Customer] = (),
        apart: timedelta = timedelta(),
    ) -> None:
        """Write copies, each done so long before the one before; `change` says what else its order has.

        Each is of one of the customers, who brought the bag and pays; without any, of whom the first was.
        """
        made: dict[type[Any], list[Any]] = {kind: [] for kind, _ in GRAPH}
        for number in numbers:
            ours: dict[tuple[type[Any], int], int] = {}
            if customers:
                ours[Customer, self.template.customer_id] = customers[number % len(customers)].pk
            for kind, _ in GRAPH:
                made[kind] += self._copied(kind, ours, back=apart * number)
            change(number, made[Order][-1])
        links = list(zip(made[Order], made[Bag], strict=False))
        for kind, rows in made.items():
            kind._base_manager.bulk_create(rows, batch_size=500)
        through = Order.bags.through
        through.objects.bulk_create(through(order=order, bag=bag) for order, bag in links)

    def _copied(
        self, kind: type[Any], ours: dict[tuple[type[Any], int], int], *, back: timedelta
    ) -> Iterator[Any]:
        for row in self.rows[kind]:
            new = copy.copy(row)
            new._state = copy.copy(row._state)
            new.pk = self.next[kind]
            self.next[kind] += 1
            ours[kind, row.pk] = new.pk
            for field in kind._meta.concrete_fields:
                if field.is_relation and (field.related_model, getattr(row, field.attname)) in ours:
                    setattr(new, field.attname, ours[field.related_model, getattr(row, field.attname)])
                elif field.name == "client_id":
                    new.client_id = None
            self._number(new)
            if isinstance(new, Stage) and new.done_at:
                new.done_at -= back
            yield new

    def _number(self, new: Any) -> None:
        if isinstance(new, Order):
            new.number, self.number = self.number, self.number + 1
        elif isinstance(new, Paper):
            new.number, self.paper = self.paper, self.paper + 1
        elif isinstance(new, Entry):
            new.key, new.reverses_id, new.of_id = f"copy {new.pk}", None, None
            if new.receipt_number is not None:
                new.receipt_number, self.receipt = self.receipt, self.receipt + 1


def put_away_many(template: Order, count: int, *, seed: int) -> None:
    """Put away many in a file of SQLite: a thousand, and those again under other names and numbers."""
    by_hand = min(count, BY_HAND)
    first = {kind: _last(kind) + 1 for kind in (Customer, *(kind for kind, _ in GRAPH))}
    put_away(template, by_hand, seed=seed)
    spans = {kind: range(start, _last(kind) + 1) for kind, start in first.items()}
    with transaction.atomic(), _unstamped():
        once_more(spans, Order.bags.through, times=count // by_hand - 1)
    _count_on(Copies(template, little=True))


def put_away(template: Order, count: int, *, seed: int) -> None:
    """Write so many orders that were handed over, one a few hours after the other, going back in time."""
    rng, copies = Random(seed), Copies(template, little=True)
    customers = _customers(max(1, count // 3), rng)
    last = template.handed_over_at

    def change(number: int, order: Any) -> None:
        order.title = f"{NAMES[number % len(NAMES)]}, {number}"
        order.handed_over_at = last - timedelta(hours=5 * number + rng.randrange(5))
        order.opened_at = order.handed_over_at - timedelta(days=60)

    for start in range(0, count, AT_ONCE):
        with transaction.atomic(), _unstamped():
            now = range(start, min(start + AT_ONCE, count))
            copies.make(now, change=change, customers=customers, apart=timedelta(hours=5))
    _count_on(copies)


@contextmanager
def _unstamped() -> Iterator[None]:
    """Let many rows be written without a new stamp for each; what counts on afterwards writes one."""
    stamp.remove(connection)
    yield
    stamp.install(connection)


def bring_to(live: int) -> None:
    """Copy the orders in the workroom, each in its turn and whole, until there are so many."""
    templates = list(Order.objects.in_the_workroom().order_by("number"))
    for turn in range(live - len(templates)):
        copies = Copies(templates[turn % len(templates)], little=False)

        def change(number: int, order: Any) -> None:
            if order.needed_by:
                order.needed_by += timedelta(days=number % 90)

        with transaction.atomic():
            copies.make([turn], change=change)
            _count_on(copies)


def link_photos(picture: bytes, *, shared: int = 8) -> None:
    """Give every bag put away a photograph; all of them are a few files under many names."""
    files = []
    for number in range(shared):
        file = photo_folder() / f"shared-{number}"
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(picture)
        files.append(file)
    bags = Bag.objects.filter(orders__handed_over_at__isnull=False).distinct().values_list("pk", flat=True)
    photos = []
    for number, bag in enumerate(bags.iterator(chunk_size=2000)):
        sha256 = hashlib.sha256(f"{number}".encode()).hexdigest()
        photos.append(
            Photo(sha256=sha256, sent_sha256=sha256, width=800, height=600, is_ready=True, bag_id=bag)
        )
        _link(files[number % shared], sha256, number // (shared * 6000))
    Photo.objects.bulk_create(photos, batch_size=500)


def _link(file: Any, sha256: str, generation: int) -> None:
    photo_file(sha256).parent.mkdir(parents=True, exist_ok=True)
    for name in (photo_file(sha256), *(photo_file(sha256, size) for size in SIZES)):
        source = file.with_name(f"{file.name}-{generation}")
        if not source.exists():
            source.write_bytes(file.read_bytes())  # a file has room for so many names only
        os.link(source, name)


def _customers(count: int, rng: Random) -> list[Customer]:
    names = (f"{rng.choice(NAMES)} {number}" for number in range(count))
    first = _last(Customer) + 1
    made = [Customer(pk=first + place, name=name) for place, name in enumerate(names)]
    with transaction.atomic():
        Customer.objects.bulk_create(made, batch_size=500)
    return made


def _count_on(copies: Copies) -> None:
    last = {"order": copies.number, "receipt": copies.receipt, "paper": copies.paper}
    Shop.objects.update(**{f"last_{kind}_number": number - 1 for kind, number in last.items()})


def _last(kind: type[models.Model]) -> int:
    return _highest(kind, "pk")


def _highest(kind: type[models.Model], name: str) -> int:
    return int(kind._base_manager.aggregate(most=models.Max(name))["most"] or 0)

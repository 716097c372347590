"""Changes to how the shop works: its rules, its people. Nothing is kept that the planner cannot read."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django.db import transaction

from orders.bag.places import HERE
from orders.models import Account, Bag, Event, Order, Person, Place, Posting, Shop, SignIn, WorkingWeek
from orders.models.sign_in import reckon_anew
from planner.brief import read_shop_rules


@transaction.atomic
def change_rules(shop: Shop, *, by: Person, **parts: Any) -> None:
    """Put parts of the rules in place of the old; raises BadInput naming the field, and keeps all, if bad."""
    now = Shop.objects.select_for_update().get(pk=shop.pk)
    rules = {**now.rules, **parts}
    read_shop_rules(rules, unit=now.unit, currency=now.currency)
    changed = sorted(name for name in parts if rules[name] != now.rules.get(name))
    if changed:
        Shop.objects.filter(pk=shop.pk).update(rules=rules)
        before = {name: now.rules.get(name) for name in changed}
        Event.objects.note("rules changed", by=by, changed=changed, before=before)
    shop.rules = rules


@transaction.atomic
def change_facts(shop: Shop, *, by: Person | None, **facts: Any) -> None:
    """Write facts of the shop that are not rules."""
    changed = sorted(name for name, value in facts.items() if getattr(shop, name) != value)
    if changed:
        Shop.objects.filter(pk=shop.pk).update(**facts)
        Event.objects.note("shop changed", by=by, changed=changed)
        shop.refresh_from_db()


@transaction.atomic
def set_week(person: Person, *, minutes: list[int], opens: int, stages: list[str] | None, by: Person) -> None:
    """Set the minutes of each weekday, when the day opens, and which stages a helper does."""
    week, _ = WorkingWeek.objects.get_or_create(person=person, defaults={"minutes": [0] * 7})
    week.minutes, week.opens = minutes, opens
    if stages is not None:
        week.stages = stages
    week.save()
    Event.objects.note("week set", by=by, person=person, minutes=sum(minutes))


@transaction.atomic
def take_on(name: str, *, password: str, stages: list[str], by: Person) -> Person:
    """Let a helper in."""
    helper = Person.objects.create_person(name, role=Person.Role.HELPER, password=password)
    WorkingWeek.objects.create(person=helper, minutes=[0] * 7, stages=stages)
    Event.objects.note("helper taken on", by=by, person=helper)
    return helper


@transaction.atomic
def take_new_password(person: Person, password: str, *, keep: str) -> None:
    """Change a person's own password, and sign them out everywhere but on this device."""
    person.set_password(password)
    person.save(update_fields=["password"])
    SignIn.objects.of(person).exclude(session_key=keep).end(by=person)
    Event.objects.note("password changed", by=person)


@transaction.atomic
def let_stay(shop: Shop, *, owner: int, helper: int, by: Person) -> None:
    """Set the days for which a device nobody uses stays signed in; shorter ones count at once."""
    change_facts(shop, by=by, owner_stays_days=owner, helper_stays_days=helper)
    reckon_anew()


@transaction.atomic
def let_go(person: Person, *, by: Person) -> None:
    """Close the door for a helper; what they did stays written."""
    if person.role == Person.Role.HELPER and person.is_active:
        person.is_active = False
        person.save(update_fields=["is_active"])
        SignIn.objects.of(person).end(by=by)
        Event.objects.note("helper gone", by=by, person=person)


@transaction.atomic
def take_back(person: Person, *, by: Person) -> None:
    """Open the door again."""
    if not person.is_active:
        person.is_active = True
        person.save(update_fields=["is_active"])
        Event.objects.note("helper back", by=by, person=person)


@dataclass(frozen=True)
class InCare:
    """A bag in the shop: whose it is, how many garments are here, where they are, what is made of it.

    `balances` are what is still to be paid for each order, in minor units; None before a price is agreed.
    """

    bag: Bag
    logged: int
    orders: tuple[Order, ...]
    balances: tuple[int | None, ...] = ()
    places: tuple[tuple[str, int], ...] = ()

    @property
    def priced(self) -> list[tuple[Order, int | None]]:
        """Each order with what is open on it."""
        return list(zip(self.orders, self.balances, strict=True))


def everything_in_care() -> list[InCare]:
    """Return every bag that has not gone back, for whoever has to bring them home."""
    bags = Bag.objects.still_here().select_related("customer")
    found = list(bags.prefetch_related("shirts", "orders").order_by("customer__name", "pk"))
    open_now = _balances()
    return [
        InCare(
            bag,
            sum(shirt.garments for shirt in bag.shirts.all() if shirt.state in HERE),
            tuple(bag.orders.all()),
            tuple(open_now.get(order.pk) for order in bag.orders.all()),
            tuple(_places(bag)),
        )
        for bag in found
    ]


def _places(bag: Bag) -> Iterator[tuple[str, int]]:
    """How many garments are in each place; nothing where nobody wrote one down."""
    for place, words in Place.choices:
        count = sum(each.garments for each in bag.shirts.all() if each.place == place and each.state in HERE)
        if count:
            yield words, count


def _balances() -> dict[int, int]:
    """What is open on each order that has any posting, in one query."""
    found: dict[int, int] = {}
    rows = Posting.objects.exclude(entry__order=None).values_list("entry__order", "into", "out_of", "minor")
    for order, into, out_of, minor in rows:
        sign = (into == Account.OWED) - (out_of == Account.OWED)
        found[order] = found.get(order, 0) + sign * minor
    return found

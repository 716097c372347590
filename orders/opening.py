"""Opening a shop: its first owner, and the four answers that set everything else going."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django.db import transaction

from orders.models import Event, Person, Shop, WorkingWeek
from planner.units import Money, decimals

WORKING_DAYS = 5
PRICE_OF_THE_USUAL_BLOCK = Decimal(36)


class OwnerThere(Exception):
    """Somebody owns the shop already."""


@transaction.atomic
def make_first_owner(name: str, *, password: str) -> Person:
    """Make the owner, while nobody is in the shop at all."""
    if Person.objects.select_for_update().exists():
        raise OwnerThere
    return Person.objects.create_person(name, role=Person.Role.OWNER, password=password)


@transaction.atomic
def open_shop(answers: dict[str, Any], *, hours: int, block: Money, by: Person) -> Shop:
    """Open the shop with the usual rules, its prices in proportion to that of a block; twice is once."""
    shop = Shop.objects.select_for_update().the()
    if shop is not None:
        return shop
    shop = Shop.objects.set_up(**answers)
    shop.rules = priced_by_block(shop.rules, block)
    shop.save(update_fields=["rules"])
    WorkingWeek.objects.update_or_create(person=by, defaults={"minutes": spread(hours)})
    Event.objects.note("shop opened", by=by, name=shop.name, hours=hours)
    return shop


def spread(hours: int) -> list[int]:
    """Return the minutes of each weekday, Monday first, for so many hours from Monday to Friday."""
    each, over = divmod(hours * 60, WORKING_DAYS * 5)
    days = [each * 5] * WORKING_DAYS
    days[0] += over
    return [*days, 0, 0]


def priced_by_block(rules: dict[str, Any], block: Money) -> dict[str, Any]:
    """Return the usual rules with every amount moved as the block's price is from the usual one."""
    price = Decimal(block.minor).scaleb(-decimals(block.currency))
    by = price / PRICE_OF_THE_USUAL_BLOCK
    changed = dict(rules)
    changed["rules"] = [
        {**each, "rate": _amount(price if each["per"] == "block" else _rounded(each["rate"], by), block)}
        for each in rules["rules"]
    ]
    for name in ("overhead", "aim"):
        changed[name] = {**rules[name], "rate": _amount(_rounded(rules[name]["rate"], by), block)}
    changed["sundries"] = _amount(_rounded(rules["sundries"], by), block)
    return changed


def _rounded(amount: str, by: Decimal) -> Decimal:
    """Two figures are enough for an amount nobody has thought about yet."""
    moved = Decimal(amount) * by
    step = Decimal(1).scaleb(max(moved.adjusted() - 1, -2))
    return (moved / step).quantize(Decimal(1), "ROUND_HALF_UP") * step


def _amount(amount: Decimal, like: Money) -> str:
    places = decimals(like.currency)
    written = amount.quantize(Decimal(1).scaleb(-places), "ROUND_HALF_UP")
    return f"{written:f}" if written % 1 else f"{written:.0f}"

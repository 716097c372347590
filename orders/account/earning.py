"""What an hour of one order brings: as it would be, as it was agreed, and by the minutes it really took."""

from __future__ import annotations

from dataclasses import dataclass

from django.db.models import OuterRef, Q, Subquery
from django.db.models.functions import Coalesce

from orders.account.proposed import ready_since
from orders.account.quoting import Prospect
from orders.models import Account, Entry, Order, Posting, Quote, Shop
from planner.brief import ShopRules
from planner.price import Costs, Earned, earn
from planner.units import Money


@dataclass(frozen=True)
class Wage:
    """What an hour of the work brings, in minor units; `net_at_aim` before tax would bring the aim.

    `left` is what remains of the hour after overhead. `quoted` is what the work was reckoned to take,
    where the minutes are those that it really took; else 0.
    """

    hour: int
    left: int
    aim: int
    materials: int
    minutes: int
    net_at_aim: int
    quoted: int = 0

    @property
    def to_aim(self) -> int:
        """How far the hour is under the aim; 0 when it is reached."""
        return max(self.aim - self.hour, 0)

    @property
    def over_aim(self) -> int:
        """How far the hour is over the aim."""
        return max(self.hour - self.aim, 0)


def to_come(now: Prospect) -> Wage | None:
    """Return what an hour would bring at the price as it would be told now."""
    pricing, costs = now.pricing, now.costs
    if pricing.hour is None or pricing.wage is None:
        return None
    return Wage(
        hour=pricing.hour.minor,
        left=pricing.wage.minor,
        aim=costs.aim.on(60).minor,
        materials=costs.paid_out.minor,
        minutes=now.spent,
        net_at_aim=pricing.net_at_aim.minor,
    )


def agreed(order: Order, quote: Quote, shop: Shop) -> Wage | None:
    """Return what an hour brings at the agreed price: by the minutes it took once the work is done."""
    quoted, rules = sum(minutes for _, minutes in quote.minutes), shop.shop_rules()
    spent = sum(stage.spent for stage in order.stages.all()) if _is_done(order, shop) else 0
    if not quoted and not spent:
        return None
    minutes = spent or quoted
    found = Quote.objects.filter(pk=quote.pk).annotate(since=changed_since())
    earned = earned_by(quote, minutes, rules, since=found.values_list("since", flat=True).get())
    return Wage(
        hour=earned.hour.minor,
        left=earned.wage.minor,
        aim=rules.aim.on(60).minor,
        materials=quote.paid_out,
        minutes=minutes,
        net_at_aim=earned.net_at_aim.minor,
        quoted=quoted if spent else 0,
    )


def _is_done(order: Order, shop: Shop) -> bool:
    return order.handed_over_at is not None or ready_since(order, shop) is not None


def changed_since() -> Coalesce:
    """What was added to the price of an order and taken off it after its yes, before tax; for quotes."""
    charges = Q(entry__kind=Entry.Kind.CHARGE) | Q(entry__reverses__kind=Entry.Kind.CHARGE)
    rows = Posting.objects.filter(entry__order=OuterRef("order")).exclude(charges)
    added = rows.moved([Account.SALES], [Account.OWED]) - rows.moved([Account.OWED], [Account.CREDITS])
    by_order = rows.order_by().values("entry__order").annotate(changed=added)
    return Coalesce(Subquery(by_order.values("changed")), 0)


def earned_by(quote: Quote, minutes: int, rules: ShopRules, *, since: int = 0) -> Earned:
    """Return what so many minutes earn at a quote's price before tax, less what was paid out for it.

    `since` is what was added to that price, or below 0 taken off it, after the yes.
    """
    none = Money(0, quote.currency)
    costs = Costs(Money(quote.paid_out, quote.currency), none, none, minutes, rules.overhead, rules.aim)
    return earn(Money(quote.net + since, quote.currency), rules.terms, costs)

"""Cloth that has to be bought to what lies here: by when, and what to do where its dye lot is sold out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from orders.cloth.cloth_advice import can_serve, is_theme_wanted
from orders.cloth.cloth_lengths import Lengths
from orders.cloth.cloth_looks import look_of
from orders.cloth.cloth_needs import ROLES, Need, set_aside_for_others
from orders.cloth.takes import TAKEN_BY
from orders.days.calendar import stage_id
from orders.days.weeks import look_ahead
from orders.models import Cloth, Order, Shop
from planner.colour import Palette, advise, sort_out
from planner.quilt import Quilt

# Farthest from the shirts first: the part that may soonest be of another cloth.
INSTEAD = {
    "binding": "bind with {}",
    "cornerstone": "cut the cornerstones from {}",
    "border": "cut the border from {}",
}


@dataclass(frozen=True)
class Topping:
    """A cloth of which some lies here and more is to be bought: by when, and what else would do."""

    need: Need
    is_agreed: bool
    by: date | None = None
    instead: str = ""


@dataclass(frozen=True)
class Buying:
    """The quilt that cloth is bought for, and the shelf it may be made with."""

    order: Order
    shop: Shop
    quilt: Quilt | None
    cloths: Sequence[Cloth]
    palettes: Mapping[str, Palette]

    def toppings(self, needs: Iterable[Need]) -> tuple[Topping, ...]:
        """Return each cloth that is here but not in full; a second dye lot shows where it meets the first."""
        short = [need for need in needs if need.buy and need.here and need.roles[0] in ROLES]
        if not short:
            return ()
        days = days_of_work(self.order, self.shop)
        return tuple(
            Topping(
                need,
                is_agreed=bool(days),
                by=here_by(need.roles, days, self.shop.today()),
                instead=self._instead(need),
            )
            for need in short
        )

    def _instead(self, need: Need) -> str:
        """Say which part may be of another cloth that is here, so that this one does for the others."""
        here = next((cloth for cloth in self.cloths if cloth.name == need.cloth), None)
        if here is None:
            return ""
        for role in (each for each in INSTEAD if each in need.roles and len(need.roles) > 1):
            rest = [Lengths(self.quilt, each, self.shop).of(here) for each in need.roles if each != role]
            # Each part by itself takes no less than its share of all of them together.
            enough = sum(each or 0 for each in rest) <= need.here - need.elsewhere
            other = self._best_here(role, but=need.cloth) if None not in rest and enough else ""
            if other:
                return INSTEAD[role].format(other)
        return ""

    def _best_here(self, role: str, *, but: str) -> str:
        """Return the cloth to try first for a part among those that lie here in full."""
        lengths = Lengths(self.quilt, role, self.shop)
        looks = {}
        for cloth in self.cloths:
            look = look_of(cloth) if cloth.name != but and cloth.garment_id is None else None
            takes = lengths.of(cloth) if look and can_serve(cloth, role) else None
            if (
                look
                and takes is not None
                and takes <= cloth.on_hand - set_aside_for_others(cloth, self.order)
            ):
                looks[cloth.name] = look
        advice = advise(self.palettes, looks, role, theme_wanted=is_theme_wanted(self.order))
        sorted_out = sort_out(advice)
        return next((each.cloth for each in (*sorted_out.try_first, *sorted_out.also_good)), "")


def days_of_work(order: Order, shop: Shop) -> dict[str, date]:
    """Return the first day on which each kind of work of an order is planned; none before it is agreed."""
    to_do = {stage_id(stage): stage.kind for stage in order.stages.to_do().select_related("order")}
    if not to_do:
        return {}
    ahead = look_ahead(shop, today=shop.today(), weeks=1)
    first: dict[str, date] = {}
    for stint in ahead.table.stints:
        kind = to_do.get(stint.stage)
        if kind is not None:
            day = ahead.work.origin + timedelta(days=stint.day)
            first[kind] = min(day, first.get(kind, day))
    return first


def here_by(roles: Iterable[str], days: Mapping[str, date], today: date) -> date | None:
    """Return the day before the work that first takes one of the parts: it has to be washed and pressed."""
    kinds = [
        next((kind for kind in TAKEN_BY[role] if kind in days), "") for role in roles if role in TAKEN_BY
    ]
    planned = [days[kind] for kind in kinds if kind]
    return max(today, min(planned) - timedelta(days=1)) if planned else None

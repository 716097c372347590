"""The shop's own times: what each stage took on the quilts before, and the clocks that were forgotten."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from django.utils import timezone

from orders.models import Person, Shop, Stage
from planner.brief import ShopRules
from planner.estimate import Done, own_pace

LOOKED_BACK = 600  # stages, some fifty quilts: how one works changes, so what is older speaks no more
ASKED_FOR = timedelta(days=14)
ASKED_AT_ONCE = 2


def history() -> tuple[Done, ...]:
    """Return what finished stages took against the standard, the earliest first; in one query."""
    rows = Stage.objects.with_known_minutes().values_list("kind", "standard", "minutes", "spent", "clock")
    newest = list(rows.reverse()[:LOOKED_BACK])
    return tuple(
        Done(kind, standard or minutes, spent, recalled=clock == Stage.Clock.TOLD)
        for kind, standard, minutes, spent, clock in reversed(newest)
    )


def rules_with_history(shop: Shop) -> ShopRules:
    """Return the rules of the shop with its own times in them."""
    rules = shop.shop_rules()
    return replace(rules, history=(*rules.history, *history()))


def standard_minutes(minutes: dict[str, int]) -> dict[str, int]:
    """Return, by stage, what it takes by the standard where its own history bent it into these minutes.

    Own times are held against this: against the bent minutes a shop that is slower than the standard
    would look as fast as it expected, and drift back.
    """
    earlier: dict[str, list[Done]] = {}
    for done in history():
        earlier.setdefault(done.stage, []).append(done)
    return {stage: round(each / own_pace(earlier.get(stage, ()))) for stage, each in minutes.items()}


def forgotten_clocks(shop: Shop, person: Person, *, now: datetime | None = None) -> list[Stage]:
    """Return the stages a person is asked about: done with no clock, or left running since before today."""
    at = now or timezone.now()
    midnight = datetime.combine(shop.today(), datetime.min.time(), ZoneInfo(shop.time_zone))
    done, undone = Stage.objects.to_be_told(person, midnight=midnight, since=at - ASKED_FOR)
    return [*done[:ASKED_AT_ONCE], *undone[:ASKED_AT_ONCE]][:ASKED_AT_ONCE]

"""The shop itself: its place and money, how it works, what it charges, when it is closed."""

from __future__ import annotations

import json
import secrets
from datetime import date
from functools import lru_cache
from typing import Any
from zoneinfo import ZoneInfo

from django.db import models, transaction
from django.utils import timezone

from planner.brief import ShopRules, read_shop_rules

from .heat_tool import HeatTool
from .people import Person
from .question import Question
from .reference import usual_rules

COUNTERS = (
    "last_order_number", "last_receipt_number", "last_paper_number", "last_entry_number",
    "last_certificate_number",
)  # fmt: skip


def a_mark() -> str:
    """Draw what tells a shop from any other: 64 bits by chance, which say nothing about it."""
    return secrets.token_hex(8)


class ShopQuerySet(models.QuerySet["Shop"]):
    def the(self) -> Shop | None:
        """Return the shop, or None before it is set up."""
        return next(iter(_THE.ask()), None)

    def set_up(
        self, *, name: str, country: str, unit: str, currency: str, paper: str, time_zone: str
    ) -> Shop:
        """Open the shop with the usual rules of the trade in its own currency."""
        shop, is_new = self.get_or_create(
            pk=Shop.ONLY,
            defaults={
                "name": name,
                "country": country,
                "unit": unit,
                "currency": currency,
                "paper": paper,
                "time_zone": time_zone,
                "rules": usual_rules(unit),
            },
        )
        if is_new:
            HeatTool.objects.create(name="iron", unit="F" if unit == "in" else "C", is_usual=True)
        return shop


_THE = Question(lambda: Shop.objects.filter(pk=Shop.ONLY))


class Shop(models.Model):
    """There is one. `rules` is read by the planner: standards, steps, price list, terms, allowances.

    `planned_share` is how much of everybody's minutes is planned, per cent: the usual one, from ten finished
    quilts on that of the shop's own history, or with `share_by_hand` what the owner set; `door_opens` and
    `door_closes` are minutes of the day. A device that nobody uses stays signed in for `owner_stays_days`,
    or `helper_stays_days`. `mark` tells it from any other shop where its dates and customers go: it stays
    the same wherever the shop moves.
    """

    ONLY = 1

    class Unit(models.TextChoices):
        INCHES = "in", "inches and yards"
        CENTIMETERS = "cm", "centimeters and meters"

    class Paper(models.TextChoices):
        LETTER = "letter", "US letter"
        A4 = "a4", "A4"

    name = models.CharField(max_length=120)
    country = models.CharField(max_length=2)
    unit = models.CharField(max_length=2, choices=Unit.choices)
    currency = models.CharField(max_length=3)
    paper = models.CharField(max_length=6, choices=Paper.choices)
    time_zone = models.CharField(max_length=60)
    rules = models.JSONField()
    terms_text = models.TextField(blank=True)
    how_to_pay = models.TextField(blank=True)
    settling = models.JSONField(default=dict, blank=True)
    words = models.JSONField(default=dict, blank=True)
    quote_valid_days = models.PositiveSmallIntegerField(default=14)
    cushion_days = models.PositiveSmallIntegerField(default=2)
    last_order_number = models.PositiveIntegerField(default=0)
    last_receipt_number = models.PositiveIntegerField(default=0)
    last_paper_number = models.PositiveIntegerField(default=0)
    last_entry_number = models.PositiveIntegerField(default=0)
    last_certificate_number = models.PositiveIntegerField(default=0)
    planned_share = models.PositiveSmallIntegerField(default=80)
    share_by_hand = models.BooleanField(default=False)
    door_opens = models.PositiveSmallIntegerField(default=9 * 60)
    door_closes = models.PositiveSmallIntegerField(default=18 * 60)
    keeps_holidays = models.BooleanField(default=False)
    region = models.CharField(max_length=12, blank=True)
    worked_holidays = models.JSONField(default=list, blank=True)
    owner_stays_days = models.PositiveSmallIntegerField(default=7)
    enquiries_kept_days = models.PositiveSmallIntegerField(null=True, blank=True)
    helper_stays_days = models.PositiveSmallIntegerField(default=60)
    is_demo = models.BooleanField(default=False)
    mark = models.CharField(max_length=16, default=a_mark, editable=False)

    objects = ShopQuerySet.as_manager()

    class Meta:
        constraints = [models.CheckConstraint(condition=models.Q(pk=1), name="there_is_one_shop")]

    def __str__(self) -> str:
        return self.name

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Save all but the counters: an older copy must not turn back what `next_number` gave."""
        if not self._state.adding and kwargs.get("update_fields") is None:
            names = {field.name for field in self._meta.concrete_fields if not field.primary_key}
            kwargs["update_fields"] = names - set(COUNTERS)
        super().save(*args, **kwargs)

    def today(self) -> date:
        """Return the day it is in the shop."""
        return timezone.now().astimezone(ZoneInfo(self.time_zone)).date()

    def shop_rules(self) -> ShopRules:
        """Return the rules as the planner takes them."""
        return _as_read(json.dumps(self.rules), self.unit, self.currency)

    @staticmethod
    def next_number(counter: str) -> int:
        """Count a number up and return it; inside a transaction, so that none is lost or given twice."""
        if not transaction.get_connection().in_atomic_block:
            raise RuntimeError("Numbers are only given inside a transaction.")
        shop = Shop.objects.select_for_update().get(pk=Shop.ONLY)
        number = getattr(shop, counter) + 1
        Shop.objects.filter(pk=Shop.ONLY).update(**{counter: number})
        return int(number)


@lru_cache(maxsize=8)
def _as_read(rules: str, unit: str, currency: str) -> ShopRules:
    """Rules are read on nearly every page, and change once in a season; what was read is frozen."""
    return read_shop_rules(json.loads(rules), unit=unit, currency=currency)


class WorkingWeek(models.Model):
    """The minutes a person works on each weekday, Monday first, and when the day opens."""

    person = models.OneToOneField(Person, models.CASCADE, related_name="week")
    minutes = models.JSONField(default=list)
    opens = models.PositiveSmallIntegerField(default=9 * 60)
    stages = models.JSONField(default=list, blank=True)

    def __str__(self) -> str:
        return f"{self.person}'s week"

    @property
    def week_minutes(self) -> int:
        """Minutes at the bench in a usual week."""
        return sum(self.minutes)


class DayOff(models.Model):
    """A day on which the shop, or one person, does not work at the bench."""

    class Why(models.TextChoices):
        OFF = "off", "Day off"
        ILL = "ill", "Ill"
        MARKET = "market", "Market day"
        CLOSED = "closed", "Closed"

    day = models.DateField()
    person = models.ForeignKey(Person, models.CASCADE, null=True, blank=True, related_name="days_off")
    why = models.CharField(max_length=6, choices=Why.choices, default=Why.OFF)
    words = models.CharField(max_length=80, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["day", "person"], name="day_off_once_a_person"),
            models.UniqueConstraint(
                fields=["day"], condition=models.Q(person=None), name="day_off_once_for_the_shop"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.day} {self.words}".strip()


class Overtime(models.Model):
    """Minutes that a person works on one day beyond the week's hours."""

    person = models.ForeignKey(Person, models.CASCADE, related_name="overtime")
    day = models.DateField()
    minutes = models.PositiveSmallIntegerField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["day", "person"], name="overtime_once_a_day"),
            models.CheckConstraint(
                condition=models.Q(minutes__gt=0, minutes__lte=720), name="overtime_of_a_day"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.person} {self.day}"


class Machine(models.Model):
    """A frame or press of the shop that only so many stages can use at once."""

    name = models.CharField(max_length=60, unique=True)
    units = models.PositiveSmallIntegerField(default=1)

    def __str__(self) -> str:
        return self.name

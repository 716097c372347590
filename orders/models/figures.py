"""What the state of each order is read off, brought along in as many queries as for one."""

from __future__ import annotations

from typing import Any, Self

from django.db import models
from django.db.models import Count, Exists, F, OuterRef, Prefetch, Q, Subquery, Sum
from django.db.models.functions import Coalesce

from .bag import Bag
from .design import DesignVersion, Move
from .ledger import Posting
from .shirt import Shirt
from .shop import Shop

PAID = ("cash", "bank", "certificates")


class FiguresQuerySet(models.QuerySet[Any]):
    """Orders with the figures and rows that tell where each of them is."""

    def with_state(self) -> Self:
        """Bring along what `orders.customer.telling.state_of` reads."""
        rows = self.annotate(**_figures()).prefetch_related("stages", "blocks", "quotes")
        return rows.prefetch_related(*_yeses())

    def with_picture(self) -> Self:
        """Bring along what the standing of a picture is read from: asked, said, drawn."""
        drawn = Prefetch("design__moves", Move.objects.filter(number=F("design__at")), to_attr="standing")
        return self.select_related("design").prefetch_related(drawn, *_yeses())

    def no_longer_here(self) -> Self:
        """Return the orders that have left the shop, or were called off, the last first."""
        gone = self.exclude(handed_over_at=None, cancelled_at=None)
        return gone.order_by(Coalesce("handed_over_at", "cancelled_at").desc(), "-number")

    def found_by(self, words: str) -> Self:
        """Return the orders whose number, title, place or occasion has every one of the words."""
        found = self.order_by(F("handed_over_at").asc(nulls_first=True), "needed_by", "number")
        for word in words.removeprefix("No.").replace("No. ", "").split()[:6]:
            named = Q(title__icontains=word) | Q(place__icontains=word) | Q(occasion__icontains=word)
            found = found.filter(named | Q(number=int(word)) if word.isdecimal() and len(word) < 9 else named)
        return found


def _yeses() -> tuple[str | Prefetch[str], ...]:
    return "consents", "leave_to_move", Prefetch("versions", DesignVersion.objects.order_by("number"))


def _figures() -> dict[str, Any]:
    this = OuterRef("pk")
    bags = Bag.objects.filter(orders=this)
    money = Posting.objects.filter(entry__order=this)
    return {
        "zone": Subquery(Shop.objects.values("time_zone")[:1]),
        "bags_here": _figure(bags, Count("pk")),
        "shirts_counted": _figure(bags, Sum("count")),
        "shirts_logged": _figure(Shirt.objects.counted().filter(bag__orders=this), Sum("garments")),
        "is_drawn": Exists(Move.objects.filter(design__order=this)),
        "paid": _figure(money.filter(out_of="owed", into__in=PAID), Sum("minor"))
        - _figure(money.filter(out_of__in=PAID, into="owed"), Sum("minor")),
    }


def _figure(rows: models.QuerySet[Any], how: models.Aggregate) -> Coalesce:
    one_group = rows.order_by().annotate(all_of_them=models.Value(1)).values("all_of_them")
    summed = one_group.annotate(figure=how).values("figure")
    return Coalesce(Subquery(summed, output_field=models.BigIntegerField()), 0)

"""What the state of each order is read off, brought along in as many queries as for one."""

from __future__ import annotations

from typing import Any, Self

from django.db import models
from django.db.models import Count, Exists, OuterRef, Prefetch, Subquery, Sum
from django.db.models.functions import Coalesce

from .bag import Bag
from .design import DesignVersion, Move
from .ledger import Posting
from .shirt import Shirt
from .shop import Shop

MONEY = ("cash", "bank")


class FiguresQuerySet(models.QuerySet[Any]):
    """Orders with the figures and rows that tell where each of them is."""

    def with_state(self) -> Self:
        """Bring along what `orders.telling.state_of` reads."""
        versions = DesignVersion.objects.defer("quilt").order_by("number")
        return self.annotate(**_figures()).prefetch_related(
            "stages", "blocks", "quotes", "consents", Prefetch("versions", versions)
        )


def _figures() -> dict[str, Any]:
    this = OuterRef("pk")
    bags = Bag.objects.filter(orders=this)
    money = Posting.objects.filter(entry__order=this)
    return {
        "zone": Subquery(Shop.objects.values("time_zone")[:1]),
        "bags_here": _figure(bags, Count("pk")),
        "shirts_counted": _figure(bags, Sum("count")),
        "shirts_logged": _figure(Shirt.objects.filter(bag__orders=this), Count("pk")),
        "is_drawn": Exists(Move.objects.filter(design__order=this)),
        "paid": _figure(money.filter(into__in=MONEY), Sum("minor"))
        - _figure(money.filter(out_of__in=MONEY), Sum("minor")),
    }


def _figure(rows: models.QuerySet[Any], how: models.Aggregate) -> Coalesce:
    one_group = rows.order_by().annotate(all_of_them=models.Value(1)).values("all_of_them")
    summed = one_group.annotate(figure=how).values("figure")
    return Coalesce(Subquery(summed, output_field=models.BigIntegerField()), 0)

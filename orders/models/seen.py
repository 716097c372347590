"""Orders with all that their little quilts show."""

from __future__ import annotations

from typing import Any, Self

from django.db import models
from django.db.models import Count, F, IntegerField, OuterRef, Prefetch, Subquery
from django.db.models.fields.json import KT
from django.db.models.functions import Coalesce

from .design import Block, Move
from .shelf import Cloth
from .shirt import Shirt

# the cloth that shows on the right side of a quilt
ROLES_SEEN = ("sashing", "cornerstone", "border", "binding", "frame", "filler")


class SeenAsQuilts(models.QuerySet[Any]):
    def with_little_quilt(self) -> Self:
        """Bring along what little quilts show, in as many queries for a hundred orders as for one."""
        return self._with_quilts().prefetch_related("blocks__piece__shirt", "stages")

    def as_cards(self) -> Self:
        """Bring along what lists of orders show: where each is, and its little quilt."""
        seen = self._with_quilts().prefetch_related(Prefetch("blocks", _blocks_seen()))
        return seen.with_state()  # type: ignore[attr-defined]

    def _with_quilts(self) -> Self:
        here = Shirt.objects.filter(bag__orders=OuterRef("pk"), state__in=["in work", "used"])
        count = here.order_by().values("bag__orders").annotate(number=Count("pk")).values("number")
        return (
            self.select_related("design")
            .annotate(shirts_here=Coalesce(Subquery(count, output_field=IntegerField()), 0))
            .annotate(**{f"cloth_of_{role}": KT(f"cloth__{role}") for role in ROLES_SEEN})
            .annotate(**{f"color_of_{role}": _color_of(role) for role in ROLES_SEEN})
            .prefetch_related(
                Prefetch("design__moves", Move.objects.filter(number=F("design__at")), to_attr="standing")
            )
        )


def _blocks_seen() -> models.QuerySet[Block]:
    """Blocks with the color and the name of what lies in them."""
    own = ("order", "cell", "progress", "held")
    piece = ("piece__side", "piece__ground", "piece__shirt__number")
    return Block.objects.select_related("piece__shirt").only(*own, *piece)


def _color_of(role: str) -> Subquery:
    return Subquery(Cloth.objects.filter(name=OuterRef(f"cloth_of_{role}")).values("ground")[:1])

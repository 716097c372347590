"""An order with all that its customer's page tells, in as few queries as a phone far away needs."""

from __future__ import annotations

from contextlib import suppress
from datetime import date, datetime
from types import SimpleNamespace
from typing import Any

from django.db.models import (
    Exists,
    F,
    Func,
    JSONField,
    Min,
    OuterRef,
    Q,
    QuerySet,
    Subquery,
    Sum,
)
from django.db.models.functions import Coalesce
from django.utils import timezone

from .as_seen import OF_ONE
from .asked_picture import AskedPicture, LeaveToMove
from .bag import Bag
from .consent import Consent
from .design import Cut, Design, DesignVersion, Move
from .order import Order, Payer
from .paper import Link
from .photo import Photo
from .question import Question, bring_to
from .shirt import Piece, Shirt
from .stage import Stage

QUIET = "customer__keep_quiet_until"
COUNTED = {
    "shirts_logged": Q(),
    "shirts_whole": Q(state=Shirt.State.IN_WORK),
    "shirts_used": Q(state=Shirt.State.USED),
    "shirts_returned": Q(state=Shirt.State.RETURNED),
    "shirts_missing": Q(state=Shirt.State.MISSING),
    "leftovers_here": Q(state=Shirt.State.USED, leftovers=Shirt.Leftovers.HERE),
}


def order_opened_by(link: int, *, on: date) -> Any:
    """Return the order that a link opens on a day, or None; three queries however large it is."""
    order: Any = next(iter(_OPENED.ask(link=link, on=on, now=timezone.now())), None)
    if order is not None:
        _give_layout(order)
        bring_to(order, "blocks", OF_ONE["blocks"].ask(order=order.pk))
        bring_to(order, "stages", _stages_listed(order))
        bring_to(order, "quotes", OF_ONE["quotes"].ask(order=order.pk))
    return order


def _opened(link: Any, on: Any, now: Any) -> Any:
    opened = Link.objects.open_on(on).filter(pk=link)
    return (
        Order.objects.with_little_quilt()
        .prefetch_related(None)
        .select_related("customer", "design")
        .annotate(**_drawn(), **_asked(), **_days(now), **_shirts(), photo=_newest_photo())
        .annotate(link_to=Subquery(opened.values("to")[:1]), payers_listed=_payers(), steps_listed=_steps())
        .filter(pk__in=opened.values("order"))
    )


_OPENED = Question(_opened, link=int, on=date, now=datetime)


def _steps() -> Subquery:
    """The stages: their place, what they are, their minutes, when they were done."""
    rows = Stage.objects.filter(order=OuterRef("pk"))
    return _one(rows, _Listed("position", "kind", "minutes", "done_at"))


def _stages_listed(order: Any) -> list[SimpleNamespace]:
    """Return the stages as the page reads them, in their order."""
    names = ("position", "kind", "minutes", "done_at")
    listed = sorted(order.steps_listed or [], key=lambda each: each[0])
    return [SimpleNamespace(order_id=order.pk, **dict(zip(names, each, strict=True))) for each in listed]


def _give_layout(order: Any) -> None:
    """Let the little quilt find the layout that came with the order."""
    with suppress(Design.DoesNotExist):
        order.design.standing = [SimpleNamespace(quilt=order.drawn)] if order.drawn is not None else []


class _Listed(Func):
    """Rows as one list of lists in JSON, so that a handful of them costs no query of its own."""

    output_field = JSONField()
    contains_aggregate = True
    template = "JSON_GROUP_ARRAY(JSON_ARRAY(%(expressions)s))"

    def get_group_by_cols(self) -> list[Any]:
        return []

    def as_postgresql(self, compiler: Any, connection: Any, **more: Any) -> Any:
        more["template"] = "JSONB_AGG(JSONB_BUILD_ARRAY(%(expressions)s))"
        return self.as_sql(compiler, connection, **more)


def _payers() -> Subquery:
    """Who pays, as written down: row, customer, name, share, set amount, day of a surprise."""
    rows = Payer.objects.filter(order=OuterRef("pk"))
    return _one(rows, _Listed("pk", "customer_id", "customer__name", "share", "set_amount", QUIET))


def _drawn() -> dict[str, Subquery]:
    moves = Move.objects.filter(design__order=OuterRef("pk"), number=F("design__at"))
    return {"drawn": Subquery(moves.values("quilt")[:1], output_field=JSONField())}


def _asked() -> dict[str, Any]:
    """The picture that was asked about last, what was said to it, and what was agreed before it."""
    asked = DesignVersion.objects.filter(order=OuterRef("pk"), replaced_at=None).order_by("-number")
    standing = Consent.objects.filter(version__order=OuterRef("pk"), withdrawn_at=None)
    said = standing.filter(version__replaced_at=None)
    before = standing.filter(kind=Consent.Kind.PICTURE).exclude(version__replaced_at=None)
    agreed = before.order_by("-version__number")
    shown = AskedPicture.objects.filter(version__order=OuterRef("pk"), version__replaced_at=None)
    return {
        "asked": Subquery(asked.values("number")[:1]),
        "asked_quilt": Subquery(asked.values("quilt")[:1], output_field=JSONField()),
        "asked_shown": Subquery(shown.order_by("-version__number").values("shown")[:1]),
        "agreed_quilt": Subquery(agreed.values("version__quilt")[:1], output_field=JSONField()),
        "agreed_at": Subquery(agreed.values("at")[:1]),
        "asked_to_move": Exists(LeaveToMove.objects.filter(order=OuterRef("pk"))),
        "answer_by": Subquery(asked.values("answer_by")[:1]),
        "picture_yes_at": Subquery(said.filter(kind=Consent.Kind.PICTURE).values("at")[:1]),
        "wished": Subquery(said.filter(kind=Consent.Kind.WISH).order_by("-pk").values("words")[:1]),
    }


def _days(now: Any) -> dict[str, Subquery]:
    yeses = Consent.objects.standing(at=now).filter(order=OuterRef("pk"), kind=Consent.Kind.CUT)
    return {
        "came_at": _one(Bag.objects.filter(orders=OuterRef("pk")), Min("received_at")),
        "cut_yes_at": Subquery(yeses.order_by("at").values("at")[:1]),
        "cut_at": _one(Cut.objects.filter(approved__order=OuterRef("pk")), Min("at")),
    }


def _shirts() -> dict[str, Any]:
    others = Exists(
        Piece.objects.filter(shirt=OuterRef("pk"), order__isnull=False).exclude(
            order=OuterRef(OuterRef("pk"))
        )
    )
    ours = Exists(Piece.objects.filter(shirt=OuterRef("pk"), order=OuterRef(OuterRef("pk"))))
    of_a_pillow = Exists(Piece.objects.filter(order=OuterRef(OuterRef("pk")), order__kind=Order.Kind.PILLOW))
    hers = ours | (~others & ~of_a_pillow)  # a pillow that was given shirts is of these alone
    shirts = Shirt.objects.counted().filter(bag__orders=OuterRef("pk")).filter(hers)
    found = {name: shirts.filter(which) for name, which in COUNTED.items()}
    counted = {name: Coalesce(_one(these, Sum("garments")), 0) for name, these in found.items()}
    return counted | {"shirts_counted": Coalesce(_one(_bags_alone(), Sum("count")), 0)}


def _bags_alone() -> QuerySet[Bag]:
    """The bags that serve this order only: the count of others is nobody's alone, so no page tells it."""
    serves = Order.bags.through.objects.filter(bag=OuterRef("pk")).exclude(order=OuterRef(OuterRef("pk")))
    return Bag.objects.filter(orders=OuterRef("pk")).exclude(Exists(serves))


def _newest_photo() -> Subquery:
    photos = Photo.objects.filter(order=OuterRef("pk"), is_ready=True).order_by("-received_at")
    return Subquery(photos.values("pk")[:1])


def _one(rows: QuerySet[Any], how: Any) -> Subquery:
    alone = rows.order_by().annotate(all_of_them=F("pk") - F("pk")).values("all_of_them")
    return Subquery(alone.annotate(figure=how).values("figure"))

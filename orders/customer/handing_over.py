"""A quilt leaves the shop: what has to be in order first, and what goes back with it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from orders.account import money
from orders.bag import leftovers
from orders.bag.leftovers import Counted
from orders.customer import way_home
from orders.customer.telling import DOING
from orders.models import Consent, Event, Order, Parcel, Person, Piece, Shirt
from orders.models.people import fold_name
from orders.templatetags.clock import day as named
from orders.templatetags.shop import money as written


class NotYet(Exception):
    """It cannot leave yet; `faults` are sentences by the name of the question they belong to."""

    def __init__(self, faults: dict[str, str]) -> None:
        super().__init__(" ".join(faults.values()))
        self.faults = faults


@dataclass(frozen=True)
class Answers:
    """What was ticked and typed at the door. `leftovers` is returned, discarded or nothing."""

    to: str
    why_them: str = ""
    why_unpaid: str = ""
    whole: bool = False
    leftovers: str = ""
    leave_by: str = ""
    leave_how: str = "person"
    needles: bool = False


@dataclass(frozen=True)
class Checklist:
    """How things stand: money, who may collect, and where every shirt is that concerns this order."""

    owing: money.Owing
    names: tuple[str, ...]
    whole: tuple[Shirt, ...]
    leftovers: tuple[Shirt, ...]
    missing: tuple[Shirt, ...]
    settled: int
    not_logged: int
    open_stages: tuple[str, ...]
    lacking: tuple[str, ...] = ()
    counted: Counted | None = None
    parcel: Parcel | None = None


def checklist(order: Order) -> Checklist:
    """Read what has to be in order before this order leaves."""
    shirts = list(concerned(order))
    used = [shirt for shirt in shirts if shirt.state == Shirt.State.USED]
    open_leftovers = [shirt for shirt in used if shirt.leftovers == Shirt.Leftovers.HERE]
    whole = [shirt for shirt in shirts if shirt.state == Shirt.State.IN_WORK]
    missing = [shirt for shirt in shirts if shirt.state == Shirt.State.MISSING]
    counted = leftovers.last_count(order)
    not_there = counted.lacking if counted else ()
    parcel = way_home.parcel_of(order) if order.leaving == Order.Leaving.PARCEL else None
    return Checklist(
        owing=money.owing_of(order),
        names=tuple(names_on(order, parcel)),
        whole=tuple(whole),
        leftovers=tuple(open_leftovers),
        missing=tuple(missing),
        settled=len(shirts) - len(open_leftovers) - len(whole) - len(missing),
        not_logged=sum(bag.tally().not_logged for bag in order.bags.all()),
        open_stages=tuple(DOING.get(each.kind, each.kind) for each in order.stages.to_do() if each.minutes),
        lacking=tuple(str(shirt) for shirt in open_leftovers if str(shirt) in not_there),
        counted=counted,
        parcel=parcel,
    )


def concerned(order: Order) -> Iterable[Shirt]:
    """Return the shirts that must be accounted for now.

    Of a bag that another order still works from, only the shirts that went into this one alone.
    """
    others = Order.objects.in_the_workroom().exclude(pk=order.pk)
    shared = Q(bag__orders__in=others)
    theirs = Piece.objects.filter(order__in=others).values("shirt")
    ours = Piece.objects.filter(order=order).values("shirt")
    shirts = Shirt.objects.filter(bag__orders=order).order_by("bag", "number").distinct()
    return shirts.exclude(shared & ~Q(pk__in=ours)).exclude(shared & Q(pk__in=theirs))


def names_on(order: Order, parcel: Parcel | None = None) -> Iterator[str]:
    """Yield everybody who may take it, once each; the carrier of a packed parcel first."""
    carrier = parcel.carrier if parcel else ""
    payers = [payer.customer.name for payer in order.payers.select_related("customer").order_by("pk")]
    named = [carrier, order.collector, order.customer.name, *payers, order.approver, order.recipient]
    yield from dict.fromkeys(name for name in named if name)


def hand_over(order: Order, answers: Answers, *, by: Person) -> None:
    """Give an order out of the shop with all that goes back; a second time changes nothing."""
    with transaction.atomic():
        now = Order.objects.select_for_update().get(pk=order.pk)
        if now.handed_over_at is not None:
            return
        stands = checklist(now)
        if faults := faults_of(now, stands, answers):
            raise NotYet(faults)
        _give_back(now, stands, answers, by=by)
        why = {"why_them": answers.why_them, "why_unpaid": answers.why_unpaid}
        now.hand_over(answers.to, by=by, **{name: words for name, words in why.items() if words})
        if stands.parcel is not None:
            stands.parcel.send(money.the_shop().today(), by=by)
    order.refresh_from_db()


def faults_of(order: Order, stands: Checklist, answers: Answers) -> dict[str, str]:
    """Return all that keeps it from leaving with these answers, by the name of the question."""
    return dict(_faults(order, stands, answers))


def _faults(order: Order, stands: Checklist, answers: Answers) -> Iterator[tuple[str, str]]:
    if order.cancelled_at is not None:
        yield "to", "This order was called off. Open it again before it leaves."
    if is_the_day_to_keep_off(order):
        yield "day", _not_today(order)
    yield from _parcel_faults(order, stands)
    if not stands.owing.is_settled and not answers.why_unpaid:
        yield "why_unpaid", _open_money(stands.owing)
    if not answers.to:
        yield "other", "Write down the name of whoever takes it."
        if not answers.why_them:
            yield "why_them", "Somebody not named above needs a reason. Write down why they may have it."
    elif fold_name(answers.to) not in map(fold_name, stands.names) and not answers.why_them:
        yield "why_them", f"{answers.to} is not on this order. Write down why they may have it."
    yield from _count_faults(stands, answers)
    if not answers.needles:
        yield "needles", "Count the pins and needles out first; one left in can hurt somebody."


def _parcel_faults(order: Order, stands: Checklist) -> Iterator[tuple[str, str]]:
    """What goes by parcel is packed and pictured first, and must not arrive on the day to keep off."""
    if order.leaving != Order.Leaving.PARCEL:
        return
    if stands.parcel is None:
        yield "parcel", "It goes as a parcel. Pack it first, with a picture of the closed box."
    elif order.not_on is not None and stands.parcel.expected_on(money.the_shop().today()) == order.not_on:
        yield (
            "day",
            f"Sent today it would arrive on {named(order.not_on)}, the day to keep off. Send it later.",
        )


def _not_today(order: Order) -> str:
    return (
        f"Today is the day on which it is not to leave, {named(order.not_on)}. Hand it over on another day,"
        " or ask again and take the day out in the Account room."
    )


def is_the_day_to_keep_off(order: Order) -> bool:
    """Say whether today is the day on which it must not leave."""
    return order.not_on is not None and order.not_on == money.the_shop().today()


def _open_money(owing: money.Owing) -> str:
    if owing.charged == 0:
        return "No price was agreed. Write down why it leaves all the same."
    return f"{written(owing.balance, money.the_shop())} is open. Take it, or write down why it leaves unpaid."


def _count_faults(stands: Checklist, answers: Answers) -> Iterator[tuple[str, str]]:
    if stands.missing:
        yield "whole", f"Missing: {_numbers(stands.missing)}. Find it, or settle it in the Bag room, first."
    elif stands.not_logged:
        some = "shirt was" if stands.not_logged == 1 else "shirts were"
        yield "whole", f"{stands.not_logged} {some} counted at the door but never logged. Count again."
    elif stands.whole and not answers.whole:
        yield "whole", f"Still here and whole: {_numbers(stands.whole)}. Put them with it and say so."
    if stands.lacking and answers.leftovers == Shirt.Leftovers.RETURNED:
        lacks = ", ".join(stands.lacking)
        yield "leftovers", f"The last count did not find the leftovers of {lacks}. Look, and count once more."
    elif stands.leftovers and not answers.leftovers:
        yield "leftovers", f"Leftovers still here: {_numbers(stands.leftovers)}. Say what happens to them."
    if stands.leftovers and answers.leftovers == Shirt.Leftovers.DISCARDED and not answers.leave_by:
        yield "leave_by", "Leftovers belong to the customer. Write down who gave leave to throw them away."


def _numbers(shirts: Iterable[Shirt]) -> str:
    return ", ".join(str(shirt) for shirt in shirts)


def _give_back(order: Order, stands: Checklist, answers: Answers, *, by: Person) -> None:
    for shirt in stands.whole:
        shirt.give_back(by=by)
    if stands.leftovers:
        _settle_leftovers(order, stands.leftovers, answers, by=by)
    for bag in order.bags.all():
        still_here = Q(state__in=["in work", "missing"]) | Q(state="used", leftovers="")
        if not bag.shirts.filter(still_here).exists():
            bag.handed_back_at = bag.handed_back_at or timezone.now()
            bag.save(update_fields=["handed_back_at"])


def _settle_leftovers(order: Order, shirts: Iterable[Shirt], answers: Answers, *, by: Person) -> None:
    consent = None
    if answers.leftovers == Shirt.Leftovers.DISCARDED:
        consent = Consent.objects.create(
            order=order,
            kind=Consent.Kind.DISCARD,
            said_by=answers.leave_by,
            how=answers.leave_how,
            written_by=by,
        )
    these = Shirt.objects.filter(pk__in=[shirt.pk for shirt in shirts])
    these.update(leftovers=answers.leftovers, **({"consent": consent} if consent else {}))
    Event.objects.note(f"leftovers {answers.leftovers}", by=by, order=order, shirts=_numbers(shirts))

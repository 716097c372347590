"""Today: what to do now, and what will bite."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from orders.customer.telling import state_of
from orders.customer.way_home import late_parcels
from orders.days.calendar import workers
from orders.days.day import DONE, at_the_door, lists_for_today, waiting_for_answers
from orders.days.own_times import forgotten_clocks
from orders.days.replanning import change_told
from orders.days.weeks import look_ahead
from orders.forms.bench import MinutesForm
from orders.models import Incident, Mail, Order, Person, Shop, Stage
from orders.models.as_seen import cards_of_the_workroom
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop

WEEKS = 6
MOST_NOT_RIGHT = 6
DAYS_TOLD = 2  # a change is told today and tomorrow


@require_safe
@open_to(OWNER, HELPER)
@in_the_shop
def today(request: SignedIn, shop: Shop) -> HttpResponse:
    return render(request, "today/page.html", day_sheet(request, shop))


def day_sheet(
    request: SignedIn, shop: Shop, *, refused: str = "", clock: tuple[Stage, MinutesForm] | None = None
) -> dict[str, Any]:
    """Return what Today shows: the owner everything, a helper their own work and who comes to the door."""
    on = shop.today()
    orders = cards_of_the_workroom()
    ahead = look_ahead(shop, today=on, weeks=WEEKS, seen=orders)
    is_owner = request.user.role == Person.Role.OWNER
    people = sorted(workers(), key=lambda each: each.pk != request.user.pk)
    days = lists_for_today(people if is_owner else people[:1], orders, ahead)
    sheet = {
        "shop": shop,
        "today": on,
        "days": days,
        "first": days[0].tasks[0] if days and days[0].tasks else None,
        "pressing": [(each, state_of(each, today=on)) for each in orders if _is_late(each, on)],
        "visits": at_the_door(shop, on),
        "not_right": list(Incident.objects.unsettled()[:MOST_NOT_RIGHT]),
        "clocks": _clocks(shop, request.user, clock),
        "refused": refused,
        "is_owner": is_owner,
        "is_empty": not orders,
    }
    if is_owner:
        wanted = ahead.wanted_in(ahead.tightest) if ahead.tightest else []
        sheet |= {"waiting": waiting_for_answers(orders, shop, ahead), "ahead": ahead}
        sheet |= {"mails": list(Mail.objects.troubled()[:MOST_NOT_RIGHT])}
        sheet |= {"late_parcels": late_parcels(shop)[:MOST_NOT_RIGHT]}
        sheet |= {"over_orders": wanted, "orders": orders, "change": change_told(shop, days=DAYS_TOLD)}
    return sheet


def _clocks(shop: Shop, person: Person, said: tuple[Stage, MinutesForm] | None) -> list[dict[str, Any]]:
    """The stages somebody is asked about, each with its form; the one that came back keeps what was said."""
    asked = {
        stage.pk: (stage, MinutesForm(prefix=f"took-{stage.pk}")) for stage in forgotten_clocks(shop, person)
    }
    if said is not None:
        asked[said[0].pk] = said
    return [
        {"stage": stage, "form": form, "words": DONE.get(stage.kind, stage.kind.capitalize())}
        for stage, form in asked.values()
    ]


def _is_late(order: Order, on: Any) -> bool:
    return order.needed_by is not None and order.needed_by < on and not order.memorial and not order.paused_at

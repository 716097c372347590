"""Quilts: where is each of them?"""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.views.decorators.http import require_safe

from orders.bag.finding import looks_like_a_tag
from orders.days.calendar import workers
from orders.days.line_up import card_of, garments_in_care, line_up
from orders.days.weeks import bench_minutes_a_day, look_at_demand
from orders.models import Enquiry, Order, Shop
from orders.models.as_seen import cards_of_the_workroom
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop

WEEKS = 26
MOST_PUT_AWAY = 60


@require_safe
@open_to(OWNER, HELPER)
@in_the_shop
def quilts(request: SignedIn, shop: Shop) -> HttpResponse:
    today, words = shop.today(), request.GET.get("find", "").strip()
    is_owner = request.user.role == "owner"
    told = {"shop": shop, "today": today, "find": words, "is_owner": is_owner}
    minutes = bench_minutes_a_day([each.week.minutes for each in workers() if hasattr(each, "week")])
    if looks_like_a_tag(words):
        return redirect(f"{reverse('find')}?{urlencode({'code': words})}")
    if words:
        some = Order.objects.as_cards().found_by(words)[:MOST_PUT_AWAY]
        found = [card_of(each, today=today, minutes_a_day=minutes) for each in some]
        return render(request, "quilts/found.html", told | {"cards": found})
    if "put-away" in request.GET:
        away = Order.objects.as_cards().no_longer_here()[:MOST_PUT_AWAY]
        cards = [card_of(each, today=today, minutes_a_day=minutes) for each in away]
        return render(request, "quilts/put_away.html", told | {"cards": cards})
    orders = cards_of_the_workroom()
    demand = look_at_demand(shop, today=today, weeks=WEEKS, seen=orders)
    told |= {
        "line_up": line_up(orders, demand, today=today, minutes_a_day=minutes),
        "orders": orders,
        "garments": garments_in_care(orders),
        "enquiries": Enquiry.objects.waiting().order_by("came_at") if is_owner else [],
    }
    return render(request, "quilts/page.html", told)

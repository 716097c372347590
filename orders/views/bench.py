"""The Bench room: the stages of an order, and its piles at the table, the iron, the ruler, the machine."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from orders import papers
from orders.bag.incidents import FIRST_WORDS, words_at
from orders.bench import work
from orders.bench.bench import PLACES, Bench, bench_of
from orders.bench.piles import minutes_left
from orders.bench.pressing import pressing_of
from orders.bench.sewn import shown as shown_sewn
from orders.bench.stopping import hard_items_in, stopping_in
from orders.cloth.cutting import cutting_list, without_cloth
from orders.customer import telling
from orders.days.day import stage_words
from orders.days.in_one_go import may_join, words_of_batch
from orders.forms.bench import PileForm, PinForm
from orders.models import HeatTool, Incident, Order, Piece, Shop
from orders.planning import bag_of, shelf
from orders.quilt import layouts
from orders.quilt.blocks import label
from orders.quilt.sewing_steps import steps_of
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell
from orders.views.rooms import room
from orders.views.uploads import new_client_id

DONE = {"cut": "cut", "fuse": "fused", "trim": "trimmed", "join": "sewn in"}


@require_safe
@open_to(OWNER, HELPER)
@in_the_shop
def bench(request: SignedIn, shop: Shop, number: int) -> HttpResponse:
    return render(request, "bench/page.html", bench_room(request, shop, number))


def bench_room(request: SignedIn, shop: Shop, number: int, refused: str = "") -> dict[str, Any]:
    """Return what the Bench room shows."""
    told = room(request, number, "bench")
    order, person = told["order"], request.user
    lies = bench_of(order, rough=shop.shop_rules().allowances.rough)
    mine = [each for each in order.stages.all() if telling.is_to_do(each) and work.may_do(person, each.kind)]
    cloths = list(shelf(order))
    next_up = next((each for each in mine if each.started_at), next(iter(mine), None))
    return (
        told
        | shown_sewn(order, lies, shop, cloths)
        | {
            "bench": lies,
            "refused": refused,
            "next_up": next_up,
            "next_words": stage_words(order, next_up) if next_up else "",
            "stages": [
                {
                    "stage": stage,
                    "words": stage_words(order, stage),
                    "left": minutes_left(order, stage),
                    "mine": work.may_do(person, stage.kind),
                    "in_one_go": words_of_batch(stage),
                    "may_join": may_join(stage),
                }
                for stage in order.stages.select_related("person")
                if stage.done_at or telling.is_to_do(stage)
            ],
            "has_stops": bool(stopping_in(lies)),
            "pin": PinForm(today=shop.today()),
            "cuts": cutting_list(lies.quilt, shop, cloths, order=order) if lies.quilt else [],
            "no_cloth": without_cloth(lies.quilt, shop) if lies.quilt else [],
        }
    )


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def cut_list(request: SignedIn, shop: Shop, number: int) -> HttpResponse:
    """Make the cut list as a paper, once there is a layout."""
    order = get_object_or_404(Order, number=number)
    if not layouts.move_number(order):
        return redirect("order-bench", number)
    return redirect("paper", papers.cut_list(order, by=request.user).number)


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def stop_tags(request: SignedIn, shop: Shop, number: int) -> HttpResponse:
    """Print a stop tag for each piece that bears little heat or is held."""
    order = get_object_or_404(Order, number=number)
    if not layouts.move_number(order):
        return redirect("order-bench", number)
    return redirect("paper", papers.stop_tags(order, by=request.user).number)


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER, HELPER)
@in_the_shop
def pile(request: SignedIn, shop: Shop, number: int, place: str) -> HttpResponse:
    if place not in PLACES:
        raise Http404
    told = room(request, number, "bench")
    order, kind = told["order"], PLACES[place]
    if request.method != "POST":
        return pile_page(request, shop, told, place)
    form = PileForm(request.POST, blocks=[block.pk for block in order.blocks.all()])
    if not form.is_valid():
        return pile_page(request, shop, told, place, refused=str(next(iter(form.errors.values()))[0]))
    try:
        deed = work.do_pile(order, kind, form.done, by=request.user)
    except work.NotYet as fault:
        return pile_page(request, shop, told, place, refused=str(fault))
    if deed is not None:
        undo = "" if kind == "cut" else reverse("bench-undo", args=[number, deed.pk])
        tell(request, f"{deed.facts['count']} {DONE[kind]}, {order.title}.", undo=undo)
    if is_through(order, shop, place):
        return redirect("order-bench", number)
    with_tool = f"?tool={request.GET['tool']}" if request.GET.get("tool", "").isdecimal() else ""
    return redirect(reverse("bench-pile", args=[number, place]) + with_tool)


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def cut_one(request: SignedIn, shop: Shop, number: int, pk: int) -> HttpResponse:
    """Cut one piece that was held beside its picture, in no pile."""
    told = room(request, number, "bench")
    order = told["order"]
    piece = get_object_or_404(Piece, pk=pk, shirt__bag__orders=order)
    try:
        deed = work.cut_one(order, piece, by=request.user)
    except work.NotYet as fault:
        return pile_page(request, shop, told, "table", refused=str(fault))
    if deed is not None:
        tell(request, f"{label(order, piece)} is cut, {order.title}.")
    if is_through(order, shop, "table"):
        return redirect("order-bench", number)
    return redirect("bench-pile", number, "table")


def pile_page(
    request: SignedIn, shop: Shop, told: dict[str, Any], place: str, *, refused: str = ""
) -> HttpResponse:
    """Show a pile; a refusal stands above it (422)."""
    order: Order = told["order"]
    lies = bench_of(order, rough=shop.shop_rules().allowances.rough)
    kind = PLACES[place]
    sheet = told | {
        "bench": lies,
        "place": place,
        "kind": kind,
        "refused": refused,
        "items": {"table": lies.to_cut, "ruler": lies.to_trim}.get(place, lambda: lies.pile(place))(),
        "held": lies.held(place),
        "first": FIRST_WORDS[place],
        "hard": hard_items_in(lies) if place == "machine" else [],
        "sewing": steps_of(lies.quilt, bag_of(order)) if place == "machine" and lies.quilt else (),
        "report_id": new_client_id(),
        "report_to": reverse("bench-incident", args=[order.number, place]),
        "report_words": words_at(place),
        "stopping": list(Incident.objects.of(order).filter(settled_at=None)),
        "may_do": work.may_do(request.user, kind),
        **_at_the_iron(lies, request),
    }
    return render(request, f"bench/{place}.html", sheet, status=422 if refused else 200)


def _at_the_iron(lies: Bench, request: SignedIn) -> dict[str, Any]:
    batches, tools = lies.batches(), list(HeatTool.objects.in_use())
    is_owner = request.user.role == "owner"
    mine = [batch for batch in batches if is_owner or not batch.is_for_owner]
    return {
        "batches": batches,
        "now": mine[0] if mine else None,
        "rest": mine[1:],
        "stopped": [batch for batch in batches if batch not in mine],
        "at": pressing_of(mine[0], tools, wanted=request.GET.get("tool", "")) if mine else None,
        "tools": tools,
    }


def is_through(order: Order, shop: Shop, place: str) -> bool:
    """Say whether nothing is left to do at a place."""
    fresh = Order.objects.get(pk=order.pk)
    lies: Bench = bench_of(fresh, rough=shop.shop_rules().allowances.rough)
    return not (lies.to_cut() or lies.one_by_one() if place == "table" else lies.pile(place))

"""The iron over all orders, and the taps of the bench that arrive when they can."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from orders.bag import incidents
from orders.bench import pressing, taps, work
from orders.bench.batches import waiting_for_the_iron
from orders.bench.bench import PLACES
from orders.forms.bench import TapForm
from orders.forms.incident import NotRightForm
from orders.models import Block, Event, HeatTool, Shop
from orders.views.bench import is_through
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell
from orders.views.uploads import client_id_of, new_client_id, received


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER, HELPER)
@in_the_shop
def iron(request: SignedIn, shop: Shop) -> HttpResponse:
    """Show every batch of every order, coolest first; a tap that comes as a form is done at once."""
    if request.method != "POST":
        return iron_page(request, shop)
    form = TapForm(request.POST)
    if not form.is_valid():
        return iron_page(request, shop, refused=form.first_fault)
    try:
        deeds = taps.apply(form.tap_id, "fuse", form.done, by=request.user)
    except work.NotYet as fault:
        return iron_page(request, shop, refused=str(fault))
    _tell_of(request, deeds)
    return redirect(reverse("bench-iron") + _tool_asked(request))


def iron_page(request: SignedIn, shop: Shop, *, refused: str = "") -> HttpResponse:
    """Show the iron; a refusal stands above it (422)."""
    found = waiting_for_the_iron(rough=shop.shop_rules().allowances.rough)
    tools, is_owner = list(HeatTool.objects.in_use()), request.user.role == OWNER
    mine = [each for each in found if is_owner or not each.batch.is_for_owner]
    wanted = request.GET.get("tool", "")
    sheet = {
        "shop": shop,
        "batches": [(each, pressing.pressing_of(each.batch, tools, wanted=wanted)) for each in mine],
        "stopped": [each for each in found if each not in mine],
        "held": Block.objects.filter(progress="cut").exclude(held="").count(),
        "tools": tools,
        "refused": refused,
        "may_do": work.may_do(request.user, "fuse"),
        "first": incidents.FIRST_WORDS["iron"],
        "report_id": new_client_id(),
        "report_to": reverse("bench-iron-incident"),
        "report_words": incidents.words_at("iron"),
    }
    return render(request, "bench/iron_of_all.html", sheet, status=422 if refused else 200)


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def tap(request: SignedIn, shop: Shop) -> JsonResponse:
    """Take one tap of the bench from the queue of a tablet; it is applied once."""
    form = TapForm(request.POST)
    if not form.is_valid():
        return JsonResponse({"fault": form.first_fault}, status=422)
    try:
        deeds = taps.apply(form.tap_id, PLACES[form.cleaned_data["place"]], form.done, by=request.user)
    except work.NotYet as fault:
        return JsonResponse({"fault": str(fault)}, status=422)
    _tell_of(request, deeds)
    done = sum(deed.facts["count"] for deed in deeds)
    return JsonResponse({"done": done, "next": _next(shop, form)})


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def not_right(request: SignedIn, shop: Shop) -> HttpResponse:
    """Take a report from a batch of several orders: all of it stops, the one meant has the incident."""
    blocks = list(Block.objects.filter(progress="cut").select_related("order", "piece__shirt"))
    form = NotRightForm(request.POST, request.FILES, blocks=blocks)
    photo = received(form, by=request.user) if form.is_valid() else None
    if form.errors:
        return iron_page(request, shop, refused=str(next(iter(form.errors.values()))[0]))
    meant = form.block_meant or next(iter(form.batch_stopped), None)
    if meant is None:
        return iron_page(request, shop, refused="Nothing lies at the iron any more.")
    said = incidents.Report(
        what=form.cleaned_data["what"],
        stage="fuse",
        block=form.block_meant,
        batch=form.batch_stopped,
        setting=_shown(request, shop, meant),
    )
    made = incidents.report(meant.order, said, by=request.user, photo=photo, client_id=client_id_of(form))
    return redirect("incident", made.pk)


def _shown(request: SignedIn, shop: Shop, meant: Block) -> dict[str, Any]:
    """What the page said of the block when it happened."""
    for each in waiting_for_the_iron(rough=shop.shop_rules().allowances.rough):
        for item in each.batch.items:
            if item.block == meant:
                tools, tool = HeatTool.objects.in_use(), request.GET.get("tool", "")
                at = pressing.pressing_of(each.batch, tools, wanted=tool)
                return pressing.as_record(item, item.cuttings[0] if len(item.cuttings) == 1 else None, at)
    return {}


def _next(shop: Shop, form: TapForm) -> str:
    """Where a pile of one quilt goes on: the pile while something lies there, else its bench."""
    orders = {block.order for block in Block.objects.filter(pk__in=form.done).select_related("order")}
    if len(orders) != 1:
        return ""
    order, place = orders.pop(), form.cleaned_data["place"]
    if is_through(order, shop, place):
        return reverse("order-bench", args=[order.number])
    return reverse("bench-pile", args=[order.number, place])


def _tell_of(request: SignedIn, deeds: list[Event]) -> None:
    for deed in deeds:
        kind, order = deed.facts["stage"], deed.order
        assert order is not None
        undo = "" if kind == "cut" else reverse("bench-undo", args=[order.number, deed.pk])
        tell(request, f"{deed.facts['count']} {work.DONE[kind]}, {order.title}.", undo=undo)


def _tool_asked(request: SignedIn) -> str:
    tool = request.GET.get("tool", "")
    return f"?tool={tool}" if tool.isdecimal() else ""

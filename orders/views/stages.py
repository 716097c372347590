"""A stage begun, laid down, done, taken back, pinned: each from Today or from the bench."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST

from orders.bench import work
from orders.days.day import DONE
from orders.days.in_one_go import apart_deeds, join_deeds, may_join
from orders.days.pins import pin_deeds, why_not_pinned
from orders.days.replanning import replan
from orders.forms.bench import MinutesForm, PinForm
from orders.models import Event, Shop, Stage
from orders.views.bench import bench_room
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell
from orders.views.today import day_sheet
from orders.views.weeks import tell_replan


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def start(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    stage = get_object_or_404(Stage.objects.of_open_orders(), pk=pk)
    return answer(request, shop, stage, lambda: work.start(stage, by=request.user))


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def pause(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    stage = get_object_or_404(Stage.objects.of_open_orders(), pk=pk)
    return answer(request, shop, stage, lambda: work.pause(stage, by=request.user))


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def finish(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    stage = get_object_or_404(Stage.objects.of_open_orders(), pk=pk)

    def done() -> None:
        deed = work.finish(stage, by=request.user)
        if deed is not None:
            words = f"{DONE.get(stage.kind, stage.kind)}: {stage.order.title}."
            tell(request, words, undo=reverse("bench-undo", args=[stage.order.number, deed.pk]))

    return answer(request, shop, stage, done)


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def undo(request: SignedIn, shop: Shop, number: int, pk: int) -> HttpResponse:
    deed = get_object_or_404(Event.objects.at_the_bench(), pk=pk, order__number=number)
    stage = get_object_or_404(Stage.objects.of_open_orders(), order=deed.order, kind=deed.facts["stage"])

    def take_back() -> None:
        if work.take_back(deed, by=request.user):
            cut = " What is cut stays cut." if stage.kind == "cut" else ""
            tell(request, f"Taken back: {stage.kind}, {stage.order.title}.{cut}")

    return answer(request, shop, stage, take_back)


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def minutes(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    """Keep what a stage took, told because its clock was forgotten."""
    stage = get_object_or_404(Stage.objects.select_related("order"), pk=pk)
    form = MinutesForm(request.POST, prefix=f"took-{stage.pk}")
    told = None
    if "unknown" not in request.POST:
        if not form.is_valid():
            sheet = day_sheet(request, shop, clock=(stage, form))
            return render(request, "today/page.html", sheet, status=422)
        told = form.cleaned_data["minutes"]
    try:
        work.tell_minutes(stage, told, by=request.user)
    except work.NotYet as fault:
        return render(request, "today/page.html", day_sheet(request, shop, refused=str(fault)), status=422)
    tell(request, "Kept. It counts half." if told else "Nobody is asked about it again.")
    return redirect("today")


@require_POST
@open_to(OWNER)
@in_the_shop
def batch(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    """Do a stage in one go with those of other quilts, or each by itself again."""
    stage = get_object_or_404(Stage.objects.of_open_orders(), pk=pk)
    chosen = set(request.POST.getlist("with"))
    others = [each for each in may_join(stage) if str(each.pk) in chosen]
    if stage.batch:
        made = replan(
            shop, f"{stage} by itself", lambda: apart_deeds(stage, by=request.user), by=request.user
        )
        tell_replan(request, made, "Each by itself again.")
    elif others:
        made = replan(
            shop, f"{stage} in one go with others", lambda: join_deeds(stage, others, by=request.user),
            by=request.user,
        )  # fmt: skip
        tell_replan(request, made, "One go from now on.")
    else:
        tell(request, "Choose a quilt to do it together with.")
    return redirect("order-bench", stage.order.number)


@require_POST
@open_to(OWNER)
@in_the_shop
def pin(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    stage = get_object_or_404(Stage.objects.of_open_orders(), pk=pk)
    form = PinForm(request.POST, today=shop.today())
    day = form.cleaned_data.get("day") if form.is_valid() else None
    if day is not None and (refused := why_not_pinned(stage, day, shop)):
        form.add_error("day", refused)
    if form.errors:
        told = bench_room(request, shop, stage.order.number)
        return render(request, "bench/page.html", told | {"pin": form, "pinned": stage}, status=422)
    words = f"{stage.kind.capitalize()} of {stage.order} is pinned" if day else f"No pin in {stage.kind}"
    made = replan(shop, words, lambda: pin_deeds(stage, day, by=request.user), by=request.user)
    if made is not None:
        tell_replan(request, made, f"{made.why}.")
    return redirect("order-bench", stage.order.number)


def answer(request: SignedIn, shop: Shop, stage: Stage, deed: Callable[[], None]) -> HttpResponse:
    """Do it and go back to where it was asked; what cannot be done is said there."""
    to_today = request.POST.get("back") == "today"
    try:
        deed()
    except work.NotYet as fault:
        if to_today:
            return render(
                request, "today/page.html", day_sheet(request, shop, refused=str(fault)), status=422
            )
        return render(
            request, "bench/page.html", bench_room(request, shop, stage.order.number, str(fault)), status=422
        )
    return redirect("today") if to_today else redirect("order-bench", stage.order.number)

"""Not right: stop, write it down, tell the customer, go on."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from orders import papers
from orders.bag import finding, incidents
from orders.bag.bad_news import words_for
from orders.bench import pressing, ways_on
from orders.bench.bench import PLACES, Bench, bench_of
from orders.customer.sending import as_text_message
from orders.forms.incident import EndForm, MoreForm, NeedleForm, NotRightForm, ToldForm
from orders.models import HeatTool, Incident, Shop
from orders.views.bench import pile_page
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.finding import shown
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell
from orders.views.rooms import room
from orders.views.uploads import client_id_of, received

NEXT = {
    Incident.Outcome.RECUT: "cut-yes",
    Incident.Outcome.MADE_UP: "order-quilt",
    Incident.Outcome.LAYOUT: "order-quilt",
}


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def report(request: SignedIn, shop: Shop, number: int, place: str) -> HttpResponse:
    """Take a report from a pile of the bench."""
    if place not in PLACES:
        raise Http404
    told = room(request, number, "bench")
    order = told["order"]
    form = NotRightForm(request.POST, request.FILES, blocks=list(order.blocks.select_related("piece__shirt")))
    photo = received(form, by=request.user) if form.is_valid() else None
    if form.errors:
        return pile_page(request, shop, told, place, refused=str(next(iter(form.errors.values()))[0]))
    said = incidents.Report(
        what=form.cleaned_data["what"],
        stage=PLACES[place],
        block=form.block_meant,
        batch=form.batch_stopped,
        setting=shown_at(place, bench_of(order, rough=shop.shop_rules().allowances.rough), form, request),
    )
    made = incidents.report(order, said, by=request.user, photo=photo, client_id=client_id_of(form))
    return redirect("incident", made.pk)


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def of_a_shirt(request: SignedIn, shop: Shop, code: str) -> HttpResponse:
    """Take a report of a shirt that was found by its tag, wherever it is."""
    found = finding.find(code)
    if not isinstance(found, finding.Found):
        raise Http404
    form = NotRightForm(request.POST, request.FILES, blocks=[])
    photo = received(form, by=request.user) if form.is_valid() else None
    if form.errors:
        fault = str(next(iter(form.errors.values()))[0])
        return render(request, "find/found.html", shown(found, shop) | {"fault": fault}, status=422)
    said = incidents.Report(what=form.cleaned_data["what"], shirt=found.shirt, piece=found.piece)
    made = incidents.report(found.order, said, by=request.user, photo=photo, client_id=client_id_of(form))
    return redirect("incident", made.pk)


def shown_at(place: str, lies: Bench, form: NotRightForm, request: SignedIn) -> dict[str, Any]:
    """Return what the page at the iron said when it happened."""
    if place != "iron":
        return {}
    blocks = {block.pk for block in (form.block_meant, *form.batch_stopped) if block}
    batch = next((each for each in lies.batches() if {item.block.pk for item in each.items} & blocks), None)
    tool = request.GET.get("tool", "")
    at = pressing.pressing_of(batch, HeatTool.objects.in_use(), wanted=tool) if batch else None
    item = next((each for each in lies.items if each.block == form.block_meant), None)
    cutting = item.cuttings[0] if item and len(item.cuttings) == 1 else None
    return pressing.as_record(item or (batch.items[0] if batch else None), cutting, at)


@require_safe
@open_to(OWNER, HELPER)
@in_the_shop
def incident(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    return incident_page(request, shop, found(pk))


def found(pk: int) -> Incident:
    """Return an incident with all that its page shows, or answer that it is not here."""
    return get_object_or_404(Incident.objects.with_all().select_related("order__customer"), pk=pk)


def incident_page(
    request: SignedIn, shop: Shop, of: Incident, *, status: int = 200, **forms: Any
) -> HttpResponse:
    """Answer with an incident; `forms` are those that came back."""
    is_owner = request.user.role == OWNER
    sheet = {
        "incident": of,
        "order": of.order,
        "is_owner": is_owner,
        "photos": list(of.photos.all()),
        "first": incidents.FIRST_WORDS[_place_of(of.stage)],
        "more": MoreForm(initial={"words": of.words, "turned_to": of.turned_to}),
        "ways": [(way.label, incidents.WAYS_ON[way]) for way in incidents.ways_for(of)],
    }
    if is_owner:
        words = words_for(of, shop)
        sheet |= {
            "words": words,
            "told": ToldForm(initial={"words": words}),
            "end": EndForm(of=of),
            "sms": as_text_message(of.order, words, shop=shop),
        }
    return render(request, "incident/page.html", sheet | forms, status=status)


def _place_of(stage: str) -> str:
    return next((place for place, kind in PLACES.items() if kind == stage), "")


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def note(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    of = found(pk)
    form = MoreForm(request.POST, request.FILES)
    if form.is_valid():
        received(form, by=request.user, of=of)
    if form.errors:
        return incident_page(request, shop, of, more=form, status=422)
    said = form.cleaned_data
    incidents.add(of, by=request.user, words=said["words"], turned_to=said["turned_to"])
    tell(request, "Written down.")
    return redirect("incident", pk)


@require_POST
@open_to(OWNER)
def going_on(request: SignedIn, pk: int) -> HttpResponse:
    of = found(pk)
    count = incidents.go_on(of, by=request.user)
    tell(request, f"{count} block{'' if count == 1 else 's'} of the batch may go on.")
    place = _place_of(of.stage)
    return redirect("bench-pile", of.order.number, place) if place else redirect("incident", pk)


@require_POST
@open_to(OWNER)
@in_the_shop
def telling(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    of = found(pk)
    form = ToldForm(request.POST)
    if not form.is_valid():
        return incident_page(request, shop, of, told=form, status=422)
    said = form.cleaned_data
    of.tell(how=said["how"], words=said["words"], by=request.user)
    if said["answer"]:
        incidents.add(of, by=request.user, words=of.words, turned_to=of.turned_to, answer=said["answer"])
    tell(request, "It is written down that the customer was told.")
    return redirect("incident", pk)


@require_POST
@open_to(OWNER)
@in_the_shop
def settlement(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    of = found(pk)
    form = EndForm(request.POST, of=of)
    if not form.is_valid():
        return incident_page(request, shop, of, end=form, status=422)
    outcome = form.cleaned_data["outcome"]
    try:
        incidents.settle(of, outcome, by=request.user, piece=form.piece_meant)
    except ways_on.CannotSettle as fault:
        form.add_error("outcome", str(fault))
        return incident_page(request, shop, of, end=form, status=422)
    tell(request, f"Settled: {Incident.Outcome(outcome).label}.")
    if outcome in NEXT:
        return redirect(NEXT[outcome], of.order.number)
    return redirect("incident", pk)


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def needle(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    """A needle broke: say whether all of it was found."""
    of = found(pk)
    form = NeedleForm(request.POST)
    if of.what != Incident.What.NEEDLE:
        return redirect("incident", pk)
    if not form.is_valid():
        return incident_page(request, shop, of, needle=form, status=422)
    is_found = form.cleaned_data["found"] == "yes"
    incidents.say_found(of, is_found, by=request.user)
    tell(
        request,
        "All of the needle is found." if is_found else "Not all of it yet. Nothing is finished before.",
    )
    return redirect("incident", pk)


@require_POST
@open_to(OWNER)
def paper(request: SignedIn, pk: int) -> HttpResponse:
    """Choose that it stands on paper, and make the paper."""
    of = found(pk)
    of.show_on_papers(True, by=request.user)
    return redirect("paper", papers.damage(of, by=request.user).number)


@require_POST
@open_to(OWNER)
def off_papers(request: SignedIn, pk: int) -> HttpResponse:
    """Keep it off papers from now on; what was printed stays printed."""
    found(pk).show_on_papers(False, by=request.user)
    tell(request, "No new paper will speak of it.")
    return redirect(reverse("incident", args=[pk]))

"""If…: suppose, look at what comes of it, do it or put it away."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe

from orders.days import supposing
from orders.days.supposed import do, in_words, outcome_of, pencil_in
from orders.forms.supposing import FORMS
from orders.models import Enquiry, Errand, Shop
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.enquiry import shown
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell
from orders.views.weeks import tell_replan

GONE = "What was supposed is put away already."


@require_safe
@open_to(OWNER)
@in_the_shop
def suppose(request: SignedIn, shop: Shop) -> HttpResponse:
    return page(request, shop)


def page(request: SignedIn, shop: Shop, *, status: int = 200, bound: Any = None) -> HttpResponse:
    """Draw the page; a form that came back is open, and takes the place of a fresh one."""
    today, asked = shop.today(), supposing.standing()
    kind = request.POST.get("kind", "") if bound is not None else ""
    forms = {name: form(today=today, prefix=name) for name, form in FORMS.items()}
    told: dict[str, Any] = {"shop": shop, "today": today, "asked": asked, "open": kind}
    told |= {"forms": forms | ({kind: bound} if bound is not None else {})}
    if asked is not None:
        told |= about(asked, shop)
    return render(request, "if/page.html", told, status=status)


def about(asked: Errand, shop: Shop) -> dict[str, Any]:
    """Return what the page tells of the question that stands."""
    question, outcome = asked.payload["question"], outcome_of(asked, shop)
    told: dict[str, Any] = {"question": question, "supposed": in_words(question), "outcome": outcome}
    if question["kind"] == "more":
        enquiry = Enquiry.objects.filter(pk=question["enquiry"]).first()
        if enquiry is not None:
            page = shown(enquiry, shop, decline=True)
            words = "" if page["quiet"] else page["words"]
            told |= {"enquiry": enquiry, "refusal": words, "send_to": page["send_to"]}
    return told


@require_POST
@open_to(OWNER)
@in_the_shop
def asking(request: SignedIn, shop: Shop) -> HttpResponse:
    kind = request.POST.get("kind", "")
    if kind not in FORMS:
        return page(request, shop, status=422)
    form = FORMS[kind](request.POST, today=shop.today(), prefix=kind)
    if not form.is_valid():
        return page(request, shop, status=422, bound=form)
    supposing.ask(form.question)
    return redirect("weeks-if")


@require_safe
@open_to(OWNER)
@in_the_shop
def progress(request: SignedIn, shop: Shop) -> HttpResponse:
    """Tell how far it is; once it has ended, the whole page is asked for again."""
    asked = supposing.standing()
    if not request.htmx:  # type: ignore[attr-defined]
        return redirect("weeks-if")
    if asked is None or not asked.is_open:
        return HttpResponse(headers={"HX-Refresh": "true"})
    return render(request, "if/under_way.html", {"asked": asked})


@require_POST
@open_to(OWNER)
@in_the_shop
def putting_away(request: SignedIn, shop: Shop) -> HttpResponse:
    """Stop it if it is under way, and forget it; nothing was changed by asking."""
    asked = supposing.standing()
    if asked is not None:
        supposing.put_away(asked)
    tell(request, "Put away. Nothing was changed.")
    return redirect("weeks-if")


@require_POST
@open_to(OWNER)
@in_the_shop
def doing(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    asked = get_object_or_404(Errand.objects.filter(kind=supposing.KIND), pk=pk)
    if asked.payload.get("away"):
        tell(request, GONE)
        return redirect("weeks-if")
    if asked.payload["question"]["kind"] == "more":
        found = pencil_in(asked, shop, by=request.user)
        supposing.put_away(asked)
        tell(request, "Penciled in." if found else "That enquiry is no longer open.")
        return redirect("enquiry", found.pk) if found else redirect("weeks-if")
    made = do(asked, shop, with_overtime="overtime" in request.POST, by=request.user)
    supposing.put_away(asked)
    tell_replan(request, made, f"{made.why}." if made else "")
    return redirect("weeks")

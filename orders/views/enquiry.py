"""An enquiry: asked, answered, penciled in, declined kindly, or turned into an order."""

from __future__ import annotations

import re
from typing import Any
from urllib.parse import quote

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.template.loader import render_to_string
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from orders.account.ways_to_take import day_of
from orders.customer import enquiries, enquiry_ways, mailing
from orders.customer.sending import plain, quiet_reached_by
from orders.forms.enquiry import EnquiryForm, TitleForm
from orders.forms.words import WordsForm
from orders.models import Enquiry, Mail, Order, Shop
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell
from orders.views.uploads import client_id_of, new_client_id

PENCILED_DAYS = 7
SHAPES = {
    "fits": "done", "open": "done", "tight": "wait", "maybe": "wait", "cannot": "late", "unknown": "rest",
}  # fmt: skip


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER)
@in_the_shop
def new(request: SignedIn, shop: Shop) -> HttpResponse:
    form = EnquiryForm(
        request.POST if request.method == "POST" else None,
        unit=shop.unit,
        today=shop.today(),
        initial={"client_id": new_client_id()},
    )
    if not form.is_valid():
        status = 422 if form.is_bound else 200
        return render(request, "enquiry/new.html", {"form": form, "place": "quilts"}, status=status)
    enquiry = Enquiry.objects.write_down(by=request.user, client_id=client_id_of(form), **form.asked)
    if enquiry.answered_at is None:
        enquiries.answer_now(enquiry, shop, by=request.user)
        enquiry_ways.look(enquiry, shop)
    return redirect("enquiry", enquiry.pk)


@require_safe
@open_to(OWNER)
@in_the_shop
def enquiry(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    found = get_object_or_404(Enquiry.objects.known().select_related("order"), pk=pk)
    return render(request, "enquiry/page.html", shown(found, shop))


def shown(
    found: Enquiry, shop: Shop, title: TitleForm | None = None, *, decline: bool = False
) -> dict[str, Any]:
    """Return what the page of an enquiry shows; the words are those of a kind no once it is declined."""
    verdict, days = enquiries.verdict(found, shop)
    facts: dict[str, Any] = {
        "enquiry": found,
        "verdict": verdict,
        "days": days,
        "shape": SHAPES[verdict],
        "is_penciled": found.is_penciled(on=shop.today()),
        "has_tax_on_top": any(not tax.inclusive for tax in shop.shop_rules().terms.taxes),
        "title_form": title or TitleForm(initial=usual_title(found)),
        "shop": shop,
        "thing": Order.Kind(found.kind).thing,
        **shown_ways(found, shop),
    }
    words = "enquiry/decline_words.txt" if found.declined_at or decline else "enquiry/answer_words.txt"
    facts["words"] = render_to_string(words, facts).strip()
    facts["quiet"] = quiet_reached_by(found.reach, on=shop.today())
    facts["send_to"] = "" if facts["quiet"] else where_to_send(found.reach, facts["words"])
    return facts | shown_mails(found, shop, facts["words"], is_no=words.startswith("enquiry/decline"))


def shown_mails(found: Enquiry, shop: Shop, words: str, *, is_no: bool) -> dict[str, Any]:
    """Return the mails that went or go to whoever asks, and the form of one where the shop can mail."""
    start = {"kind": "kind no" if is_no else "answer", "client_id": new_client_id()}
    start |= {"subject": f"Your {Order.Kind(found.kind).thing}, {shop.name}"[:120], "words": plain(words)}
    can_mail = mailing.is_on() and "@" in found.reach and found.order is None
    mails = found.mails.exclude(state=Mail.State.TAKEN_BACK).order_by("-pk")
    return {"mails": list(mails[:5]), "mail_form": WordsForm(initial=start) if can_mail else None}


def shown_ways(found: Enquiry, shop: Shop) -> dict[str, Any]:
    """Return what the list of ways shows."""
    search = enquiry_ways.search_of(found)
    told = enquiry_ways.found_by(search, today=shop.today())
    ways = [{**way, **{name: day_of(way[name]) for name in ("fits", "not_before")}} for way in told]
    return {"search": search, "ways": ways}


def usual_title(found: Enquiry) -> dict[str, str]:
    """Return what the quilt is called until the maker calls it something else: who, then the place."""
    who, _, place = found.name.partition(", ")
    return {"title": f"{who}’s {found.get_kind_display().lower()}", "place": place}


def where_to_send(reach: str, words: str) -> str:
    """Return an address that opens a text message or a mail with the words in it, as far as there is one."""
    if "@" in reach:
        return f"mailto:{quote(reach.split()[-1], safe='@')}?body={quote(words)}"
    digits = re.sub(r"[^\d+]", "", reach)
    return f"sms:{digits}?&body={quote(words)}" if len(digits) >= 6 else ""


@require_POST
@open_to(OWNER)
@in_the_shop
def answer(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    found = get_object_or_404(Enquiry.objects.known(), pk=pk)
    enquiries.answer_now(found, shop, by=request.user)
    enquiry_ways.look(found, shop)
    tell(request, "Reckoned anew with the work as it stands today.")
    return redirect("enquiry", pk)


@require_safe
@open_to(OWNER)
@in_the_shop
def ways(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    """Tell the answer and the ways found so far; the list asks again for itself until all are found."""
    found = get_object_or_404(Enquiry.objects.known().select_related("order"), pk=pk)
    if not request.htmx:  # type: ignore[attr-defined]
        return redirect("enquiry", pk)
    return render(request, "enquiry/told.html", shown(found, shop))


@require_POST
@open_to(OWNER)
@in_the_shop
def pencil(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    found = get_object_or_404(Enquiry.objects.known(), pk=pk)
    found.pencil_in(days=PENCILED_DAYS, on=shop.today(), by=request.user)
    tell(request, "Penciled in.", undo=reverse("enquiry-eraser", args=[pk]))
    return redirect("enquiry", pk)


@require_POST
@open_to(OWNER)
@in_the_shop
def eraser(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    get_object_or_404(Enquiry.objects.known(), pk=pk).rub_out(by=request.user)
    tell(request, "The place is free again.", undo=reverse("enquiry-pencil", args=[pk]))
    return redirect("enquiry", pk)


@require_POST
@open_to(OWNER)
@in_the_shop
def decline(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    get_object_or_404(Enquiry.objects.known(), pk=pk).decline(by=request.user)
    tell(request, "Declined. The words to send are below.", undo=reverse("enquiry-reopening", args=[pk]))
    return redirect("enquiry", pk)


@require_POST
@open_to(OWNER)
@in_the_shop
def reopening(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    get_object_or_404(Enquiry.objects.known(), pk=pk).take_up_again(by=request.user)
    tell(request, "Taken up again.")
    return redirect("enquiry", pk)


@require_POST
@open_to(OWNER)
@in_the_shop
def order(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    found = get_object_or_404(Enquiry.objects.known().select_related("order"), pk=pk)
    form = TitleForm(request.POST)
    if not form.is_valid():
        return render(request, "enquiry/page.html", shown(found, shop, form), status=422)
    made = found.turn_into_order(**form.cleaned_data, by=request.user)
    return redirect("order-bag", made.number)

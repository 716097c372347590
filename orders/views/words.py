"""Words to a customer: drafts, mails, and what was said another way."""

from __future__ import annotations

from uuid import uuid4

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from orders.account.money import the_shop
from orders.customer import drafts, mailing
from orders.customer.sending import as_mail, as_text_message, is_quiet
from orders.forms.words import WentForm, WordsForm
from orders.models import Enquiry, Incident, Mail, Message, Order, Shop
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.enquiry import shown
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell
from orders.views.rooms import room

LAST = 12
TOLD = {"call": "phone", "talk": "person"}
WAYS = (("text", "Text sent"), ("letter", "Letter posted"), ("call", "Called"), ("talk", "Talked"))
SAID = {"call": "Called", "talk": "Talked"}


@require_safe
@open_to(OWNER)
def words(request: SignedIn, number: int) -> HttpResponse:
    return page(request, number, kind=request.GET.get("kind", ""))


def page(
    request: SignedIn, number: int, *, kind: str = "", form: WordsForm | None = None, refused: str = ""
) -> HttpResponse:
    """Draw the words of one kind, the first there is an occasion for where none is named."""
    told = room(request, number, "account")
    order, shop = told["order"], told["shop"]
    found = drafts.drafts_of(order, shop)
    draft = next((each for each in found if each.kind == kind), found[0])
    typed = form["words"].value() if form else draft.words
    start = {"kind": draft.kind, "client_id": str(uuid4()), "subject": draft.subject, "words": draft.words}
    told |= {
        "drafts": found,
        "draft": draft,
        "form": form or WordsForm(initial=start),
        "refused": refused,
        "sms": as_text_message(order, typed or "", shop=shop),
        "mailto": as_mail(order, draft.subject, typed or "", shop=shop),
        "is_quiet": is_quiet(order, shop),
        "can_mail": mailing.is_on() and bool(order.customer.email),
        "is_on": mailing.is_on(),
        "mails": list(order.mails.exclude(state=Mail.State.SENT).order_by("-pk")[:LAST]),
        "sent": list(order.messages.newest_first()[:LAST]),
        "has_picture": order.is_drawn,
        "ways": WAYS,
    }
    return render(request, "words/page.html", told, status=422 if form or refused else 200)


@require_POST
@open_to(OWNER)
def mail(request: SignedIn, number: int) -> HttpResponse:
    """Send the words as a mail."""
    order = get_object_or_404(Order.objects.select_related("customer"), number=number)
    form = WordsForm(request.POST)
    if not form.is_valid():
        return page(request, number, kind=request.POST.get("kind", ""), form=form)
    said = form.cleaned_data
    letter = mailing.Letter(said["kind"], said["subject"], said["words"])
    try:
        made = mailing.mail_order(order, letter, key=f"tap {order.pk} {said['client_id']}", by=request.user)
    except mailing.CannotMail as fault:
        return page(request, number, kind=said["kind"], form=form, refused=str(fault))
    tell(request, f"The mail to {made.to} is on its way out. Should it not go, Today says so.")
    return redirect("order-words", number)


@require_POST
@open_to(OWNER)
def went(request: SignedIn, number: int) -> HttpResponse:
    """Write down words that went another way: a text, a letter, a call, a talk."""
    order = get_object_or_404(Order.objects.select_related("customer"), number=number)
    form = WentForm(request.POST)
    if not form.is_valid():
        fault = str(next(iter(form.errors.values()))[0])
        return page(request, number, kind=request.POST.get("kind", ""), refused=fault)
    said = form.cleaned_data
    how, to, by = said["how"], order.customer.name, request.user
    text = said["words"] if how not in SAID else _what_was_said(said["kind"], how)
    Message.objects.note(order, text, to=to, on=the_shop().today(), by=by, how=how)
    told_how = TOLD.get(how, Incident.How.MESSAGE)
    mailing.tell_of_damage(order, said["kind"], text, how=told_how, by=by)
    tell(request, f"Written down: {Message.How(how).label.lower()}, {to}.")
    return redirect(f"{reverse('order-words', args=[number])}#said")


def _what_was_said(kind: str, how: str) -> str:
    about = drafts.TITLES.get(kind, "") if kind != "own" else ""
    about = "what was not right" if kind.startswith("damage") else about
    return f"{SAID[how]} about: {about}" if about else SAID[how]


@require_POST
@open_to(OWNER)
@in_the_shop
def enquiry_mail(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    """Answer an enquiry, or decline it kindly, by mail."""
    found = get_object_or_404(Enquiry.objects.known().select_related("order"), pk=pk)
    form = WordsForm(request.POST)
    fault = "" if form.is_valid() else str(next(iter(form.errors.values()))[0])
    if not fault:
        said = form.cleaned_data
        letter = mailing.Letter(said["kind"], said["subject"], said["words"])
        try:
            mailing.mail_enquiry(found, letter, key=f"enquiry {pk} {said['client_id']}", by=request.user)
        except mailing.CannotMail as refused:
            fault = str(refused)
    if fault:
        facts = shown(found, shop) | {"mail_form": form, "refused": fault}
        return render(request, "enquiry/page.html", facts, status=422)
    tell(request, f"The mail to {found.name} is on its way out. Should it not go, Today says so.")
    return redirect("enquiry", pk)


@require_POST
@open_to(OWNER)
def taking_back(request: SignedIn, pk: int) -> HttpResponse:
    found = get_object_or_404(Mail.objects.select_related("order"), pk=pk)
    in_time = found.take_back(by=request.user)
    tell(request, "It does not go out." if in_time else "Too late: it is not waiting any more.")
    return _back(found, request)


@require_POST
@open_to(OWNER)
def again(request: SignedIn, pk: int) -> HttpResponse:
    """Try a waiting mail now, or send one anew that was refused or of which nobody knows."""
    found = get_object_or_404(Mail.objects.select_related("order", "enquiry"), pk=pk)
    try:
        mailing.try_now(mailing.send_again(found, by=request.user))
    except mailing.CannotMail as fault:
        tell(request, str(fault))
        return _back(found, request)
    tell(request, "It is tried now.")
    return _back(found, request)


@require_POST
@open_to(OWNER)
def seen(request: SignedIn, pk: int) -> HttpResponse:
    """Take a mail that did not go off Today; it stays with its quilt."""
    found = get_object_or_404(Mail.objects.select_related("order"), pk=pk)
    if not found.is_open:
        found.put_away()
    return _back(found, request)


def _back(of: Mail, request: SignedIn) -> HttpResponse:
    if request.POST.get("back") == "today":
        return redirect("today")
    return redirect("order-words", of.order.number) if of.order else redirect("enquiry", of.enquiry_id)

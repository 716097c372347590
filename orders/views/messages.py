"""Words that were copied into a text message, written down as sent."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_POST

from orders.account.money import the_shop
from orders.forms.sending import SentForm
from orders.models import Message, Order
from orders.views import account
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.notices import tell


@require_POST
@open_to(OWNER)
def message(request: SignedIn, number: int) -> HttpResponse:
    order = get_object_or_404(Order.objects.select_related("customer"), number=number)
    form = SentForm(request.POST)
    if not form.is_valid():
        return account.page(request, number, status=422, refused="There were no words to write down.")
    to, words = order.customer.name, form.cleaned_data["words"]
    Message.objects.note(order, words, to=to, on=the_shop().today(), by=request.user)
    tell(request, f"Written down: the words went to {to}.")
    return redirect(f"{reverse('order-account', args=[number])}#link")

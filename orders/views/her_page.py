"""What the owner sets for the page of a customer: who is who, a surprise, the words for the label."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_POST

from orders.account.money import the_shop
from orders.customer import people
from orders.forms.her_page import PeopleForm
from orders.models import Order
from orders.views import account
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.notices import tell


@require_POST
@open_to(OWNER)
def people_of(request: SignedIn, number: int) -> HttpResponse:
    order = get_object_or_404(Order, number=number)
    form = PeopleForm(request.POST, order=order, today=the_shop().today())
    if not form.is_valid():
        return account.page(request, number, status=422, people_form=form)
    people.write_down(order, by=request.user, **form.cleaned_data)
    tell(request, "Written down.")
    return redirect(f"{reverse('order-account', args=[number])}#people")

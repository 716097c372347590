"""The door: coming in and going out."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST

from orders.door import came_from, let_in, let_out
from orders.forms.sign_in import SignInForm
from orders.models import Person
from orders.views.callers import ANYONE, open_to


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(ANYONE)
@sensitive_post_parameters("password")
def sign_in(request: HttpRequest) -> HttpResponse:
    if not Person.objects.exists():
        return redirect("first-owner")
    if request.user.is_authenticated:
        return redirect("today")
    if request.method != "POST":
        return render(request, "sign_in/page.html", {"form": SignInForm()})
    form = SignInForm(request.POST, came_from=came_from(request))
    if form.is_valid():
        let_in(request, form.person)
        return HttpResponseRedirect(wanted_page(request))
    return render(request, "sign_in/page.html", {"form": form}, status=422)


def wanted_page(request: HttpRequest) -> str:
    """Return the page that was asked for before the door, if it is one of ours."""
    wanted = request.GET.get("next", "")
    ours = wanted.startswith("/") and url_has_allowed_host_and_scheme(wanted, allowed_hosts=None)
    return wanted if ours else reverse("today")


@require_POST
@open_to(ANYONE)
def sign_out(request: HttpRequest) -> HttpResponse:
    return let_out(request)

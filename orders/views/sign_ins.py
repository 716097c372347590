"""Where somebody is signed in: seen, ended there or everywhere; and a password of one's own."""

from __future__ import annotations

from django.contrib.auth import update_session_auth_hash
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from orders.door import came_from, let_out
from orders.forms.sign_in import OwnPasswordForm
from orders.models import Person, SignIn
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.notices import tell
from orders.workroom import take_new_password


@require_safe
@open_to(OWNER, HELPER)
def sign_ins(request: SignedIn) -> HttpResponse:
    told = {"mine": SignIn.objects.of(request.user), "here": request.session.session_key}
    if request.user.role == Person.Role.OWNER:
        told["helpers"] = SignIn.objects.of_helpers()
    return render(request, "sign_in/where.html", told)


@require_POST
@open_to(OWNER, HELPER)
def ending(request: SignedIn, mark: str) -> HttpResponse:
    """Sign out on one device: one's own, and for the owner a helper's too."""
    may = list(SignIn.objects.of(request.user))
    if request.user.role == Person.Role.OWNER:
        may += SignIn.objects.of_helpers()
    ended = [each for each in may if each.mark == mark]
    SignIn.objects.named(ended).end(by=request.user)
    if any(each.session_key == request.session.session_key for each in ended):
        return let_out(request)
    for each in ended:
        tell(request, f"{each.device or 'That device'} is signed out.")
    return redirect("sign-ins")


@require_POST
@open_to(OWNER, HELPER)
def everywhere(request: SignedIn) -> HttpResponse:
    """Sign out on every device of one's own, this one too."""
    SignIn.objects.of(request.user).end(by=request.user)
    return let_out(request)


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER, HELPER)
@sensitive_post_parameters("password", "new")
def password(request: SignedIn) -> HttpResponse:
    typed = request.POST if request.method == "POST" else None
    form = OwnPasswordForm(typed, person=request.user, came_from=came_from(request))
    if form.is_valid():
        take_new_password(request.user, form.cleaned_data["new"], keep=request.session.session_key or "")
        update_session_auth_hash(request, request.user)
        tell(request, "Your new password counts from now on. You are signed out everywhere else.")
        return redirect("sign-ins")
    return render(request, "sign_in/password.html", {"form": form}, status=422 if form.is_bound else 200)

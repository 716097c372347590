"""A small site made of all shared parts, for the tests of the shell alone."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from types import SimpleNamespace

from django import forms
from django.http import HttpResponse
from django.template import engines
from django.urls import path

from orders.views import sign_in
from orders.views.callers import HELPER, OWNER, open_to
from orders.views.notices import tell
from planner.units import INCH

STATIC = Path(__file__).parents[2] / "static"
SAMPLES = Path(__file__).parent / "samples"
US = SimpleNamespace(name="The workroom, Alder Steps", unit="in", currency="USD", country="US")
PICTURES = {
    "days": [date(2027, 3, 15), date(2027, 4, 20), date(2027, 4, 23), date(2027, 5, 15), date(2027, 5, 22)],
    "steps": [
        ("Came in", "15 Mar"), ("The yes", "22 Mar"), ("Cut", "13 Apr"),
        ("Stabilizing", "today, 7 of 12"), ("Yours", "Sat 15 May"),
    ],
    "ticks": 208 * INCH,
}  # fmt: skip


class Sample(forms.Form):
    who = forms.CharField(label="Who asks", max_length=40, error_messages={"required": "Type a name."})
    what = forms.ChoiceField(
        label="What", choices=[(w, w) for w in ("Quilt", "Pillow", "Repair", "Other")],
        widget=forms.RadioSelect, error_messages={"required": "Tap one."},
    )  # fmt: skip
    shirts = forms.IntegerField(label="Shirts, roughly", error_messages={"required": "Type a number."})
    needed_by = forms.DateField(label="Needed by", required=False)
    width = forms.CharField(
        label="Width", help_text="Such as 12 3/8.", error_messages={"required": "Type a width."}
    )
    weight = forms.DecimalField(label="Weight", required=False)
    cloth = forms.ChoiceField(label="Cloth", choices=[("n", "Navy"), ("f", "Forest")])
    wishes = forms.CharField(label="Wishes", widget=forms.Textarea, required=False)
    photo = forms.FileField(label="Photo of the bag", required=False)
    feels = forms.MultipleChoiceField(
        label="Prints feel", choices=[("r", "Rubbery"), ("s", "Smooth film")],
        widget=forms.CheckboxSelectMultiple, required=False,
    )  # fmt: skip
    memorial = forms.BooleanField(label="In memory of somebody", required=False)


class Short(forms.Form):
    who = Sample.base_fields["who"]


POSTS: list[str] = []


def draw(request, name, words, *, status=200):
    page = engines["django"].from_string((SAMPLES / name).read_text()).render(words, request)
    return HttpResponse(page, status=status)


@open_to(OWNER, HELPER)
def sample(request, number=31):
    form = Sample(request.POST if request.method == "POST" else None)
    if "tell" in request.GET:
        tell(request, "02 and 11 traded places.", undo="/undone/")
    words = {"form": form, "order": SimpleNamespace(number=number), "shop": US, **PICTURES}
    return draw(request, "parts.html", words, status=422 if form.errors else 200)


@open_to(OWNER)
def owners(request, number=31):
    return sample(request, number)


@open_to(OWNER, HELPER)
def short(request):
    form = Short(request.POST if request.method == "POST" else None)
    if request.method == "POST":
        POSTS.append(request.POST.get("way", ""))
    fragment = engines["django"].from_string((SAMPLES / "fragment.html").read_text())
    words = {"fragment": fragment.render({"form": form}, request)}
    if request.htmx:
        return HttpResponse(words["fragment"], status=422 if form.errors else 200)
    return draw(request, "short.html", words, status=422 if form.errors else 200)


FLOORS = ("bag", "quilt", "bench")
urlpatterns = [
    path("today/", sample, name="today"),
    path("short/", short, name="enquiry-short"),
    path("fragment/", short, name="fragment"),
    path("quilts/", sample, name="quilts"),
    *(path(f"{name}/", owners, name=name) for name in ("weeks", "shelf", "books", "workroom")),
    *(path(f"quilts/<int:number>/{room}/", sample, name=f"order-{room}") for room in FLOORS),
    path("quilts/<int:number>/account/", owners, name="order-account"),
    path("sign-in/", sign_in.sign_in, name="sign-in"),
    path("sign-out/", sign_in.sign_out, name="sign-out"),
    path("sign-ins/", sample, name="sign-ins"),
]

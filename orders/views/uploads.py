"""A photo that comes with a form: taken, or refused beside its field; what was taken is not sent again."""

from __future__ import annotations

from uuid import uuid4

from django import forms
from django.db import models
from django.http import HttpRequest, JsonResponse, QueryDict

from orders.background import photos
from orders.models import Person, Photo

NO_PHOTO = "No photo came with it. Take it again."


def received(form: forms.Form, *, by: Person, of: models.Model | None = None) -> Photo | None:
    """Return the photo of a form that was checked; one that is refused becomes a fault of its field."""
    upload = form.cleaned_data.get("photo")
    if not upload:
        return kept(form, by=by)
    try:
        return photos.receive(upload, of=of, by=by)
    except photos.Refused as fault:
        form.add_error("photo", str(fault))
        return None


def received_from_queue(request: HttpRequest, *, of: models.Model, by: Person) -> Photo:
    """Return the photo a phone sends by itself; raises Refused. Sent twice, it is the first one again."""
    upload = request.FILES.get("photo")
    if upload is None:
        raise photos.Refused(NO_PHOTO)
    return photos.receive(upload, client_id=request.POST.get("client_id", ""), of=of, by=by)


def refused_in_queue(fault: photos.Refused) -> JsonResponse:
    """Tell a phone why its photo is not taken: for good, or until the disk has room (RFC 4918, 11.5)."""
    return JsonResponse({"fault": str(fault)}, status=507 if isinstance(fault, photos.NoRoom) else 422)


def kept(form: forms.Form, *, by: Person) -> Photo | None:
    """Return the photo that came in when this form was sent before and had another fault."""
    number = form.cleaned_data.get("kept_photo")
    return Photo.objects.of(None).filter(pk=number, received_by=by).first() if number else None


def keep(form: forms.Form, photo: Photo | None) -> None:
    """Let a form that goes back for another fault remember the photo that came with it."""
    if photo is not None:
        data = QueryDict(mutable=True)
        data.update(form.data)
        data["kept_photo"] = str(photo.pk)
        form.data = data


def new_client_id() -> str:
    """Return what makes a form the same one when it is sent twice."""
    return str(uuid4())


def client_id_of(form: forms.Form) -> str | None:
    """Return it from a form that came in; a form without one is always a new one."""
    return form.cleaned_data.get("client_id") or None

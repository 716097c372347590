"""The demo shop for tests of whole screens: opened, a few photos in it, and somebody signed in."""

from __future__ import annotations

import io

from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from orders.background import errands, photos
from orders.demo.shop import open_demo
from orders.models import Errand, Order, Photo, Piece, Shirt


def open_with_few_photos() -> None:
    """Open the demo; instead of drawing sixty photographs, give three shirts a plain one."""
    open_without_photos()
    bag = Order.objects.get(title__contains="surprise").bags.get()
    for shirt in bag.shirts.order_by("number")[:3]:
        photo = a_photo(of=shirt, green=90 + 30 * shirt.number)
        Piece.objects.filter(shirt=shirt).update(photo=photo)


def open_without_photos() -> None:
    """Open the demo and forget that photographs were to be drawn and papers to be set."""
    open_demo()
    Errand.objects.all().delete()


def a_photo(*, of: Shirt | Order, green: int = 90) -> Photo:
    """Receive a plain picture and make its renditions."""
    picture = io.BytesIO()
    Image.new("RGB", (300, 400), (40, green, 120)).save(picture, "JPEG")
    upload = SimpleUploadedFile("shirt.jpg", picture.getvalue(), content_type="image/jpeg")
    photo = photos.receive(upload, of=of)
    errands.run_due()
    return photo


def sign_in(page, live_server, client, person) -> None:
    """Give the page of a browser the session of a person."""
    client.force_login(person)
    name = settings.SESSION_COOKIE_NAME
    page.context.add_cookies([{"name": name, "value": client.cookies[name].value, "url": live_server.url}])

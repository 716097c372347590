"""The demo shop for tests of whole screens: opened, a few photos in it, and somebody signed in."""

from __future__ import annotations

import io

from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from orders import errands, photos
from orders.demo.shop import open_demo
from orders.models import Errand, Order, Piece


def open_with_few_photos() -> None:
    """Open the demo; instead of drawing sixty photographs, give three shirts a plain one."""
    open_demo()
    Errand.objects.filter(kind__startswith="demo").delete()
    bag = Order.objects.get(title__contains="surprise").bags.get()
    for shirt in bag.shirts.order_by("number")[:3]:
        picture = io.BytesIO()
        Image.new("RGB", (300, 400), (40, 90 + 30 * shirt.number, 120)).save(picture, "JPEG")
        upload = SimpleUploadedFile("shirt.jpg", picture.getvalue(), content_type="image/jpeg")
        photo = photos.receive(upload, of=shirt)
        Piece.objects.filter(shirt=shirt).update(photo=photo)
    errands.run_due()


def sign_in(page, live_server, client, person) -> None:
    """Give the page of a browser the session of a person."""
    client.force_login(person)
    name = settings.SESSION_COOKIE_NAME
    page.context.add_cookies([{"name": name, "value": client.cookies[name].value, "url": live_server.url}])

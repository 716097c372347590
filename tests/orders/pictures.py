"""Drawn pictures as a telephone would send them, and what became of them."""

import io

from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from orders.background import darkroom, photos
from orders.models.photo import photo_folder
from tests.conftest import ROOT

SIDEWAYS = ROOT / "tests" / "data" / "sideways.heic"
RED, GREEN, WHITE = (190, 40, 40), (40, 110, 70), (240, 240, 240)


def drawing(width=64, height=48):
    """Return a red shirt on a green mat, with a white corner at the top left."""
    picture = Image.new("RGB", (width, height), GREEN)
    picture.paste(RED, (width // 4, height // 4, width * 3 // 4, height * 3 // 4))
    picture.paste(WHITE, (0, 0, width // 5, height // 5))
    return picture


def saved(picture, form="JPEG", **more):
    file = io.BytesIO()
    picture.save(file, form, **({"quality": 95} if form in ("JPEG", "WEBP") else {}), **more)
    return file.getvalue()


def upload(content, name="shirt.jpg"):
    return SimpleUploadedFile(name, content)


def receive(content, **more):
    return photos.receive(upload(content), **more)


def leave_the_sizes_for_later(monkeypatch):
    """Let the darkroom have no time for renditions, so that they are an errand."""
    monkeypatch.setattr(darkroom, "beside", lambda target, size: target.with_suffix(".nowhere"))


def kept(photo):
    return Image.open(photo.file)


def files():
    return [file for file in photo_folder().rglob("*") if file.is_file()]


def close_to(pixel, color):
    return all(abs(one - other) <= 14 for one, other in zip(pixel, color, strict=True))


def white_corner(picture):
    """Return which corner is white: left or right, top or bottom."""
    right, bottom = picture.width - 3, picture.height - 3
    corners = {(2, 2): "top left", (right, 2): "top right", (2, bottom): "bottom left"}
    corners[right, bottom] = "bottom right"
    return [words for place, words in corners.items() if close_to(picture.getpixel(place), WHITE)]

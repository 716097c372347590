"""Photos whose files lie on the disk at once, without the darkroom, for tests of what is drawn from them."""

from __future__ import annotations

import hashlib
from typing import Any

from PIL import Image

from orders.models import Photo
from orders.models.photo import SIZES


def put_photo(picture: Image.Image, **of: Any) -> Photo:
    """Keep a picture as a photo with its renditions."""
    mark = hashlib.sha256(picture.tobytes() + repr(sorted(of)).encode() + bytes(Photo.objects.count()))
    photo = Photo.objects.create(
        sha256=mark.hexdigest(),
        sent_sha256=mark.hexdigest(),
        width=picture.width,
        height=picture.height,
        is_ready=True,
        **of,
    )
    photo.file.parent.mkdir(parents=True, exist_ok=True)
    for size in SIZES:
        small = picture.copy()
        small.thumbnail((size, size))
        small.save(photo.rendition(size), "JPEG", quality=95, subsampling=0)
    picture.save(photo.file, "JPEG", quality=95)
    return photo


def lose(photo: Photo) -> None:
    """Take the files of a photo off the disk."""
    for size in SIZES:
        photo.rendition(size).unlink()
    photo.file.unlink()

"""An upload becomes a photo: checked, turned upright, stripped of what it tells about place and camera."""

from __future__ import annotations

import errno
import hashlib
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
import threading
import time
from contextlib import suppress
from pathlib import Path
from typing import BinaryIO

from django.conf import settings
from django.core.files.uploadedfile import UploadedFile
from django.db import IntegrityError, models, transaction

from orders.background import darkroom, errands
from orders.models.errand import Errand
from orders.models.event import Event
from orders.models.people import Person
from orders.models.photo import SIZES, Photo, photo_file, photo_folder, place
from orders.models.shelf import Cloth
from orders.models.shirt import Piece

MOST_BYTES = 25 * 1024 * 1024
AT_ONCE = threading.BoundedSemaphore(2)  # pictures opened side by side, so that pages stay quick
UNUSED_FOR = 2 * 24 * 3600  # seconds before a file without a photo goes: longer than any backup takes

EMPTY = "This file is empty. Choose the photo again."
TOO_LARGE = "This photo has more than 25 MB. Send a smaller one."
NOT_OPENED = "This photo could not be opened in the time and memory it may take. Send a smaller one."
NO_ROOM = "The shop’s computer has less than 200 MB left, so no photo is taken. Make room on its disk first."
SENT_FOR_ANOTHER = "This photo was already sent for something else. Choose it again here."


class Refused(Exception):
    """A photo that is not taken; the text says why and what to do, and belongs beside the field."""


class NoRoom(Refused):
    """A photo for which the disk has no room now; the same one is taken when there is some."""


def receive(
    upload: UploadedFile, *, client_id: str = "", of: models.Model | None = None, by: Person | None = None
) -> Photo:
    """Keep a photo of a shirt, cloth, order or bag, or of nothing yet; sent twice, it is the first one again.

    Raises Refused in words, and OSError when the disk is full; either way nothing half is kept.
    """
    picture = checked_bytes(upload)
    mark = hashlib.sha256(picture).hexdigest()
    client = client_id if re.fullmatch(r"[A-Za-z0-9-]{1,64}", client_id) else None
    if before := received_before(mark, client, of):
        return before
    refuse_without_room()
    sha256, width, height = develop(picture)
    try:
        with transaction.atomic():
            photo = Photo.objects.create(
                sha256=sha256,
                sent_sha256=mark,
                client_id=client,
                width=width,
                height=height,
                is_ready=not missing_of(sha256),
                received_by=by,
                **place(of),
            )
            if not photo.is_ready:
                send_renditions(photo)
            note("photo received", photo, by)
    except IntegrityError:
        if before := received_before(mark, client, of):
            return before
        raise
    return photo


def checked_bytes(upload: UploadedFile) -> bytes:
    if not upload.size:
        raise Refused(EMPTY)
    if upload.size > MOST_BYTES:
        raise Refused(TOO_LARGE)
    return upload.read()


def received_before(mark: str, client: str | None, of: models.Model | None) -> Photo | None:
    """Return the photo of this very sending, or of the same bytes for the same thing."""
    if client and (sent := Photo.objects.filter(client_id=client).first()):
        if sent.thing != of:
            raise Refused(SENT_FOR_ANOTHER)
        return sent
    return Photo.objects.of(of).filter(sent_sha256=mark).first()


def refuse_without_room() -> None:
    if shutil.disk_usage(settings.DATA_DIR).free < settings.LEAST_FREE_BYTES:
        raise NoRoom(NO_ROOM)


def develop(picture: bytes) -> tuple[str, int, int]:
    """Put the picture on the disk as we serve it; return the hash that names it, its width and its height."""
    photo_folder().mkdir(mode=0o700, exist_ok=True)
    descriptor, name = tempfile.mkstemp(suffix=".part", dir=photo_folder())
    os.close(descriptor)
    draft = Path(name)
    try:
        with AT_ONCE:
            width, height = open_apart(picture, draft)
        sha256 = keep(draft)
        for size in missing_of(sha256):
            with suppress(FileNotFoundError):  # it did not come about there, so it becomes an errand
                os.replace(darkroom.beside(draft, size), photo_file(sha256, size))
        return sha256, width, height
    finally:
        for left in (draft, *(darkroom.beside(draft, size) for size in SIZES)):
            left.unlink(missing_ok=True)


def missing_of(sha256: str) -> list[int]:
    """Return which renditions of a picture are not on the disk."""
    return [size for size in SIZES if not photo_file(sha256, size).exists()]


def open_apart(picture: bytes, target: Path) -> tuple[int, int]:
    """Open a picture from outside in a process of its own, so that none can take the site down."""
    done = subprocess.run(
        [sys.executable, "-m", "orders.background.darkroom", ",".join(map(str, SIZES)), str(target)],
        cwd=settings.BASE_DIR,
        input=picture,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
    )
    if done.returncode not in (darkroom.DEVELOPED, darkroom.UNREADABLE, darkroom.DISK_FULL):
        raise Refused(NOT_OPENED)
    said = json.loads(done.stdout)
    if done.returncode == darkroom.UNREADABLE:
        raise Refused(said["fault"])
    if done.returncode == darkroom.DISK_FULL:
        code = said["errno"] or errno.EIO
        raise OSError(code, os.strerror(code))
    return said["width"], said["height"]


def keep(draft: Path) -> str:
    """Give a finished file the name of its hash; one that is there already has the same bytes."""
    sha256 = hashlib.sha256(draft.read_bytes()).hexdigest()
    file = photo_file(sha256)
    file.parent.mkdir(mode=0o700, exist_ok=True)
    os.replace(draft, file)
    sync_folder(file.parent)
    return sha256


def sync_folder(folder: Path) -> None:
    """Make the names in a folder last through a power cut, as its files do."""
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def send_renditions(photo: Photo) -> Errand:
    return errands.send(
        "photo renditions", key=str(photo.pk), payload={"photo": photo.pk}, cause=f"photo {photo.pk}"
    )


def note(what: str, photo: Photo, by: Person | None) -> None:
    Event.objects.note(what, by=by, order=photo.order, photo=photo.pk, of=photo.thing)


@errands.errand("photo renditions", seconds=60, megabytes=600)
def make_renditions(errand: Errand) -> str:
    """Write the three renditions; those that are there already are left as they are."""
    photo = Photo.objects.filter(pk=errand.payload["photo"]).first()
    if photo is None:
        return "The photo was taken away before."
    if not photo.file.exists():
        raise errands.CannotBeDone("The file of this photo is gone from the disk.")
    missing = {size: photo.rendition(size) for size in missing_of(photo.sha256)}
    if missing:
        darkroom.shrink(photo.file, missing)
    with transaction.atomic():
        Photo.objects.filter(pk=photo.pk).update(is_ready=True)
        errand.finish("The photo has its three sizes.")
    return errand.outcome


def open_rendition(photo: Photo, size: int) -> BinaryIO | None:
    """Open a rendition for reading, or return None until it was made. Who may see it is asked before."""
    if size not in SIZES:
        raise ValueError(f"There is no rendition of {size} pixels.")
    try:
        return open(photo.rendition(size), "rb")
    except FileNotFoundError:
        return None


@transaction.atomic
def take_away(photo: Photo, *, by: Person | None) -> None:
    """Remove a photo from what it shows; its files go a few days later, when no backup is reading them."""
    note("photo taken away", photo, by)
    Piece.objects.filter(photo=photo).update(photo=None)
    Cloth.objects.filter(swatch=photo).update(swatch=None)
    photo.delete()


@errands.daily("unused photos", seconds=300, megabytes=300)
def sweep_unused(errand: Errand) -> str:
    """Throw away files that no photo has, once they are older than any backup under way."""
    used = set(Photo.objects.values_list("sha256", flat=True))
    until = time.time() - UNUSED_FOR
    unused = [
        file
        for file in photo_folder().rglob("*.*")
        if file.name[:64] not in used and file.stat().st_mtime < until
    ]
    for file in unused:
        file.unlink(missing_ok=True)
    return f"{len(unused)} files thrown away."

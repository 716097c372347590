"""A photo as it is kept: once however often it is sent, in three sizes, and never by halves."""

import os
import shutil
import subprocess
import time

import pytest
from django.db import IntegrityError, transaction
from django.utils import timezone
from PIL import Image

from orders.background import errands, photos
from orders.models import Event, Photo
from orders.models.photo import SIZES
from tests.orders.pictures import (
    RED,
    close_to,
    drawing,
    files,
    leave_the_sizes_for_later,
    receive,
    saved,
    white_corner,
)

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _empty_disk(settings, tmp_path):
    settings.DATA_DIR = tmp_path


def test_the_same_sending_twice_is_one_photo(twelve_shirts, ada):
    shirt = twelve_shirts[0]
    first = receive(saved(drawing()), client_id="a1-b2", of=shirt, by=ada)
    assert receive(saved(drawing()), client_id="a1-b2", of=shirt, by=ada) == first
    assert receive(saved(drawing(80, 60)), client_id="a1-b2", of=shirt) == first
    assert Event.objects.filter(what="photo received").count() == 1


def test_the_same_bytes_for_the_same_thing_are_one_photo_and_for_another_thing_another(twelve_shirts):
    one, other = twelve_shirts[:2]
    content = saved(drawing())
    first = receive(content, client_id="a", of=one)
    assert receive(content, client_id="b", of=one) == first
    second = receive(content, client_id="c", of=other)
    assert second != first
    assert second.file == first.file
    assert list(one.photos.all()) == [first]


def test_a_sending_for_one_shirt_is_not_taken_for_another(twelve_shirts):
    one, other = twelve_shirts[:2]
    receive(saved(drawing()), client_id="a", of=one)
    with pytest.raises(photos.Refused, match="already sent for something else"):
        receive(saved(drawing(80, 60)), client_id="a", of=other)


def test_two_sendings_at_the_same_moment_are_one_photo(twelve_shirts, monkeypatch):
    first = receive(saved(drawing()), client_id="a", of=twelve_shirts[0])
    real, asked = photos.received_before, []

    def blind_at_first(*given):
        asked.append(given)
        return real(*given) if len(asked) > 1 else None

    monkeypatch.setattr(photos, "received_before", blind_at_first)
    assert receive(saved(drawing()), client_id="a", of=twelve_shirts[0]) == first
    assert len(asked) == 2


def test_a_photo_is_of_one_thing_at_most(twelve_shirts, order):
    photo = receive(saved(drawing()), of=twelve_shirts[0])
    with pytest.raises(IntegrityError), transaction.atomic():
        Photo.objects.filter(pk=photo.pk).update(order=order)
    with pytest.raises(TypeError, match="cannot be of a customer"):
        receive(saved(drawing()), of=order.customer)


def test_with_little_room_left_no_photo_is_taken(settings):
    settings.LEAST_FREE_BYTES = shutil.disk_usage(settings.DATA_DIR).total
    with pytest.raises(photos.NoRoom, match="less than 200 MB left"):
        receive(saved(drawing()))
    assert files() == []


def test_a_disk_that_fills_up_while_the_photo_is_written_leaves_nothing(monkeypatch):
    real = subprocess.run

    def onto_a_full_disk(command, **more):
        return real([*command[:-1], "/dev/full"], **more)

    monkeypatch.setattr(photos.subprocess, "run", onto_a_full_disk)
    with pytest.raises(OSError, match="No space left on device"):
        receive(saved(drawing()))
    assert files() == []
    assert not Photo.objects.exists()


@pytest.fixture
def in_haste(monkeypatch):
    leave_the_sizes_for_later(monkeypatch)


def test_a_photo_has_its_sizes_as_soon_as_it_is_taken_in():
    photo = receive(saved(drawing(2000, 1500)))
    assert photo.is_ready
    assert {Image.open(photo.rendition(size)).width for size in SIZES} == set(SIZES)
    assert len(files()) == 4
    assert not errands.Errand.objects.exists()


def test_the_sizes_are_the_same_whether_they_come_at_once_or_later():
    at_once = [receive(saved(drawing(700, 500))).rendition(size) for size in SIZES]
    before = [file.read_bytes() for file in at_once]
    for file in at_once:
        file.unlink()
    Photo.objects.update(is_ready=False)
    photos.send_renditions(Photo.objects.get())
    errands.run_due()
    assert [file.read_bytes() for file in at_once] == before


def test_three_renditions_are_made_and_nothing_is_enlarged(in_haste):
    photo = receive(saved(drawing(2000, 1500)))
    small = receive(saved(drawing(400, 300)))
    assert not photo.is_ready
    assert photos.open_rendition(photo, 800) is None
    errands.run_due()
    for size, shape in {1600: (1600, 1200), 800: (800, 600), 320: (320, 240)}.items():
        assert photo.shape_at(size) == shape
        with photos.open_rendition(photo, size) as file:
            picture = Image.open(file)
            assert (picture.format, picture.size) == ("JPEG", shape)
            assert close_to(picture.getpixel((shape[0] // 2, shape[1] // 2)), RED)
            assert white_corner(picture) == ["top left"]
    assert Image.open(small.rendition(1600)).size == small.shape_at(1600) == (400, 300)
    photo.refresh_from_db()
    assert photo.is_ready
    with pytest.raises(ValueError, match="no rendition of 500"):
        photos.open_rendition(photo, 500)


@pytest.mark.parametrize("shape", [(1601, 1067), (999, 1333), (4000, 3), (3, 4000)])
def test_the_place_kept_for_a_rendition_has_the_shape_it_then_has(shape):
    photo = receive(saved(drawing(*shape), "PNG"))
    errands.run_due()
    for size in SIZES:
        made = Image.open(photo.rendition(size)).size
        assert all(abs(one - other) <= 1 for one, other in zip(made, photo.shape_at(size), strict=True))


def test_renditions_that_are_there_are_not_made_again(in_haste):
    photo = receive(saved(drawing(400, 300)))
    errands.run_due()
    made = {file: file.stat().st_mtime_ns for file in files()}
    photo.rendition(320).unlink()
    photos.send_renditions(photo).refresh_from_db()
    Photo.objects.update(is_ready=False)
    errand = errands.Errand.objects.get(kind="photo renditions")
    errands.Errand.objects.update(state="waiting", due_at=timezone.now())
    errands.run_due()
    errand.refresh_from_db()
    assert errand.state == "done"
    assert [f for f in files() if f.stat().st_mtime_ns != made[f]] == [photo.rendition(320)]


def test_renditions_of_a_photo_whose_file_is_gone_fail_in_words(in_haste):
    photo = receive(saved(drawing()))
    photo.file.unlink()
    (failed,) = errands.run_due()
    assert (failed.state, failed.outcome) == ("failed", "The file of this photo is gone from the disk.")


def test_a_photo_taken_away_loses_its_files_when_no_backup_can_be_reading_them(twelve_shirts, ada):
    gone = receive(saved(drawing()), of=twelve_shirts[0])
    stays = receive(saved(drawing(80, 60)), of=twelve_shirts[1])
    twelve_shirts[0].pieces.update(photo=gone)
    errands.run_due()
    photos.take_away(gone, by=ada)
    assert twelve_shirts[0].pieces.get().photo is None
    sweep = errands.send("unused photos", key="1")
    assert photos.sweep_unused(sweep) == "0 files thrown away."
    for file in files():
        os.utime(file, times=(time.time() - photos.UNUSED_FOR - 60,) * 2)
    assert photos.sweep_unused(sweep) == "4 files thrown away."
    assert {file.name[:64] for file in files()} == {stays.sha256}
    assert Event.objects.filter(what="photo taken away", by=ada).count() == 1

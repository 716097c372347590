"""A photo as it comes in: upright, without what it tells of place and camera, or refused in words."""

import io
import sys

import numpy as np
import pytest
from PIL import Image, ImageCms

from orders.background import darkroom, errands, photos
from orders.models import Event, Photo
from orders.models.photo import SIZES
from tests.orders.pictures import RED, SIDEWAYS, close_to, drawing, files, kept, receive, saved, white_corner

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _empty_disk(settings, tmp_path):
    settings.DATA_DIR = tmp_path


# Exif 2.32, tag 0x0112: what is the first row and the first column of the scene; turned upright by it.
ORIENTATIONS = {
    1: ("top left", False),
    2: ("top right", False),
    3: ("bottom right", False),
    4: ("bottom left", False),
    5: ("top left", True),
    6: ("top right", True),
    7: ("bottom right", True),
    8: ("bottom left", True),
}


@pytest.mark.parametrize("orientation", ORIENTATIONS)
def test_however_the_camera_was_held_the_photo_is_upright(orientation):
    exif = Image.Exif()
    exif[0x0112] = orientation
    photo = receive(saved(drawing(), exif=exif))
    corner, turned = ORIENTATIONS[orientation]
    assert white_corner(kept(photo)) == [corner]
    assert (photo.width, photo.height) == ((48, 64) if turned else (64, 48)) == kept(photo).size


def test_nothing_tells_where_when_and_with_what_it_was_taken():
    exif = Image.Exif()
    exif[0x010F], exif[0x0132], exif[0x013B] = "Invented", "2027:03:15 10:00:00", "Somebody"
    exif.get_ifd(0x8825)[1] = "N"
    xmp = b'<x:xmpmeta xmlns:x="adobe:ns:meta/">Alder Steps</x:xmpmeta>'
    sent = saved(drawing(), exif=exif, xmp=xmp, comment=b"Alder Steps", dpi=(300, 300))
    assert b"Invented" in sent
    assert sent.count(b"Alder Steps") == 2
    photo = receive(sent)
    errands.run_due()
    for file in files():
        content = file.read_bytes()
        for trace in (b"Exif", b"Invented", b"Somebody", b"Alder Steps", b"http", b"xmp", b"ICC_PROFILE"):
            assert trace not in content
        assert dict(Image.open(file).getexif()) == {}
    assert len(files()) == 1 + len(SIZES)
    assert photo.sent_sha256 != photo.sha256


@pytest.mark.parametrize("form", ["PNG", "WEBP", "JPEG"])
def test_the_usual_kinds_of_picture_are_taken(form):
    picture = kept(receive(saved(drawing(), form)))
    assert picture.format == "JPEG"
    assert close_to(picture.getpixel((32, 24)), RED)


def test_a_photo_from_a_telephone_in_heic_is_taken_upright_and_stripped():
    photo = receive(SIDEWAYS.read_bytes())
    assert (photo.width, photo.height) == (48, 64)
    assert white_corner(kept(photo)) == ["top right"]
    assert close_to(kept(photo).getpixel((24, 32)), RED)
    assert b"Invented" in SIDEWAYS.read_bytes()
    assert b"Invented" not in photo.file.read_bytes()


def test_what_can_be_seen_through_becomes_white():
    clear = drawing().convert("RGBA")
    clear.putalpha(Image.new("L", clear.size, 0))
    assert close_to(kept(receive(saved(clear, "PNG"))).getpixel((32, 24)), (255, 255, 255))


@pytest.mark.parametrize(
    ("mode", "form"), [("CMYK", "JPEG"), ("L", "JPEG"), ("P", "PNG"), ("1", "PNG"), ("I;16", "PNG")]
)
def test_pictures_in_other_inks_and_depths_are_taken(mode, form):
    assert kept(receive(saved(drawing().convert(mode), form))).mode == "RGB"


def test_colors_are_turned_into_those_a_browser_takes_for_granted():
    srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    # A profile in which red and green have changed places: the picture's red is a green to the eye.
    swapped = srgb.replace(b"rXYZ", b"????").replace(b"gXYZ", b"rXYZ").replace(b"????", b"gXYZ")
    pure = Image.new("RGB", (32, 32), (255, 0, 0))
    assert close_to(kept(receive(saved(pure, icc_profile=swapped))).getpixel((9, 9)), (0, 255, 0))
    assert close_to(kept(receive(saved(pure, icc_profile=b"no profile"))).getpixel((9, 9)), (255, 0, 0))


def bomb():
    """Return a small file that unfolds to 400 million pixels."""
    return saved(Image.new("1", (20_000, 20_000)), "PNG")


def large():
    return b"\xff\xd8" + bytes(25 * 1024 * 1024)


BAD = {
    "a renamed text": (lambda: b"12 shirts, two of them torn\n" * 9, "no photo that can be read here"),
    "a renamed drawing": (lambda: b'<svg xmlns="x"><script>alert(1)</script></svg>', "no photo that can be"),
    "a GIF": (lambda: saved(drawing(), "GIF"), "JPEG, PNG, WebP and HEIC can"),
    "a truncated JPEG": (lambda: saved(drawing(640, 480))[:3000], "cut short: part of it did not arrive"),
    "a truncated PNG": (lambda: saved(drawing(640, 480), "PNG")[:600], "cut short|can be read"),
    "a pixel bomb": (bomb, "more than 50 million pixels"),
    "more than 25 MB": (large, "more than 25 MB"),
    "an empty file": (lambda: b"", "empty"),
}


@pytest.mark.parametrize("which", BAD)
def test_what_is_no_usable_photo_is_refused_in_words_and_leaves_nothing(which):
    content, words = BAD[which]
    with pytest.raises(photos.Refused, match=words):
        receive(content())
    assert not Photo.objects.exists()
    assert not Event.objects.exists()
    assert files() == []


def test_fifty_million_pixels_are_taken_and_one_row_more_is_not():
    just = Image.new("1", (10_000, 5_000))
    assert receive(saved(just, "PNG")).width == 10_000
    with pytest.raises(photos.Refused, match="50 million"):
        receive(saved(Image.new("1", (10_000, 5_001)), "PNG"))


def test_broken_pictures_of_every_kind_are_refused_or_taken_and_never_a_fault():
    chance = np.random.default_rng(20270315)
    sound = [saved(drawing(160, 120), form) for form in ("JPEG", "PNG", "WEBP")] + [SIDEWAYS.read_bytes()]
    taken = 0
    for turn in range(600):
        content = bytearray(sound[turn % 4])
        for at in chance.integers(0, len(content), 1 + turn % 8):
            content[at] ^= int(chance.integers(1, 256))
        if turn % 3 == 0:
            del content[int(chance.integers(1, len(content))) :]
        taken += is_taken(bytes(content))
    assert 0 < taken < 600


def is_taken(content):
    """Say whether a picture is taken; any other end than this or a refusal is a fault of ours."""
    try:
        return darkroom.read(io.BytesIO(content)).mode == "RGB"
    except darkroom.Unreadable:
        return False


def test_a_picture_that_kills_its_reader_is_refused_in_words(monkeypatch):
    monkeypatch.setattr(sys, "executable", "/bin/false")
    with pytest.raises(photos.Refused, match="could not be opened in the time and memory"):
        receive(saved(drawing()))
    assert files() == []

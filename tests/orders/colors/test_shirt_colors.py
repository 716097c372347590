"""A shirt's colors are read from its photo in the background, and corrected by what a person taps."""

from __future__ import annotations

import io

import numpy as np
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from orders.background import errands, photos
from orders.bag import intake
from orders.colors import shirt_colors
from orders.colors.looks import palette_of
from orders.models import Event, Photo
from planner.colour import difference, family, srgb_to_lab
from tests.planner.colour.studio import GARMENTS, SOFT, photograph

pytestmark = pytest.mark.django_db
TEE = intake.Said("tee", "front", "plastisol")


@pytest.fixture(autouse=True)
def _empty_disk(settings, tmp_path):
    settings.DATA_DIR = tmp_path


@pytest.fixture
def bag(order):
    return order.bags.get()


def received(image: np.ndarray, ada) -> Photo:
    file = io.BytesIO()
    Image.fromarray(image).save(file, "PNG")
    return photos.receive(SimpleUploadedFile("shirt.png", file.getvalue()), by=ada)


def logged(bag, order, ada, image=None):
    """A shirt logged with its photo; the background has not run."""
    image = photograph(GARMENTS["red"], SOFT, 0).image if image is None else image
    return intake.log_shirt(bag, order, TEE, by=ada, photo=received(image, ada))


def run() -> list[str]:
    """Do what waits, and say how the colors went."""
    return [done.outcome for done in errands.run_due() if done.kind == shirt_colors.KIND]


def test_a_photo_of_a_shirt_gets_its_outline_and_its_palette(bag, order, ada):
    shot = photograph(GARMENTS["red"], SOFT, 0)
    shirt = logged(bag, order, ada, shot.image)
    assert run() == ["The shirt’s colors are read."]
    photo, piece = shirt.photos.get(), shirt.pieces.get()
    assert photo.colors["outline"] > 0.9
    x, y = np.array(photo.colors["polygon"]).T / shirt_colors.WHOLE
    rows, columns = np.nonzero(shot.mask)
    assert (x.min() * 420, y.max() * 520) == pytest.approx((columns.min(), rows.max()), abs=6)
    palette = palette_of(shirt)
    assert difference(palette.ground.lab, shot.ground) < 6
    assert len(palette.prints) == len(shot.prints)
    assert piece.ground == shirt_colors.hex_of(palette.ground.lab)
    assert piece.ground_is_about


def test_the_color_of_the_cloth_is_that_of_the_shirt_and_not_of_a_large_print(bag, order, ada):
    image = np.full((520, 420, 3), (230, 228, 220), np.uint8)
    image[60:480, 60:360] = (190, 40, 50)
    image[140:360, 120:300] = (240, 200, 40)
    shirt = logged(bag, order, ada, image)
    assert (
        family(tuple(map(float, srgb_to_lab(tuple(bytes.fromhex(shirt.pieces.get().ground[1:])))))).name
        == "yellow"
    )
    run()
    assert family(palette_of(shirt).ground.lab).name == "red"
    assert family(palette_of(shirt).prints[0].lab).name == "yellow"


def test_a_color_that_a_person_picked_stays(bag, order, ada):
    shirt = logged(bag, order, ada)
    piece = shirt.pieces.get()
    intake.write_panel(piece, seen=piece.version, by=ada, ground="#123456", ground_is_about=False)
    run()
    piece.refresh_from_db()
    assert piece.ground == "#123456"
    assert difference(palette_of(shirt).ground.lab, srgb_to_lab((0x12, 0x34, 0x56))) < 0.1


def test_one_tap_takes_what_is_not_the_shirt_out_of_its_colors(bag, order, ada):
    image = np.full((300, 400, 3), (225, 222, 215), np.uint8)
    image[60:250, 40:230] = (190, 40, 50)
    image[90:230, 230:360] = (40, 70, 170)
    shirt = logged(bag, order, ada, image)
    run()
    assert len(palette_of(shirt).prints) == 1
    shirt_colors.tap(shirt.photos.get(), "other", (7500, 5300), by=ada)
    run()
    assert palette_of(shirt).prints == ()
    assert Event.objects.filter(what="tapped on a photo").count() == 1


def test_a_tapped_paper_makes_the_color_right_and_sure(bag, order, ada):
    shot = photograph(GARMENTS["sky"], SOFT, 1)
    yellow = np.clip(shot.image * np.array([1.0, 0.9, 0.72]), 0, 255).astype(np.uint8)
    shirt = logged(bag, order, ada, yellow)
    run()
    before = palette_of(shirt)
    at = round(30.5 / 420 * shirt_colors.WHOLE), round(24.5 / 520 * shirt_colors.WHOLE)
    shirt_colors.tap(shirt.photos.get(), "paper", at, by=ada)
    run()
    after = palette_of(shirt)
    assert difference(after.ground.lab, shot.ground) < 2 < difference(before.ground.lab, shot.ground)
    assert after.confidence > before.confidence


def test_a_neutral_tapped_on_a_color_changes_nothing_and_says_why(bag, order, ada):
    shirt = logged(bag, order, ada)
    run()
    before = palette_of(shirt)
    shirt_colors.tap(shirt.photos.get(), "card", (5000, 3000), by=ada)
    run()
    after = palette_of(shirt)
    assert after.ground == before.ground
    assert "is a color, not white or gray" in after.notes[0]


def test_taps_can_be_taken_back(bag, order, ada):
    shirt = logged(bag, order, ada)
    run()
    before = palette_of(shirt)
    shirt_colors.tap(shirt.photos.get(), "other", (5000, 5000), by=ada)
    run()
    shirt_colors.forget_taps(shirt.photos.get(), by=ada)
    assert not shirt_colors.is_tapped(shirt.photos.get())
    run()
    assert palette_of(shirt) == before
    shirt_colors.forget_taps(shirt.photos.get(), by=ada)
    assert run() == []


def test_the_same_tap_twice_is_one_and_there_is_an_end_to_them(bag, order, ada):
    photo = logged(bag, order, ada).photos.get()
    for _ in range(2):
        shirt_colors.tap(photo, "shirt", (5000, 5000), by=ada)
    photo.refresh_from_db()
    assert photo.taps == {"shirt": [[5000, 5000]], "count": 1}
    for x in range(shirt_colors.MOST_TAPS - 1):
        shirt_colors.tap(photo, "shirt", (x, 1), by=ada)
    with pytest.raises(ValueError, match="help no more"):
        shirt_colors.tap(photo, "shirt", (1, 9000), by=ada)


def test_what_was_tapped_on_while_it_was_read_is_read_once_more(bag, order, ada):
    shirt = logged(bag, order, ada)
    shirt_colors.tap(shirt.photos.get(), "shirt", (5000, 5000), by=ada)
    assert run() == ["It was tapped on since.", "The shirt’s colors are read."]
    assert shirt.photos.get().colors["taps"]["shirt"] == [[5000, 5000]]


def test_a_photo_that_is_gone_is_no_trouble(bag, order, ada):
    shirt = logged(bag, order, ada)
    photos.take_away(shirt.photos.get(), by=ada)
    assert run() == ["The photo was taken away before."]
    other = logged(bag, order, ada, photograph(GARMENTS["teal"], SOFT, 1).image)
    other.photos.get().file.unlink()
    assert run() == ["The file of this photo is gone from the disk."]


def test_the_background_reads_a_photo_only_of_a_shirt(order, ada):
    photo = received(photograph(GARMENTS["red"], SOFT, 0).image, ada)
    assert shirt_colors.send_colors(photo) is None


def test_a_second_photo_gives_its_colors_to_the_panel_that_waited_for_it(bag, order, ada):
    both = intake.Said("tee", "both", "vinyl")
    front = received(photograph(GARMENTS["red"], SOFT, 0).image, ada)
    shirt = intake.log_shirt(bag, order, both, by=ada, photo=front)
    back = received(photograph(GARMENTS["red"], SOFT, 1).image, ada)
    Photo.objects.filter(pk=back.pk).update(shirt=shirt)
    back.refresh_from_db()
    intake.show_panels_on(back, shirt)
    assert len(run()) == 2
    assert all(piece.palette for piece in shirt.pieces.all())

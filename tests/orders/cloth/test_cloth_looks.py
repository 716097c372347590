"""The look of a cloth: described once for each swatch, kept, and read back as it was."""

from __future__ import annotations

import numpy as np
import pytest
from PIL import Image

from orders.background import errands
from orders.cloth import cloth_looks, cloth_shelf
from orders.models import Cloth
from orders.models.errand import Errand
from planner.units import INCH, YARD
from tests.orders.pictures import receive, saved
from tests.planner.colour import swatches

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _empty_disk(settings, tmp_path):
    settings.DATA_DIR = tmp_path


def photo_of(picture):
    return receive(saved(Image.fromarray(picture)))


@pytest.fixture
def dotted(shop, ada):
    """Return a cloth whose photo shows dots an inch apart over 15 inches."""
    picture = swatches.dots((40, 160, 150), (250, 250, 245), step=40, radius=10)
    facts = {"name": "Dots", "usable": 40 * INCH, "step": YARD // 8, "shows": 15 * INCH}
    return cloth_shelf.add_cloth(by=ada, photo=photo_of(picture), **facts)


def described():
    errands.run_due()
    return cloth_looks.look_of(Cloth.objects.get())


def test_a_swatch_is_described_with_the_scale_that_its_ruler_gives(dotted):
    look = described()
    assert look.kind == "blender"
    assert look.scale == pytest.approx(1.0, abs=0.1)
    words = cloth_looks.in_words(Cloth.objects.get(), unit="in").replace("\N{NO-BREAK SPACE}", " ")
    assert "about 1 in from motif to motif" in words


def test_a_look_is_kept_and_read_back_as_it_was(dotted):
    look = described()
    assert cloth_looks.from_record(cloth_looks.as_record(look)) == look


def test_until_it_is_described_its_main_color_counts_as_a_solid(dotted):
    look = cloth_looks.look_of(dotted)
    assert (look.kind, look.palette.prints) == ("solid", ())
    assert look.palette.confidence < 0.5


def test_another_photo_is_another_look_and_the_old_errand_changes_nothing(dotted, ada):
    cloth_shelf.write_cloth(dotted, seen=1, by=ada, photo=photo_of(swatches.solid((31, 42, 77))))
    assert described().kind == "solid"
    assert "It shows another photo by now." in Errand.objects.values_list("outcome", flat=True)


def test_a_corrected_ruler_describes_it_again(dotted, ada):
    errands.run_due()
    cloth_shelf.write_cloth(Cloth.objects.get(), seen=1, by=ada, shows=30 * INCH)
    assert described().scale == pytest.approx(2.0, abs=0.2)


def test_other_facts_ask_for_no_new_look(dotted, ada):
    errands.run_due()
    cloth_shelf.write_cloth(Cloth.objects.get(), seen=1, by=ada, lot="62")
    assert Errand.objects.filter(kind="cloth look").count() == 1


def test_a_cloth_without_photo_and_color_has_no_look(shop):
    bare = Cloth.objects.create(name="Bare", usable=40 * INCH, step=YARD // 8)
    assert cloth_looks.look_of(bare) is None
    assert cloth_looks.send_look(bare) is None


def test_a_photo_gone_from_the_disk_is_said(dotted):
    dotted.swatch.file.unlink()
    errands.run_due()
    found = Errand.objects.get(kind="cloth look")
    assert "gone from the disk" in found.outcome


def test_the_pixels_looked_at_are_few(dotted):
    large = np.zeros((2400, 1800, 3), np.uint8) + 90
    assert cloth_looks.look_in(photo_of(large), shows=None).kind == "solid"

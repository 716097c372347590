"""The page of a shirt's colors in a real browser: it can be read, and a tap lands where it was made."""

from __future__ import annotations

import io

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from orders.background import errands, photos
from orders.bag import intake
from tests.pages.demo_tour import sign_in
from tests.pages.looking import faults_of
from tests.planner.colour.studio import GARMENTS, SOFT, photograph

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def shirt(settings, tmp_path, order, ada):
    """A shirt whose colors are read."""
    settings.DATA_DIR = tmp_path
    file = io.BytesIO()
    Image.fromarray(photograph(GARMENTS["royal"], SOFT, 1).image).save(file, "PNG")
    photo = photos.receive(SimpleUploadedFile("shirt.png", file.getvalue()), by=ada)
    said = intake.Said("tee", "front", "vinyl")
    shirt = intake.log_shirt(order.bags.get(), order, said, by=ada, photo=photo)
    errands.run_due()
    return shirt


def test_the_colors_can_be_read_and_a_tap_lands_where_it_was_made(
    page, live_server, client, order, bo, shirt
):
    sign_in(page, live_server, client, bo)
    address = f"{live_server.url}/quilts/{order.number}/shirts/{shirt.number}/"
    for width, high in ((390, 844), (1280, 900)):
        page.set_viewport_size({"width": width, "height": high})
        for place in ("", "panels/front/colors/"):
            page.goto(address + place)
            assert list(faults_of(page, width)) == []
    picture = page.locator("input[type=image]:visible")
    box = picture.bounding_box()
    picture.click(position={"x": box["width"] * 0.75, "y": box["height"] * 0.1})
    page.wait_for_url("**/colors/?what=other")
    photo = shirt.photos.get()
    assert photo.taps["other"][0] == pytest.approx([7500, 1000], abs=60)
    errands.run_due()
    page.get_by_text("Being read").wait_for(state="detached")  # it looks again by itself
    assert photo.taps == shirt.photos.get().colors["taps"]

"""The pile that is asked about, in a real browser: whatever shape a photo has, its tile keeps its own."""

from __future__ import annotations

import pytest

from orders.models import Piece
from tests.orders.photo_files import put_photo
from tests.orders.pictures import drawing
from tests.pages.demo_tour import sign_in

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.slow]
SHAPES = """() => [...document.querySelectorAll(".pile-tiles .tile-photo")].map(tile => {
  const { width, height } = tile.getBoundingClientRect();
  return [Math.round(width), Math.round(height)];
})"""


@pytest.mark.parametrize("width", [390, 1280])
def test_a_photo_as_high_as_a_telephone_grows_out_of_no_tile(
    page, live_server, client, drawn, twelve_shirts, ada, settings, tmp_path, width
):
    settings.DATA_DIR = tmp_path
    for number, shape in ((2, (360, 800)), (3, (800, 360))):
        shirt = twelve_shirts[number]
        Piece.objects.filter(shirt=shirt).update(photo=put_photo(drawing(*shape), shirt=shirt))
    sign_in(page, live_server, client, ada)
    page.set_viewport_size({"width": width, "height": 900})
    page.goto(f"{live_server.url}/quilts/{drawn.number}/bag/yes/")
    page.evaluate("document.querySelectorAll('img[loading]').forEach(each => { each.loading = 'eager' })")
    page.wait_for_function("[...document.images].every(each => each.naturalWidth)")
    shapes = page.evaluate(SHAPES)
    assert len(shapes) == 12
    assert len({tuple(each) for each in shapes}) == 1

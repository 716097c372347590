"""What every journey starts from: an empty shop that can be reached, and a page at one width."""

from __future__ import annotations

import pytest

from tests.conftest import ROOT
from tests.journeys.hands import Hands

HEIC = ROOT / "tests" / "data" / "sideways.heic"
TALL = {390: 844, 1280: 800}


@pytest.fixture(autouse=True)
def _folder_of_its_own(settings, tmp_path):
    settings.DATA_DIR = tmp_path


@pytest.fixture(scope="session")
def photos_of_shirts(tmp_path_factory):
    """Return files as a phone has them: four drawn shirts as JPEG, and a HEIC that lies on its side."""
    from orders.demo import drawing
    from orders.demo.looks import ShirtLook

    folder = tmp_path_factory.mktemp("phone")
    looks = [
        ShirtLook(ground="#1F2A4D", words=("FERNCLIFF",), number="12"),
        ShirtLook(ground="#A8402F", motif="sun"),
        ShirtLook(kind="sweatshirt", ground="#4F6B57", words=("ROWERS",), ground_on="bed"),
        ShirtLook(ground="#E2A71E", words=("CHOIR",), ground_on="floor"),
    ]
    files = []
    for number, look in enumerate(looks, start=1):
        file = folder / f"shirt-{number}.jpg"
        drawing.shirt_photo(look, seed=number).image.resize((900, 1200)).save(file, quality=85)
        files.append(str(file))
    return [*files, str(HEIC)]


@pytest.fixture
def hands(page, live_server):
    return Hands(page, live_server.url)

"""A shop in a folder of its own, with photos and a paper."""

import pytest

from orders.background import errands
from tests.orders.pictures import drawing, receive, saved


@pytest.fixture(autouse=True)
def shop_folder(settings, tmp_path):
    settings.DATA_DIR = tmp_path / "shop"
    settings.DATA_DIR.mkdir()


@pytest.fixture
def place(tmp_path):
    """Return an empty place."""
    (tmp_path / "elsewhere").mkdir()
    return tmp_path / "elsewhere"


@pytest.fixture
def stick(tmp_path):
    """Return where a backup goes."""
    return tmp_path / "shop.zip"


@pytest.fixture
def photos(twelve_shirts, ada, settings):
    """Return three photos with their renditions; a paper lies on the disk beside them."""
    taken = [
        receive(saved(drawing(400 + side, 300)), of=shirt, by=ada)
        for side, shirt in enumerate(twelve_shirts[:3])
    ]
    errands.run_due()
    paper = settings.DATA_DIR / "papers" / "7.pdf"
    paper.parent.mkdir(parents=True, exist_ok=True)
    paper.write_bytes(b"%PDF-1.7 of a quote")
    return taken

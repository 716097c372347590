"""Everything of one customer in one file, for a week; and what of theirs may be shown."""

import json
import zipfile

import pytest

from orders.background import errands
from orders.customer.showing import showing_of
from orders.keep import taken
from orders.models import (
    Customer,
)
from tests.orders.customer.test_forgetting import HERS, forget

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def shop_folder(settings, tmp_path):
    settings.DATA_DIR = tmp_path / "shop"
    settings.DATA_DIR.mkdir()


def test_everything_of_one_customer_is_in_one_file_and_nothing_of_another(hers, ada, order, aunt, settings):
    made = taken.ask_for_one(hers, by=ada)
    assert taken.ask_for_one(hers, by=ada) == made
    errands.run_due()
    with zipfile.ZipFile(taken.file_for(made)) as zipped:
        kept = json.loads(zipped.read("everything.json"))
        names = zipped.namelist()
    text = json.dumps(kept, ensure_ascii=False)
    assert all(word in text for word in HERS)
    assert "aunt of Ferncliff" not in text
    assert "aunt’s surprise" not in text
    assert len([name for name in names if name.startswith("photographs/")]) == 2
    assert [row["minor"] for row in kept["postings"]] == [9000, 9000, 500]
    assert taken.file_for(made).stat().st_mode & 0o077 == 0


def test_a_file_made_before_goes_when_she_is_forgotten(hers, ada):
    made = taken.ask_for_one(hers, by=ada)
    errands.run_due()
    assert taken.file_for(made).is_file()
    forget(hers, ada)
    assert not taken.file_for(made).exists()
    assert not list(taken.folder().glob("*"))


def test_a_file_is_kept_for_a_week(hers, ada):
    import os
    import time

    made = taken.ask_for_shop(by=ada)
    errands.run_due()
    taken.let_old_ones_go(made)
    assert taken.made_for_shop() == [made]
    week_ago = time.time() - 8 * 24 * 3600
    os.utime(taken.file_for(made), (week_ago, week_ago))
    taken.let_old_ones_go(made)
    assert taken.made_for_shop() == []


def test_nothing_is_shown_unless_said_and_nothing_before_its_day(hers, shop):
    from datetime import timedelta

    today = shop.today()
    assert not Customer(name="New").may_show_pictures
    assert not Customer(name="New").may_show_names
    assert showing_of(hers, on=today).may
    assert not showing_of(hers, on=today).names
    hers.keep_quiet_until = today + timedelta(days=3)
    hers.orders.update(secret_until=today + timedelta(days=5))
    showing = showing_of(hers, on=today)
    assert (showing.may, showing.not_before) == (False, today + timedelta(days=5))
    assert not showing_of(hers, on=today + timedelta(days=4)).may
    assert showing_of(hers, on=today + timedelta(days=5)).may
    hers.may_show_pictures = False
    assert not showing_of(hers, on=today + timedelta(days=9)).may

"""The backups a shop makes by itself: one a day and one before each update, fourteen of them kept."""

import pytest
from django.db import connection
from django.db.migrations.recorder import MigrationRecorder
from django.utils import timezone

from orders.background import errands
from orders.keep import backup, restore
from orders.keep.archive import Damaged
from orders.management.commands import serve
from orders.models import Errand, Paper
from orders.papers.press import file_of
from tests.orders.shop_folder import everything, hashes

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.in_a_file]


def test_the_shop_backs_itself_up_and_shares_its_photos_among_backups(photos, place, settings):
    own = backup.back_up_by_itself()
    assert own.path.parent == settings.DATA_DIR / "backups"
    assert own.path.stat().st_size < 300_000
    twin = settings.DATA_DIR / "backups" / "photos" / photos[0].sha256[:2] / photos[0].file.name
    assert twin.samefile(photos[0].file)
    restore.restore(own.path, place)
    assert hashes(place) == hashes(settings.DATA_DIR)
    assert timezone.now() - backup.last_good() < timezone.timedelta(minutes=1)


def test_a_paper_is_in_each_backup_as_it_was_then(order, ada, place):
    file = file_of(Paper.objects.create(kind="hand over", number=7, order=order, made_of={}, made_by=ada))
    file.parent.mkdir(exist_ok=True)
    file.write_bytes(b"%PDF with a name")
    first = backup.back_up_by_itself()
    file.unlink()
    file.write_bytes(b"%PDF without it")
    first = first.path.rename(first.path.with_name("2027-01-01-030000.zip"))
    second = backup.back_up_by_itself().path
    for archive, words in ((first, b"%PDF with a name"), (second, b"%PDF without it")):
        there = place / archive.stem
        there.mkdir()
        restore.restore(archive, there)
        assert (there / "papers" / file.name).read_bytes() == words


def test_a_photo_missing_beside_a_backup_is_named(photos, place, settings):
    own = backup.back_up_by_itself()
    (settings.DATA_DIR / "backups" / "photos" / photos[0].sha256[:2] / photos[0].file.name).unlink()
    with pytest.raises(Damaged, match=rf"{photos[0].sha256}.*is not there"):
        restore.restore(own.path, place)
    assert everything(place) == []


def test_the_newest_fourteen_are_kept_and_only_the_photos_they_name(photos, settings):
    folder = settings.DATA_DIR / "backups"
    first = backup.back_up_by_itself().path
    first.rename(folder / "2027-01-01-030000.zip")
    for file in photos[0].file.parent.glob(f"{photos[0].sha256}*"):
        file.unlink()
    second = backup.back_up_by_itself().path.rename(folder / "2027-01-02-030000.zip").read_bytes()
    for day in range(3, 16):
        (folder / f"2027-01-{day:02}-030000.zip").write_bytes(second)
    backup.drop_older(folder)
    assert [file.name[:10] for file in backup.own_backups()] == [f"2027-01-{day:02}" for day in range(2, 16)]
    kept = {file.name for file in (folder / "photos").rglob("*.jpg")}
    assert not any(photos[0].sha256 in name for name in kept)
    assert len(kept) == 8


def test_with_little_room_left_the_shop_makes_no_backup_and_says_so(settings):
    settings.LEAST_FREE_BYTES = 10**18
    errands.send("daily backup", key="2027-03-15")
    (failed,) = errands.run_due()
    assert failed.state == "failed"
    assert "less than 200 MB left" in failed.outcome
    assert backup.last_good() is None


def test_the_daily_errand_backs_up(photos):
    sent = errands.send("daily backup", key="2027-03-15")
    errands.run_due()
    assert "holds 13 photos and papers and all records" in Errand.objects.get(pk=sent.pk).outcome
    assert len(backup.own_backups()) == 1


def test_an_update_is_due_only_for_records_that_lack_a_migration():
    assert not serve.update_is_due()
    recorder = MigrationRecorder(connection)
    recorder.record_unapplied("orders", "0003_guards")
    try:
        assert serve.update_is_due()
    finally:
        recorder.record_applied("orders", "0003_guards")

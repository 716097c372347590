"""A backup is the shop as it was at one moment, and goes back only when every byte of it is right."""

import json
import random
import sqlite3
import threading
import zipfile
from contextlib import closing

import pytest
from django.core.management import CommandError, call_command
from django.db import connection
from django.db.migrations.recorder import MigrationRecorder

from orders.background import errands
from orders.keep import backup, restore
from orders.keep.archive import MANIFEST, Damaged, read_archive
from orders.models import Event, Mail, Photo
from tests.orders.shop_folder import everything, hashes, rows

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.in_a_file]


def test_what_is_restored_equals_what_was_backed_up(photos, stick, place, settings):
    backup.back_up(stick)
    restore.restore(stick, place)
    assert rows(place / "shop.sqlite3") == rows(connection.settings_dict["NAME"])
    assert hashes(place) == hashes(settings.DATA_DIR)
    assert len(hashes(place)) == 3 * 4 + 1
    assert {photo.sha256 for photo in Photo.objects.all()} <= set(hashes(place).values())
    assert [path.name for path in sorted(place.iterdir())] == ["papers", "photos", "shop.sqlite3"]


def test_a_mail_that_waited_may_have_gone_since_and_goes_only_by_another_tap(order, ada, stick, place):
    for number, state in enumerate(Mail.State.values):
        about = {"order": order, "kind": "ready", "to": "the aunt", "address": "aunt@example.org"}
        Mail.objects.create(
            **about, subject="Ready", words="It is ready.", key=str(number), state=state, by=ada
        )
    backup.back_up(stick)
    restore.restore(stick, place)
    with closing(sqlite3.connect(place / "shop.sqlite3")) as records:
        states = [state for (state,) in records.execute("SELECT state FROM orders_mail ORDER BY key")]
    assert states == ["unsure", "unsure", "sent", "unsure", "refused", "taken back"]


@pytest.mark.slow
def test_a_backup_under_write_load_is_of_one_moment(photos, stick, place):
    """Each writer adds an event and a matching errand in one transaction: at any moment there are as many."""
    until, written = threading.Event(), []

    def write():
        while not until.is_set():
            from django.db import transaction

            with transaction.atomic():
                event = Event.objects.note("written under load", by=None)
                errands.send("load", key=str(event.pk))
            written.append(event.pk)
        connection.close()

    writers = [threading.Thread(target=write) for _ in range(3)]
    for writer in writers:
        writer.start()
    try:
        for turn in range(5):
            before = len(written)
            target = stick.with_name(f"{turn}.zip")
            backup.back_up(target)
            folder = place / str(turn)
            folder.mkdir()
            restore.restore(target, folder)
            kept = rows(folder / "shop.sqlite3")
            events = [row for row in kept["orders_event"] if "written under load" in row]
            sent = [row for row in kept["orders_errand"] if "'load: " in row]
            assert len(events) == len(sent) >= before
    finally:
        until.set()
        for writer in writers:
            writer.join()
    assert len(written) > 20


def test_what_was_written_after_it_is_not_in_it(photos, stick, place):
    backup.back_up(stick)
    Event.objects.note("too late", by=None)
    restore.restore(stick, place)
    assert not [row for row in rows(place / "shop.sqlite3")["orders_event"] if "too late" in row]


def test_a_backup_never_replaces_another(stick):
    stick.write_bytes(b"the only copy")
    with pytest.raises(backup.NoBackup, match="is there already"):
        backup.back_up(stick)
    assert stick.read_bytes() == b"the only copy"


def test_a_backup_that_breaks_off_leaves_nothing_under_its_name(photos, stick, monkeypatch):
    def full(path):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("orders.keep.archive.seal", full)
    with pytest.raises(CommandError, match="No backup was made: No space left on device"):
        call_command("backup", str(stick))
    assert [file for file in stick.parent.iterdir() if file.is_file()] == []


@pytest.mark.parametrize("left", [0, 10, 64, 65, 500, 0.3, 0.9, 0.9999, -1])
def test_an_archive_that_is_cut_short_is_named_and_nothing_is_touched(photos, stick, place, left):
    backup.back_up(stick)
    whole = stick.read_bytes()
    stick.write_bytes(whole[: int(left * len(whole)) if isinstance(left, float) else left])
    with pytest.raises(Damaged, match=r"shop\.zip was cut short or changed"):
        restore.restore(stick, place)
    assert everything(place) == []


def test_one_flipped_bit_anywhere_is_found_and_nothing_is_touched(photos, stick, place):
    backup.back_up(stick)
    whole = stick.read_bytes()
    chance = random.Random(20270315)
    edges = [0, 1, len(whole) - 1, len(whole) - 64, len(whole) - 65, len(whole) - 70]
    for at in edges + [chance.randrange(len(whole)) for _ in range(60)]:
        changed = bytearray(whole)
        changed[at] ^= 1 << chance.randrange(8)
        stick.write_bytes(changed)
        with pytest.raises(Damaged, match=r"shop\.zip"):
            restore.restore(stick, place)
        assert everything(place) == []


def test_the_photo_that_was_changed_is_named(photos, stick):
    backup.back_up(stick)
    with zipfile.ZipFile(stick) as zipped:
        entry = zipped.getinfo(f"photos/{photos[0].sha256[:2]}/{photos[0].sha256}.jpg")
    changed = bytearray(stick.read_bytes())
    changed[entry.header_offset + 300] ^= 1
    stick.write_bytes(changed)
    with pytest.raises(Damaged, match=photos[0].sha256):
        read_archive(stick)


@pytest.mark.parametrize("taken", ["shop.sqlite3", "photos/ab/x.jpg"])
def test_a_backup_goes_into_an_empty_place_only(photos, stick, place, taken):
    backup.back_up(stick)
    (place / taken).parent.mkdir(parents=True, exist_ok=True)
    (place / taken).write_bytes(b"another shop")
    with pytest.raises(restore.NotRestored, match="already holds"):
        restore.restore(stick, place)
    assert (place / taken).read_bytes() == b"another shop"
    assert len([path for path in everything(place) if path.is_file()]) == 1


def test_a_backup_of_a_newer_version_is_refused_before_anything_is_in_place(photos, stick, place):
    MigrationRecorder(connection).record_applied("orders", "0999_tomorrow")
    try:
        backup.back_up(stick)
    finally:
        MigrationRecorder(connection).record_unapplied("orders", "0999_tomorrow")
    with pytest.raises(restore.NotRestored, match=r"newer version .0999_tomorrow"):
        restore.restore(stick, place)
    assert everything(place) == []


def test_an_archive_with_names_that_lead_elsewhere_is_refused(stick, place):
    with zipfile.ZipFile(stick, "w") as zipped:
        zipped.writestr("../../evil", b"x")
        manifest = {"format": 1, "files": {"../../evil": "0" * 64}, "beside": {}, "rows": {}}
        zipped.writestr(MANIFEST, json.dumps(manifest))
        zipped.comment = b"0" * 64
    from orders.keep.archive import seal

    seal(stick)
    with pytest.raises(Damaged, match="belongs to no shop"):
        restore.restore(stick, place)


def test_a_photo_that_the_disk_has_lost_or_spoiled_is_said(photos, stick, capsys):
    photos[0].file.unlink()
    photos[1].file.write_bytes(b"half a photo")
    call_command("backup", str(stick))
    said = capsys.readouterr().err
    assert photos[0].sha256 in said
    assert photos[1].sha256 in said
    assert photos[2].sha256 not in said


def test_the_commands_say_what_they_did(photos, stick, place, settings, capsys):
    call_command("backup", str(stick))
    settings.DATA_DIR = place
    call_command("restore", str(stick))
    said = capsys.readouterr().out
    assert "13 files of photos and papers, sealed." in said
    assert "every hash as it was." in said
    with pytest.raises(CommandError, match="Nothing was changed in"):
        call_command("restore", str(stick))

"""A whole shop goes into one file that others can read, and comes back with every hash as it was."""

import csv
import io
import json
import zipfile
from datetime import timedelta

import icalendar
import pytest
import vobject
from django.db import connection, transaction

from orders import guards
from orders.account.sealing import last_seal, verify_ledger
from orders.background import errands
from orders.keep import bringing_in
from orders.keep.rows import kinds, name_of
from orders.keep.taking_along import hash_of_rows, take_along
from orders.models import Account, Customer, Entry, Order, Person, Photo, Shop
from tests.orders.pictures import drawing, receive, saved
from tests.orders.shop_folder import hashes
from tests.records import let_keys_wait

pytestmark = pytest.mark.django_db
WILD = '=HYPERLINK("http://x.invalid","a");\\,\r\nBEGIN:VCARD\x0b\x85\u202e שלום <b>&amp;'


@pytest.fixture(autouse=True)
def shop_folder(settings, tmp_path):
    settings.DATA_DIR = tmp_path / "shop"
    settings.DATA_DIR.mkdir()


@pytest.fixture
def full(shop, order, twelve_shirts, ada, aunt):
    """Return the shop with a payment, a photograph, a paper, and a customer with wild words."""
    receive(saved(drawing(400, 300)), of=twelve_shirts[0], by=ada)
    Entry.objects.record(
        key="paid", kind="payment", legs=[(Account.OWED, Account.CASH, 5000)], by=ada, order=order,
        payer=aunt, method="cash", words="cash", currency="USD", day=shop.today(),
    )  # fmt: skip
    Customer.objects.create(
        name=WILD, email="wild@example.invalid", phone="+1 555 0100", address="Elm 1\nTown"
    )
    errands.run_due()
    return shop


@pytest.fixture
def made(full, tmp_path):
    target = tmp_path / "shop.zip"
    take_along(target)
    return target


def emptied():
    """Empty every table, as in a place that was never opened."""
    with transaction.atomic():
        guards.remove(connection)
        let_keys_wait()
        with connection.cursor() as cursor:
            for kind in kinds():
                cursor.execute(f'DELETE FROM "{kind._meta.db_table}"')
        guards.install(connection)


def read(path, name):
    with zipfile.ZipFile(path) as zipped:
        return zipped.read(name).decode()


def test_what_comes_back_has_every_hash_seal_and_photograph_as_it_was(made, settings, tmp_path):
    before = {name_of(kind): hash_of_rows(kind) for kind in kinds()}
    seal, files, photo = last_seal(), hashes(settings.DATA_DIR), Photo.objects.get().sha256
    emptied()
    assert not Shop.objects.exists()
    settings.DATA_DIR = tmp_path / "moved"
    settings.DATA_DIR.mkdir()
    about = bringing_in.bring_in(made, settings.DATA_DIR)
    assert {name_of(kind): hash_of_rows(kind) for kind in kinds()} == before
    assert (last_seal(), verify_ledger()) == (seal, ())
    assert hashes(settings.DATA_DIR) == files
    assert photo in hashes(settings.DATA_DIR).values()
    assert about["counts"]["shirt"] == 12
    settings.SECRET_KEY = "that of another place"
    assert take_along(tmp_path / "again.zip")["files"] == about["files"]


def test_the_guards_stand_again_after_it(made, settings, tmp_path):
    emptied()
    settings.DATA_DIR = tmp_path / "moved"
    settings.DATA_DIR.mkdir()
    bringing_in.bring_in(made, settings.DATA_DIR)
    with pytest.raises(Exception, match="Money that is written down stays"), transaction.atomic():
        Entry.objects.update(words="other words")


def test_no_password_leaves_the_shop(made, ada):
    assert "password" not in read(made, "json/person.json")
    with zipfile.ZipFile(made) as zipped:
        assert not any(ada.password.encode() in zipped.read(name) for name in zipped.namelist())


def test_a_place_that_holds_a_shop_is_refused(made, settings):
    with pytest.raises(bringing_in.NotBroughtIn, match="already holds a shop"):
        bringing_in.bring_in(made, settings.DATA_DIR)


@pytest.mark.parametrize("name", ["json/entry.json", "json/customer.json", "photo"])
def test_one_changed_byte_brings_nothing_in(made, settings, tmp_path, name):
    wrong = tmp_path / "wrong.zip"
    with zipfile.ZipFile(made) as zipped, zipfile.ZipFile(wrong, "w") as out:
        for each in zipped.namelist():
            content = bytearray(zipped.read(each))
            if each.startswith(name):
                content[-3] ^= 1
            out.writestr(each, bytes(content))
    emptied()
    settings.DATA_DIR = tmp_path / "moved"
    settings.DATA_DIR.mkdir()
    with pytest.raises(bringing_in.NotBroughtIn, match="not as it was written"):
        bringing_in.bring_in(wrong, settings.DATA_DIR)
    assert not Shop.objects.exists()
    assert not Person.objects.exists()
    assert list(settings.DATA_DIR.iterdir()) == []


def test_rows_that_were_altered_with_their_hash_break_the_seal(made, settings, tmp_path):
    """Whoever changes an amount can write its new hash too, but not the seal."""
    import hashlib

    wrong = tmp_path / "wrong.zip"
    with zipfile.ZipFile(made) as zipped, zipfile.ZipFile(wrong, "w") as out:
        about = json.loads(zipped.read("about.json"))
        for each in zipped.namelist():
            content = zipped.read(each)
            if each == "json/posting.json":
                content = content.replace(b'"minor": 5000', b'"minor": 5001')
                about["files"][each] = hashlib.sha256(content).hexdigest()
            if each != "about.json":
                out.writestr(each, content)
        out.writestr("about.json", json.dumps(about))
    emptied()
    settings.DATA_DIR = tmp_path / "moved"
    settings.DATA_DIR.mkdir()
    with pytest.raises(bringing_in.NotBroughtIn, match="seal 1"):
        bringing_in.bring_in(wrong, settings.DATA_DIR)
    assert not Entry.objects.exists()


@pytest.mark.parametrize("junk", [b"", b"PK", b"no zip at all", b"PK\x05\x06" + b"\0" * 18])
def test_what_is_no_file_of_a_shop_is_refused_in_words(tmp_path, settings, junk):
    path = tmp_path / "junk.zip"
    path.write_bytes(junk)
    with pytest.raises(bringing_in.NotBroughtIn):
        bringing_in.bring_in(path, settings.DATA_DIR)


def test_a_name_that_leads_out_of_the_place_is_refused(made, settings, tmp_path):
    wrong = tmp_path / "wrong.zip"
    with zipfile.ZipFile(made) as zipped, zipfile.ZipFile(wrong, "w") as out:
        about = json.loads(zipped.read("about.json"))
        about["files"]["photos/../../evil.jpg"] = "0" * 64
        for each in zipped.namelist():
            if each != "about.json":
                out.writestr(each, zipped.read(each))
        out.writestr("about.json", json.dumps(about))
    emptied()
    settings.DATA_DIR = tmp_path / "moved"
    settings.DATA_DIR.mkdir()
    with pytest.raises(bringing_in.NotBroughtIn, match="belongs to no shop"):
        bringing_in.bring_in(wrong, settings.DATA_DIR)


def test_cards_are_read_by_another_program(made):
    """vCard 4.0 as vobject 0.9 reads it (RFC 6350): names, reach and address come back."""
    text = read(made, "customers.vcf")
    assert all(len(line.encode()) <= 75 for line in text.split("\r\n"))
    assert "\n" not in text.replace("\r\n", "")
    assert "\r" not in text.replace("\r\n", "")
    cards = list(vobject.readComponents(text))
    assert [card.version.value for card in cards] == ["4.0", "4.0"]
    assert next(card.fn.value for card in cards) == "An aunt of Ferncliff"
    assert cards[0].tel.value == "555 0131"
    told = cards[1].fn.value
    assert told.startswith('=HYPERLINK("http://x.invalid","a");\\,\nBEGIN:VCARD')
    assert "שלום <b>&amp;" in told
    assert (cards[1].email.value, cards[1].tel.value) == ("wild@example.invalid", "+1 555 0100")
    assert "Elm 1" in str(cards[1].adr.value)
    assert "Town" in str(cards[1].adr.value)


def test_dates_are_read_by_another_program(made, order):
    """iCalendar as icalendar 7 reads it (RFC 5545)."""
    found = icalendar.Calendar.from_ical(read(made, "dates.ics"))
    event = found.walk("VEVENT")[0]
    assert str(event["SUMMARY"]) == f"No. {order.number} hand-over"
    assert event["DTSTART"].dt == order.needed_by
    assert event["DTEND"].dt == order.needed_by + timedelta(days=1)


def test_tables_come_back_as_they_were_and_no_cell_is_a_formula(made):
    """RFC 4180 as Python's csv reads it; a cell that a spreadsheet would run has an apostrophe before it."""
    with zipfile.ZipFile(made) as zipped:
        for name in zipped.namelist():
            if not name.endswith(".csv") or name == "books.csv":
                continue
            rows = list(csv.DictReader(io.StringIO(zipped.read(name).decode(), newline=""), strict=True))
            wanted = json.loads(zipped.read(f"json/{name[4:-4]}.json"))
            assert len(rows) == len(wanted), name
            for cell in (cell for row in rows for cell in row.values()):
                assert not cell.startswith(("=", "+", "@", "\t", "\r", "\n")), (name, cell)
    customers = list(csv.DictReader(io.StringIO(read(made, "csv/customer.csv"), newline="")))
    assert customers[1]["name"] == f"'{WILD}"
    assert customers[1]["phone"] == "'+1 555 0100"


def test_every_kind_of_record_is_taken_or_named_as_left(made):
    from django.apps import apps

    all_of_them = {
        each._meta.db_table.removeprefix("orders_")
        for each in apps.get_app_config("orders").get_models(include_auto_created=True)
    }
    assert all_of_them - set(json.loads(read(made, "about.json"))["counts"]) == {
        *("errand", "pulse", "signin", "signinfailure")
    }


def test_moments_keep_their_microseconds(order):
    from orders.keep.rows import as_lines, rows_of

    moment = Order.objects.get().opened_at.replace(microsecond=123456)
    Order.objects.update(opened_at=moment)
    assert "123456" in "".join(as_lines(rows_of(Order.objects.all())))

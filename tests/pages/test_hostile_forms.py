"""Whatever is typed into any form of the site stays words: no network, no file, no fault, no markup."""

from __future__ import annotations

import csv
import io
import tempfile
import zipfile
from contextlib import suppress
from pathlib import Path

import pytest
from django import forms
from django.apps import apps
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import IntegrityError, connection, models, transaction
from django.urls import reverse
from django.utils.html import conditional_escape

from orders import guards
from orders.customer import mailing
from orders.keep import taking_along
from orders.models import Mail, Person
from tests.pages import test_callers
from tests.pages.callers import ANYONE, CUSTOMER, OWNER, ROWS, address
from tests.pages.hostile import HOSTILE, RAW, TYPED, Watch, fields_of, forms_of

pytestmark = [pytest.mark.django_db, pytest.mark.slow]
WATCH = Watch()
numbers = test_callers.numbers
# What a form of the site may write into; everything else in these columns is the program's own.
WRITTEN = {
    "accepted_by", "address", "allergies", "answer", "approver", "bought_by", "brought_by", "carrier",
    "collector", "depends_on", "discreet", "film", "flaws", "found", "given_to", "handed_to", "how_to_pay",
    "label_by", "label_words", "lot", "name", "notes", "occasion", "phone", "place", "proof", "reach",
    "recipient", "said_by", "smell", "story", "subject", "team", "terms", "terms_text", "title", "to",
    "told_words", "tracking", "turned_to", "wash", "what", "why", "why_out", "why_paused", "words",
}  # fmt: skip
# What other records go by, and what is made one line or is checked before it is kept.
NOT = {"Event.what", "Person.name", "Cloth.name", "Trip.what", "Mail.subject", "Mail.address"}
SHORT = HOSTILE[:-1]


@pytest.fixture(autouse=True)
def _quick(settings):
    settings.EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"


def enter(client, caller, numbers):
    client.cookies.clear()
    client.raise_request_exception = False
    if caller == CUSTOMER:
        client.get(reverse("for-you-open", args=[numbers["token"]]))
    elif caller == OWNER:
        client.force_login(Person.objects.get(role="owner"))


def caller_of(who):
    return CUSTOMER if who == CUSTOMER else "" if who == ANYONE else OWNER


def pages(client, numbers):
    """Open every page as whoever it is for; return each name with its answer."""
    for caller in (OWNER, CUSTOMER, ""):
        enter(client, caller, numbers)
        for name, row in ROWS.items():
            if row.look and caller_of(row.look) == caller:
                yield name, client.get(address(name, row, numbers))


def text_of(answer):
    return answer.content.decode(errors="replace") if not answer.streaming else ""


def forms_of_the_site(client, numbers, monkeypatch):
    """Return every form: its address, who sends it, and its controls; a view tells those that no page has."""
    found = {}
    for _, answer in pages(client, numbers):
        for action, sent in forms_of(text_of(answer)):
            found.setdefault(action, {}).update(sent)
    told = {}
    for name, row in ROWS.items():
        if row.do:
            place, caller = address(name, row, numbers), caller_of(row.do)
            known = found.get(place)
            told[place] = (
                caller,
                built_by(client, place, row, numbers, monkeypatch) if known is None else known,
            )
    return told


def built_by(client, place, row, numbers, monkeypatch):
    """Return the controls of the forms that a view builds of what is sent to it."""
    built, plain = [], forms.BaseForm.__init__

    def remember(self, *args, **kwargs):
        plain(self, *args, **kwargs)
        built.append(self)

    with monkeypatch.context() as patch:
        patch.setattr(forms.BaseForm, "__init__", remember)
        enter(client, caller_of(row.do), numbers)
        send(client, place, {})
    sent = {}
    for form in built:
        if form.is_bound:
            sent |= fields_of(form)
    return sent


def send(client, place, said):
    """Send a form, and take back what it did."""
    with transaction.atomic():
        answer = client.post(place, said)
        text = text_of(answer)
        transaction.set_rollback(True)
    return answer, text


def filled(controls, words, *, everywhere=False):
    """Fill the words into what is typed, the rest as the page would send it."""
    said = {}
    for name, (kind, value) in controls.items():
        if kind == "file":
            said[name] = SimpleUploadedFile("../../x.svg", words.encode(errors="replace"), "image/svg+xml")
        else:
            said[name] = words if everywhere or kind in TYPED else value
    return said


def rounds(controls, number):
    """Return what is sent: all in every control, too much of it, and two kinds in turn short enough to keep.

    Each kind of words is kept by some forms; all of them are sent to each.
    """
    if any(kind in TYPED for kind, _ in controls.values()):
        yield from (filled(controls, SHORT[(number + more) % len(SHORT)]) for more in (0, 3))
        yield filled(controls, HOSTILE[-1])
    if controls:
        yield filled(controls, "".join(SHORT), everywhere=True)


def harm_in(answer, text):
    """Return what an answer lets out: a fault, markup that was typed, a way to another site."""
    if answer.status_code >= 500:
        return [f"fault {answer.status_code}"]
    is_page = answer.headers.get("Content-Type", "").startswith("text/html")
    away = not answer.headers.get("Location", "/").startswith("/")
    return [raw for raw in RAW if is_page and raw in text] + ["elsewhere"] * away


def test_no_form_lets_hostile_words_out_of_their_place(client, numbers, monkeypatch, settings):
    told = forms_of_the_site(client, numbers, monkeypatch)
    harm, kept, typed = [], set(), 0
    with WATCH.over(settings.DATA_DIR, Path(tempfile.gettempdir())) as watch:
        for number, (place, (caller, controls)) in enumerate(told.items()):
            enter(client, caller, numbers)
            typed += any(kind in TYPED for kind, _ in controls.values())
            for said in rounds(controls, number):
                answer, text = send(client, place, said)
                harm += [(place, each, said) for each in harm_in(answer, text)]
                kept |= {place} if answer.status_code in (200, 302) else set()
    assert harm == []
    assert (watch.called, watch.opened) == ([], [])
    assert typed > 60, "the forms are found"
    assert len(kept) > 30, "and what they send is often kept"


@pytest.fixture
def spoiled(numbers, request):
    """Put one kind of hostile words into every column that a form writes; taken back afterwards."""
    guards.remove(connection)
    words = request.param.replace("\x00", "")  # no form lets it in, and PostgreSQL holds none
    for kind in apps.get_app_config("orders").get_models():
        for field in kind._meta.concrete_fields:
            if field.name in WRITTEN and f"{kind.__name__}.{field.name}" not in NOT and is_free(field):
                spoil(kind, field, words)
    return words


def is_free(field):
    return isinstance(field, models.CharField | models.TextField) and not field.choices and not field.unique


def spoil(kind, field, words):
    """Change one column of all rows; where the database keeps rows apart by it, it stays."""
    rows = kind.objects.exclude(**{field.name: ""})
    with suppress(IntegrityError), transaction.atomic():
        rows.update(**{field.name: words[: field.max_length or 2000]})


@pytest.mark.parametrize("spoiled", HOSTILE[:3], indirect=True)
def test_no_page_and_no_file_runs_what_was_kept(client, numbers, spoiled, settings, tmp_path):
    seen, harm, marked = 0, [], conditional_escape(spoiled[:14])
    with WATCH.over(settings.DATA_DIR, tmp_path, Path(tempfile.gettempdir())) as watch:
        for name, answer in pages(client, numbers):
            text = text_of(answer)
            harm += [(name, each) for each in harm_in(answer, text)]
            seen += marked in text
            kind = answer.headers["Content-Type"]
            if kind.startswith("text/csv"):
                assert_plain_cells(text)
            if kind.startswith("text/calendar"):
                assert_calendar_holds(text)
        for mail in Mail.objects.all():
            assert_one_line_headers(mailing.message_of(mail).message())
        target = tmp_path / "shop.zip"
        taking_along.take_along(target)
        assert_export_holds(target)
    assert harm == []
    assert (watch.called, watch.opened) == ([], [])
    assert seen > 20, "the words stand on the pages"


def assert_plain_cells(text):
    for row in csv.reader(io.StringIO(text, newline="")):
        assert not [cell for cell in row if cell.lstrip().startswith(("=", "+", "@", "\t", "\r"))], row


def assert_calendar_holds(text):
    lines = text.split("\r\n")
    assert lines.count("BEGIN:VEVENT") == lines.count("END:VEVENT")
    assert not [line for line in lines if line.startswith("Bcc:")]
    assert "\n" not in text.replace("\r\n", "")


def assert_one_line_headers(message):
    assert message["Bcc"] is None
    assert all("\n" not in str(value) and "\r" not in str(value) for value in message.values())


def assert_export_holds(target):
    with zipfile.ZipFile(target) as made:
        for name in made.namelist():
            assert ".." not in name
            assert not name.startswith("/")
            text = made.read(name).decode(errors="replace") if name.endswith((".csv", ".vcf", ".ics")) else ""
            if name.endswith(".csv"):
                assert_plain_cells(text)
            if name.endswith(".ics"):
                assert_calendar_holds(text)
            if name.endswith(".vcf"):
                assert text.count("\r\nEND:VCARD") == text.count("BEGIN:VCARD")

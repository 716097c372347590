"""A mail goes once, or somebody is told: the server is up, down, unwilling, or silent at the worst moment."""

from __future__ import annotations

import email
from datetime import timedelta
from email import policy

import pytest
from django.utils import timezone

from orders.background import errands
from orders.customer import mailing
from orders.customer.mailing import CannotMail, Letter
from orders.models import Errand, Event, Incident, Mail, Message
from tests.mail_server import MailServer

pytestmark = pytest.mark.django_db
LETTER = Letter("ready", "Your quilt, No. 1", "Hello,\n\nyour quilt is finished.\n\nThe workroom")


@pytest.fixture
def server(settings):
    """Return a mail server on this machine that the shop is set to use."""
    made = MailServer()
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", made.port
    settings.EMAIL_USE_TLS = settings.EMAIL_USE_SSL = False
    settings.EMAIL_HOST_USER = settings.EMAIL_HOST_PASSWORD = ""
    settings.EMAIL_TIMEOUT, settings.DEFAULT_FROM_EMAIL = 2, "wren@workroom.example"
    yield made
    made.end()


@pytest.fixture
def reached(order):
    """Return the order of a customer with a mail address."""
    order.customer.email = "aunt@ferncliff.example"
    order.customer.save()
    return order


def write(order, ada, key="one tap", letter=LETTER):
    return mailing.mail_order(order, letter, key=key, by=ada)


def run(now=None):
    errands.run_due(now or timezone.now() + timedelta(seconds=1))


def test_a_tap_mails_text_and_html_once_and_writes_it_down(server, reached, ada):
    for _ in range(2):
        mail = write(reached, ada)
    run()
    run(timezone.now() + timedelta(days=3))
    assert len(server.taken) == 1
    sent = email.message_from_bytes(server.taken[0], policy=policy.default)
    assert sent["To"] == "An aunt of Ferncliff <aunt@ferncliff.example>"
    assert "wren@workroom.example" in sent["From"]
    assert sent.get_body(("plain",)).get_content().replace("\r\n", "\n").strip() == LETTER.words
    assert "<p>your quilt is finished.</p>" in sent.get_body(("html",)).get_content()
    mail.refresh_from_db()
    assert (mail.state, mail.tries) == ("sent", 1)
    assert Message.objects.get().how == "mail"
    assert not Mail.objects.troubled().exists()


def test_a_mail_server_that_is_down_for_a_day_loses_nothing_and_doubles_nothing(
    server, settings, reached, ada
):
    port = server.port
    server.end()
    mail = write(reached, ada)
    now = timezone.now() + timedelta(seconds=1)
    for _ in range(24 * 6):  # every ten minutes of a day
        run(now)
        now += timedelta(minutes=10)
    mail.refresh_from_db()
    assert (mail.state, mail.why) == ("waiting", "The mail server does not answer.")
    assert 10 <= mail.tries <= 20
    assert list(Mail.objects.troubled()) == [mail]
    assert Errand.objects.get(kind="mail").state == "waiting"
    again = MailServer(port)
    try:
        for _ in range(12 * 6):
            run(now)
            now += timedelta(minutes=10)
        assert len(again.taken) == 1
    finally:
        again.end()
    mail.refresh_from_db()
    assert mail.state == "sent"
    assert Message.objects.count() == 1
    assert not Mail.objects.troubled().exists()


def test_a_busy_mail_server_and_one_that_says_later_are_asked_again(server, reached, ada):
    mail = write(reached, ada)
    now = timezone.now() + timedelta(seconds=1)
    for mood in ("busy", "late"):
        server.mood = mood
        run(now)
        now += timedelta(minutes=31)
        mail.refresh_from_db()
        assert mail.state == "waiting", mood
        assert mail.why
    server.mood = "well"
    run(now)
    mail.refresh_from_db()
    assert (mail.state, mail.tries, len(server.taken)) == ("sent", 3, 1)


def test_an_address_nobody_has_is_told_at_once_and_not_tried_again(server, reached, ada):
    server.mood = "nobody"
    mail = write(reached, ada)
    run()
    run(timezone.now() + timedelta(days=2))
    mail.refresh_from_db()
    assert (mail.state, mail.tries) == ("refused", 1)
    assert mail.why == "The mail server will not have it: 550 5.1.1 nobody of that name"
    assert list(Mail.objects.troubled()) == [mail]
    assert not Message.objects.exists()


def test_a_server_that_falls_silent_with_the_words_in_hand_leaves_it_unsure_and_nothing_goes_twice(
    server, reached, ada
):
    server.mood = "deaf"
    mail = write(reached, ada)
    run()
    server.mood = "well"
    run(timezone.now() + timedelta(days=2))
    mail.refresh_from_db()
    assert (mail.state, len(server.taken)) == ("unsure", 1)
    assert list(Mail.objects.troubled()) == [mail]


def test_a_program_that_is_ended_while_it_hands_over_leaves_it_unsure_and_sends_no_second(
    server, reached, ada
):
    mail = write(reached, ada)
    errand = Errand.objects.get(kind="mail")
    now = timezone.now() + timedelta(seconds=1)
    assert errand.claim(now=now, seconds=90)
    mail.go()  # and here the power goes
    for _ in range(3):
        now += timedelta(minutes=20)
        run(now)
    mail.refresh_from_db()
    assert (mail.state, server.taken) == ("unsure", [])


def test_one_that_is_unsure_goes_again_only_by_a_tap_and_then_once(server, reached, ada):
    server.mood = "deaf"
    mail = write(reached, ada)
    run()
    mail.refresh_from_db()
    server.mood = "well"
    for _ in range(2):
        anew = mailing.send_again(mail, by=ada)
        run()
        mail.refresh_from_db()
    anew.refresh_from_db()
    assert (anew.state, len(server.taken)) == ("sent", 2)
    assert not Mail.objects.troubled().exists()


def test_after_five_days_in_vain_it_stops_and_says_so(server, reached, ada):
    server.end()
    mail = write(reached, ada)
    begun = now = timezone.now() + timedelta(seconds=1)
    while (errand := Errand.objects.get(kind="mail")).state == "waiting":
        now = max(now, errand.due_at)
        run(now)
    mail.refresh_from_db()
    assert mail.state == "refused"
    assert "in five days" in mail.why
    assert timedelta(days=4) <= now - begun <= timedelta(days=6)


def test_what_was_taken_back_in_time_does_not_go(server, reached, ada):
    mail = write(reached, ada)
    assert mail.take_back(by=ada)
    run()
    assert (server.taken, Message.objects.count()) == ([], 0)
    mail.refresh_from_db()
    assert mail.state == "taken back"


def test_a_mail_that_went_cannot_be_taken_back(server, reached, ada):
    mail = write(reached, ada)
    run()
    mail.refresh_from_db()
    assert not mail.take_back(by=ada)
    assert mail.state == "sent"


def test_a_mail_without_an_errand_is_taken_up_again(server, reached, ada):
    mail = write(reached, ada)
    Errand.objects.filter(kind="mail").update(state="failed", lease_until=None)
    run()
    assert server.taken == []
    mailing.take_up(mail)
    mailing.take_up(mail)
    run()
    assert len(server.taken) == 1


@pytest.mark.parametrize(
    "hostile", ["a\r\nBcc: x@evil.example", "b\nSubject: other", "\x07\x1b[31m", "é" * 100]
)
def test_hostile_words_in_names_and_subjects_become_one_line_and_reach_no_other_box(
    server, reached, ada, hostile, shop
):
    reached.customer.name = hostile
    reached.customer.save()
    shop.name = hostile
    shop.save()
    letter = Letter("own", hostile, f"{hostile}\n<script>alert(1)</script>\n.\nRCPT TO:<x@evil.example>")
    mail = write(reached, ada, letter=letter)
    run()
    mail.refresh_from_db()
    assert mail.state == "sent"
    assert server.mailboxes == [b"rcpt TO:<aunt@ferncliff.example>"]
    sent = email.message_from_bytes(server.taken[0], policy=policy.default)
    assert sent["Bcc"] is None
    assert len(sent.get_all("Subject")) == 1
    assert "<script>" not in sent.get_body(("html",)).get_content()


def test_mail_is_off_until_a_server_is_named(reached, ada, settings):
    settings.EMAIL_HOST = ""
    with pytest.raises(CannotMail, match="switched off"):
        write(reached, ada)
    assert not Mail.objects.exists()


def test_a_surprise_a_missing_and_an_impossible_address_are_refused_in_words(server, reached, ada, shop):
    customer = reached.customer
    for field, value, words in (
        ("email", "", "No mail address"),
        ("email", "no address", "is no mail address"),
        ("keep_quiet_until", shop.today() + timedelta(days=1), "surprise"),
    ):
        setattr(customer, field, value)
        with pytest.raises(CannotMail, match=words):
            write(reached, ada)
    assert not Mail.objects.exists()


def test_words_about_a_damage_count_as_told_once_they_went(server, reached, ada):
    incident = Incident.objects.create(what="stained", order=reached, by=ada)
    write(reached, ada, letter=Letter(f"damage {incident.pk}", "Your quilt", "I am sorry."))
    incident.refresh_from_db()
    assert incident.told_at is None
    run()
    incident.refresh_from_db()
    assert (incident.told_how, incident.told_words) == ("message", "I am sorry.")


def test_it_says_in_the_journal_when_it_was_written_and_when_it_went(server, reached, ada):
    write(reached, ada)
    run()
    told = list(Event.objects.filter(what__startswith="mail").order_by("pk").values_list("what", flat=True))
    assert told == ["mail written", "mail sent"]

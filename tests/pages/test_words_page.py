"""The page of words: drafts to change, one tap for each way they go, and what did not go on Today."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.core import mail as outbox
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from orders.background import errands
from orders.models import Enquiry, Incident, Mail, Message, Order

pytestmark = pytest.mark.django_db
WORDS = "Hello,\n\nyour quilt is ready.\n\nThe workroom"
SENT = {"kind": "own", "client_id": "one", "subject": "Your quilt", "words": WORDS}


@pytest.fixture
def owner(client, ada):
    client.force_login(ada)
    return client


@pytest.fixture
def reached(order, settings):
    """Return the order of a customer with a mail address, in a shop that can mail."""
    settings.EMAIL_HOST, settings.DEFAULT_FROM_EMAIL = "127.0.0.1", "wren@workroom.example"
    order.customer.email = "aunt@ferncliff.example"
    order.customer.save()
    return order


def at(order, rest=""):
    return f"/quilts/{order.number}/account/words/{rest}"


def test_it_shows_a_draft_to_change_and_the_ways_it_can_go(owner, reached):
    shown = owner.get(at(reached)).text
    for words in ("Hello An aunt of Ferncliff,", "Mail it", "Open in messages", "Called"):
        assert words in shown, words
    assert "Save the picture" not in shown  # nothing is drawn yet
    assert 'href="sms:5550131?&amp;body=Hello%20An%20aunt' in shown
    assert 'href="mailto:aunt@ferncliff.example?subject=' in shown


def test_looking_sends_and_writes_nothing(owner, reached):
    owner.get(at(reached))
    assert not Mail.objects.exists()
    assert not Message.objects.exists()


def test_one_tap_mails_the_words_once_however_often_it_comes(owner, reached):
    for _ in range(2):
        page = owner.post(at(reached, "mail/"), SENT, follow=True)
    assert "is on its way out" in page.text
    errands.run_due(timezone.now() + timedelta(seconds=1))
    (sent,) = outbox.outbox
    assert (sent.to, sent.body) == (["An aunt of Ferncliff <aunt@ferncliff.example>"], WORDS)
    assert "Said so far" in owner.get(at(reached)).text
    assert Message.objects.get().words == WORDS


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"words": ""}, "There are no words yet."),
        ({"words": "I could have it ready by …"}, "left to fill in"),
        ({"subject": " "}, "Give it a subject."),
        ({"words": "x" * 4001}, "at most 4000"),
    ],
)
def test_what_cannot_go_comes_back_as_typed_with_its_fault_and_nothing_is_sent(owner, reached, change, fault):
    answer = owner.post(at(reached, "mail/"), SENT | change)
    assert answer.status_code == 422
    assert fault in answer.text
    assert (SENT | change)["words"].rpartition("\n")[2] in answer.text
    assert not Mail.objects.exists()


def test_without_a_mail_server_no_mail_can_be_written(owner, order):
    assert "Mail it" not in owner.get(at(order)).text
    answer = owner.post(at(order, "mail/"), SENT)
    assert answer.status_code == 422
    assert not Mail.objects.exists()


def test_a_surprise_leaves_no_way_out(owner, reached, shop):
    reached.customer.keep_quiet_until = shop.today() + timedelta(days=5)
    reached.customer.save()
    shown = owner.get(at(reached)).text
    assert "It is a surprise until" in shown
    for words in ("Mail it", "Open in messages", "Open in mail", "Copy the words"):
        assert words not in shown, words
    assert owner.post(at(reached, "mail/"), SENT).status_code == 422


@pytest.mark.parametrize(
    ("how", "kept"), [("text", WORDS), ("letter", WORDS), ("call", "Called"), ("talk", "Talked")]
)
def test_one_tap_writes_down_that_it_went_another_way(owner, order, how, kept):
    for _ in range(2):
        assert owner.post(at(order, "said/"), {"kind": "own", "how": how, "words": WORDS}).status_code == 302
    noted = Message.objects.get()
    assert (noted.how, noted.words, noted.to) == (how, kept, "An aunt of Ferncliff")


@pytest.mark.parametrize(
    "said", [{"how": "pigeon"}, {"how": "mail", "words": "x"}, {}, {"how": "text", "words": " "}]
)
def test_a_way_nobody_knows_or_a_text_without_words_is_refused(owner, order, said):
    assert owner.post(at(order, "said/"), said).status_code == 422
    assert not Message.objects.exists()


def test_a_call_about_a_damage_counts_as_told(owner, order, ada):
    incident = Incident.objects.create(what="stained", order=order, by=ada)
    owner.post(at(order, "said/"), {"kind": f"damage {incident.pk}", "how": "call"})
    incident.refresh_from_db()
    assert incident.told_how == "phone"


def test_a_damage_of_another_order_is_not_told_by_it(owner, order, aunt, ada):
    other = Order.objects.open(title="x", customer=aunt, by=ada)
    incident = Incident.objects.create(what="stained", order=other, by=ada)
    owner.post(at(order, "said/"), {"kind": f"damage {incident.pk}", "how": "call"})
    incident.refresh_from_db()
    assert incident.told_at is None


@pytest.fixture
def stuck(reached, ada):
    """Return a mail the mail server does not take."""
    return Mail.objects.create(
        order=reached, kind="own", to="An aunt", address="aunt@ferncliff.example", subject="x", words="Hello",
        key="stuck", tries=7, why="The mail server does not answer.", by=ada,
    )  # fmt: skip


def test_today_tells_the_owner_and_not_the_helper_what_did_not_go(owner, stuck, bo):
    shown = owner.get("/").text
    assert "Words that did not go" in shown
    assert "Tried 7 times" in shown
    owner.force_login(bo)
    assert "Words that did not go" not in owner.get("/").text


def test_from_today_it_is_taken_back_or_tried_now(owner, stuck):
    assert owner.post(f"/mails/{stuck.pk}/attempt/", {"back": "today"}).url == "/"
    errands.run_due(timezone.now() + timedelta(seconds=1))
    stuck.refresh_from_db()
    assert (stuck.state, len(outbox.outbox)) == ("sent", 1)
    owner.post(f"/mails/{stuck.pk}/taking-back/")
    stuck.refresh_from_db()
    assert stuck.state == "sent"
    assert "Words that did not go" not in owner.get("/").text


def test_one_nobody_knows_of_is_left_or_sent_again_by_a_tap(owner, stuck):
    Mail.objects.update(state="unsure")
    assert "Not known whether it went" in owner.get("/").text
    owner.post(f"/mails/{stuck.pk}/putting-away/")
    assert "Words that did not go" not in owner.get("/").text
    errands.run_due(timezone.now() + timedelta(days=2))
    assert outbox.outbox == []


def test_helpers_and_strangers_never_see_words_or_contacts(client, bo, reached, stuck):
    places = [at(reached, "mail/"), at(reached, "said/"), f"/mails/{stuck.pk}/attempt/"]
    for place in [at(reached), *places]:
        assert client.get(place).status_code in (302, 405), place
    client.force_login(bo)
    assert client.get(at(reached)).status_code == 403
    for place in places:
        assert client.post(place, SENT).status_code == 403, place
        assert client.get(place).status_code == 405, place
    assert Mail.objects.count() == 1


def test_words_of_a_quilt_or_a_mail_that_is_not_there_are_not_found(owner, order):
    assert owner.get("/quilts/99/account/words/").status_code == 404
    assert owner.post("/quilts/99/account/words/said/", {"how": "call"}).status_code == 404
    assert owner.post("/mails/99/attempt/").status_code == 404


def test_the_page_asks_as_often_with_many_words_as_with_few(owner, order, ada, shop):
    owner.get(at(order))
    with CaptureQueriesContext(connection) as few:
        owner.get(at(order))
    for number in range(30):
        Message.objects.note(order, f"Words {number}", to="her", on=shop.today(), by=ada)
    with CaptureQueriesContext(connection) as many:
        owner.get(at(order))
    assert len(many) == len(few)


def test_an_enquiry_is_answered_and_declined_by_mail_once(owner, reached, shop, ada):
    asked = Enquiry.objects.create(name="A coach", reach="coach@cinder.example", shirts=12)
    place = f"/enquiries/{asked.pk}/mail/"
    assert "Change them and mail them" in owner.get(f"/enquiries/{asked.pk}/").text
    for _ in range(2):
        assert owner.post(place, SENT | {"kind": "answer"}).status_code == 302
    asked.decline(by=ada)
    assert "justice" in owner.get(f"/enquiries/{asked.pk}/").text
    assert owner.post(place, SENT | {"kind": "kind no", "client_id": "two"}).status_code == 302
    errands.run_due(timezone.now() + timedelta(seconds=1))
    assert [each.to for each in outbox.outbox] == [["A coach <coach@cinder.example>"]] * 2
    assert owner.post(place, SENT | {"words": ""}).status_code == 422
    asked.reach = "555 0199"
    asked.save()
    refused = owner.post(place, SENT | {"client_id": "three"})
    assert (refused.status_code, Mail.objects.count()) == (422, 2)


def test_the_owner_says_how_words_begin_and_which_may_go_by_themselves(owner, order, shop):
    assert "Nothing goes out without your tap" in owner.get("/workroom/words/").text
    owner.post("/workroom/words/", {"hello": "Dear", "bye": "Wren", "ready": "on"})
    shop.refresh_from_db()
    assert shop.words == {"hello": "Dear", "bye": "Wren", "alone": ["ready"]}
    assert "Dear An aunt of Ferncliff," in owner.get(at(order)).text
    assert owner.post("/workroom/words/", {"hello": "x" * 41}).status_code == 422

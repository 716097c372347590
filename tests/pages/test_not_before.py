"""A day before which nothing may reach a customer is asked by every way out of the shop."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.core import mail
from django.core.cache import cache

from orders.background import errands
from orders.customer import mailing
from orders.models import Customer, Enquiry, Event, Incident, Link, Mail, Payer

pytestmark = pytest.mark.django_db
NAME = "An aunt of Ferncliff"


@pytest.fixture
def owner(client, shop, ada, settings):
    settings.ADDRESS = "https://quilts.example"
    cache.clear()
    client.force_login(ada)
    return client


@pytest.fixture
def secret(drawn, aunt, shop):
    """Return a drawn order of a customer whom nothing may reach for nine days."""
    keep_quiet(aunt, shop)
    return drawn


def keep_quiet(customer, shop, days=9):
    Customer.objects.filter(pk=customer.pk).update(keep_quiet_until=shop.today() + timedelta(days=days))


def opened(client, order, shop, ada, to=""):
    _, token = Link.objects.give_out(order, until=shop.today() + timedelta(days=30), by=ada, to=to)
    client.cookies.clear()
    return client.get(f"/for-you/{token}/"), client.get("/for-you/")


def test_no_link_is_given_out(owner, quote, secret, shop):
    place = f"/quilts/{secret.number}/account/links/"
    for to in ("", NAME):
        answer = owner.post(place, {"to": to})
        assert (answer.status_code, "still a secret" in answer.text) == (409, True)
    assert not Link.objects.exists()
    keep_quiet(secret.customer, shop, days=0)
    assert owner.post(place, {"to": NAME}).status_code == 302


def test_a_link_given_out_before_is_closed_with_the_bytes_of_a_guess(client, quote, secret, shop, ada):
    cache.clear()
    guess = client.get("/for-you/guess/")
    for to in ("", NAME):
        first, page = opened(client, secret, shop, ada, to)
        assert (first.status_code, first.content) == (404, guess.content)
        assert (page.status_code, page.content) == (404, guess.content)
    keep_quiet(secret.customer, shop, days=0)
    assert opened(client, secret, shop, ada)[1].status_code == 200


def test_a_day_set_after_the_link_was_opened_closes_it(client, quote, drawn, shop, ada):
    cache.clear()
    assert opened(client, drawn, shop, ada)[1].status_code == 200
    keep_quiet(drawn.customer, shop)
    assert client.get("/for-you/").status_code == 404
    assert client.post("/for-you/price/", {"number": 1, "name": NAME}).status_code == 404


def test_each_payers_own_day_counts_and_not_that_of_another(client, quote, drawn, shop, ada):
    cache.clear()
    uncle = Customer.objects.create(name="An uncle of Ferncliff")
    Payer.objects.create(order=drawn, customer=uncle, share=1)
    keep_quiet(uncle, shop)
    assert opened(client, drawn, shop, ada, uncle.name)[1].status_code == 404
    assert opened(client, drawn, shop, ada, NAME)[1].status_code == 200


def test_the_words_page_opens_copies_saves_and_mails_nothing(owner, quote, secret):
    shown = owner.get(f"/quilts/{secret.number}/account/words/").text
    assert "It is a surprise until" in shown
    for way in ("Mail it", "sms:", "mailto:", "data-copy", "Save the picture"):
        assert way not in shown, way


def test_the_account_room_copies_and_writes_nothing(owner, quote, secret):
    shown = owner.get(f"/quilts/{secret.number}/account/").text
    assert "It is a surprise until" in shown
    for way in ("sms:", 'data-copy="#words"', "It was sent"):
        assert way not in shown, way


def test_the_picture_is_not_saved_to_be_sent(owner, quote, secret, shop):
    place = f"/quilts/{secret.number}/quilt/picture.jpg"
    answer = owner.get(place)
    assert (answer.status_code, answer.headers["Content-Type"]) == (409, "text/html; charset=utf-8")
    assert "Nothing may reach An aunt of Ferncliff before" in answer.text
    for page in ("quilt/?part=yes", "quilt/asked/"):
        shown = owner.get(f"/quilts/{secret.number}/{page}").text
        assert "Save the picture" not in shown
        assert 'data-copy="#words"' not in shown
    keep_quiet(secret.customer, shop, days=0)
    assert owner.get(place).headers["Content-Type"] == "image/jpeg"


def test_what_went_wrong_is_not_told_to_whom_nothing_may_reach(owner, quote, secret, ada):
    wrong = Incident.objects.create(what="stained", order=secret, by=ada)
    shown = owner.get(f"/incidents/{wrong.pk}/").text
    assert "It is a surprise until" in shown
    for way in ("sms:", 'data-copy="#words"'):
        assert way not in shown, way


@pytest.mark.parametrize("reach", ["555 0131", "text 555-0131", "aunt@ferncliff.example"])
def test_an_enquiry_of_theirs_is_not_answered_before(owner, aunt, shop, ada, settings, reach):
    settings.EMAIL_HOST, settings.DEFAULT_FROM_EMAIL = "mail.example", "shop@quilts.example"
    Customer.objects.filter(pk=aunt.pk).update(email="aunt@ferncliff.example")
    asked = Enquiry.objects.write_down(by=ada, name="The aunt", reach=reach)
    assert "It is a surprise" not in owner.get(f"/enquiries/{asked.pk}/").text
    keep_quiet(aunt, shop)
    shown = owner.get(f"/enquiries/{asked.pk}/").text
    assert "It is a surprise until" in shown
    for way in ("sms:", "mailto:", 'data-copy="#words"', "Mail it"):
        assert way not in shown, way
    if "@" in reach:
        with pytest.raises(mailing.CannotMail, match="surprise"):
            mailing.mail_enquiry(asked, mailing.Letter("answer", "Your quilt", "Hello"), key="k", by=ada)
    assert not Event.objects.filter(what="mail written").exists()


def test_a_mail_that_still_waits_when_the_day_is_set_does_not_go_and_not_by_another_tap(
    owner, drawn, aunt, shop, ada, settings
):
    settings.EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
    settings.EMAIL_HOST, settings.DEFAULT_FROM_EMAIL = "mail.example", "shop@quilts.example"
    Customer.objects.filter(pk=aunt.pk).update(email="aunt@ferncliff.example")
    drawn.customer.refresh_from_db()
    letter = mailing.Letter("own", "Your quilt", "It is sewn.")
    waits = mailing.mail_order(drawn, letter, key="k", by=ada)
    keep_quiet(aunt, shop)
    errands.run_due()
    waits.refresh_from_db()
    assert (waits.state, waits.why.split(":")[0]) == ("refused", "It is a surprise")
    answer = owner.post(f"/mails/{waits.pk}/attempt/", follow=True)
    assert "It is a surprise: nothing may reach them yet." in answer.text
    errands.run_due()
    assert mail.outbox == []
    keep_quiet(aunt, shop, days=0)
    owner.post(f"/mails/{waits.pk}/attempt/")
    errands.run_due()
    assert [each.to for each in mail.outbox] == [["An aunt of Ferncliff <aunt@ferncliff.example>"]]
    assert Mail.objects.count() == 2

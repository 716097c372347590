"""A private link: a token exchanged for a cookie; what does not open says nothing about why."""

from datetime import timedelta

import pytest
from django.core.cache import cache

from orders.models import Link, Order

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _nobody_has_guessed_yet():
    cache.clear()


@pytest.fixture
def token(quote, drawn, shop, ada):
    _, token = Link.objects.give_out(drawn, until=shop.today() + timedelta(days=30), by=ada)
    return token


def test_the_token_is_exchanged_for_a_cookie_and_a_clean_address(client, token):
    answer = client.get(f"/for-you/{token}/")
    assert (answer.status_code, answer.url) == (302, "/for-you/")
    cookie = answer.cookies["for-you"]
    assert token not in cookie.value
    assert (cookie["httponly"], cookie["samesite"], cookie["path"]) == (True, "Lax", "/for-you/")
    assert not cookie["secure"]
    assert client.get("/for-you/").status_code == 200


def test_behind_https_the_cookie_belongs_to_this_host_alone(client, token, settings, monkeypatch):
    from orders.views import for_you

    settings.BEHIND_HTTPS = True
    monkeypatch.setattr(for_you, "COOKIE", "__Host-for-you")
    monkeypatch.setattr(for_you, "PATH", "/")
    cookie = client.get(f"/for-you/{token}/").cookies["__Host-for-you"]
    assert (cookie["secure"], cookie["path"], cookie["domain"]) == (True, "/", "")


def test_unknown_expired_and_closed_links_give_the_same_bytes(client, token, quote, drawn, shop, ada):
    _, late = Link.objects.give_out(drawn, until=shop.today() - timedelta(days=1), by=ada)
    closed, shut = Link.objects.give_out(drawn, until=shop.today() + timedelta(days=30), by=ada)
    closed.revoke(by=ada)
    answers = [client.get(f"/for-you/{each}/") for each in ("unknown", late, shut)]
    answers.append(client.get("/for-you/"))
    assert {answer.status_code for answer in answers} == {404}
    assert len({answer.content for answer in answers}) == 1
    for answer in answers[1:]:
        assert _lasting(answer) == _lasting(answers[0])


def _lasting(answer):
    return {name: value for name, value in answer.headers.items() if name != "Content-Length"}


def test_a_link_closed_after_it_was_opened_shows_nothing_more(client, token, ada):
    client.get(f"/for-you/{token}/")
    Link.objects.get().revoke(by=ada)
    assert client.get("/for-you/").status_code == 404
    assert client.post("/for-you/price/", {"number": 1, "name": "An aunt of Ferncliff"}).status_code == 404


def test_a_link_ends_with_its_last_day(client, token, shop):
    client.get(f"/for-you/{token}/")
    Link.objects.update(until=shop.today())
    assert client.get("/for-you/").status_code == 200
    Link.objects.update(until=shop.today() - timedelta(days=1))
    assert client.get("/for-you/").status_code == 404


def test_a_cookie_that_was_tampered_with_opens_nothing(client, token):
    client.get(f"/for-you/{token}/")
    client.cookies["for-you"] = client.cookies["for-you"].value[:-2] + "xx"
    assert client.get("/for-you/").status_code == 404


def test_a_session_of_the_shop_is_no_key_to_it(client, token, ada):
    client.force_login(ada)
    assert client.get("/for-you/").status_code == 404


def test_after_20_wrong_tokens_in_a_minute_even_the_right_one_waits(client, token):
    for number in range(20):
        client.get(f"/for-you/wrong-{number}/")
    assert client.get(f"/for-you/{token}/").status_code == 404
    assert client.get(f"/for-you/{token}/", REMOTE_ADDR="10.0.0.9").status_code == 302


def test_nobody_keeps_finds_or_hears_of_the_page(client, token):
    for answer in (client.get(f"/for-you/{token}/"), client.get("/for-you/"), client.get("/for-you/no/")):
        assert answer.headers["Cache-Control"] == "no-store"
        assert answer.headers["X-Robots-Tag"] == "noindex, nofollow"
    assert client.get(f"/for-you/{token}/").headers["Referrer-Policy"] == "no-referrer"
    assert client.get("/for-you/").headers["Referrer-Policy"] == "same-origin"


def test_the_record_never_holds_the_token(token):
    link = Link.objects.get()
    assert token not in {str(value) for value in vars(link).values()}


def test_the_owner_gives_a_link_out_where_the_address_can_be_reached(client, ada, drawn, settings):
    settings.ADDRESS = "https://quilts.example"
    client.force_login(ada)
    answer = client.post(f"/quilts/{drawn.number}/account/links/")
    assert answer.status_code == 302
    first, second = (client.get(f"/quilts/{drawn.number}/account/").content.decode() for _ in range(2))
    address = first.split('id="private-link">')[1].split("<")[0]
    assert address.startswith("https://quilts.example/for-you/")
    assert 'id="private-link"' not in second
    assert client.get(address.removeprefix("https://quilts.example")).status_code == 302


@pytest.mark.parametrize(
    "address", ["", "http://127.0.0.1:8000", "http://192.168.1.20:8000", "http://shop.local", "http://quilts"]
)
def test_no_link_is_given_out_that_would_lead_nowhere(client, ada, quote, drawn, settings, address):
    settings.ADDRESS = address
    client.force_login(ada)
    shown = client.get(f"/quilts/{drawn.number}/account/").content.decode()
    assert "Make a link" not in shown
    assert "$500.76 with tax, $250.38 of it first." in shown
    assert "sms:5550131?" in shown
    assert client.post(f"/quilts/{drawn.number}/account/links/").status_code == 409
    assert not Link.objects.exists()


def test_a_surprise_offers_no_text_message_before_its_day(client, ada, quote, drawn, shop):
    drawn.customer.keep_quiet_until = shop.today() + timedelta(days=9)
    drawn.customer.save()
    client.force_login(ada)
    assert "sms:" not in client.get(f"/quilts/{drawn.number}/account/").content.decode()


def test_the_owner_closes_a_link_and_only_that_of_the_order(client, ada, token, drawn, aunt):
    client.force_login(ada)
    link, other = Link.objects.get(), Order.objects.open(title="Another", customer=aunt, by=ada)
    assert client.post(f"/quilts/{other.number}/account/links/{link.pk}/closing/").status_code == 404
    assert client.post(f"/quilts/{drawn.number}/account/links/{link.pk}/closing/").status_code == 302
    link.refresh_from_db()
    assert link.revoked_at is not None

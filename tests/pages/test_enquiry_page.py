"""An enquiry's page: what to say, and what can be done about it."""

from __future__ import annotations

from datetime import timedelta
from urllib.parse import unquote

import pytest

from orders.background import errands
from orders.customer import enquiries, enquiry_ways
from orders.models import Customer, DayOff, Enquiry, Order
from orders.views.enquiry import where_to_send

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner(client, shop, ada):
    client.force_login(ada)
    return client


@pytest.fixture
def enquiry(shop, ada):
    asked = {"name": "A grandmother, Sorrel Bank", "reach": "text 555 0142", "shirts": 20}
    made = Enquiry.objects.write_down(by=ada, needed_by=shop.today() + timedelta(days=120), **asked)
    enquiries.answer_now(made, shop, by=ada)
    return made


def page(owner, enquiry):
    answer = owner.get(f"/enquiries/{enquiry.pk}/")
    assert answer.status_code == 200
    return answer.content.decode()


def do(owner, enquiry, what, **said):
    answer = owner.post(f"/enquiries/{enquiry.pk}/{what}/", said)
    enquiry.refresh_from_db()
    return answer


def test_it_says_what_to_say_and_that_it_is_no_offer(owner, enquiry):
    words = page(owner, enquiry)
    assert "$720 to $860" in words
    assert "not an offer" in words
    assert "Pencil in for 7 days" in words
    assert "before the day" in words


def test_the_words_can_be_copied_or_opened_as_a_text_message(owner, enquiry):
    words = page(owner, enquiry)
    assert 'data-copy="#words"' in words
    assert 'href="sms:5550142?&amp;body=Hello%20A%20grandmother' in words


def test_a_penciled_place_says_until_when_and_can_be_rubbed_out(owner, enquiry, shop):
    do(owner, enquiry, "pencil")
    assert enquiry.penciled_until == shop.today() + timedelta(days=7)
    assert "Penciled in" in page(owner, enquiry)
    assert "penciled you in" in page(owner, enquiry)
    do(owner, enquiry, "eraser")
    assert enquiry.penciled_until is None
    assert "Pencil in for 7 days" in page(owner, enquiry)


def test_a_declined_enquiry_has_kind_words_and_can_be_taken_up_again(owner, enquiry):
    do(owner, enquiry, "pencil")
    do(owner, enquiry, "decline")
    assert enquiry.declined_at is not None
    assert enquiry.penciled_until is None
    assert "I am sorry" in page(owner, enquiry)
    do(owner, enquiry, "reopening")
    assert enquiry.declined_at is None


def test_turned_into_an_order_it_leads_to_its_bag(owner, enquiry):
    answer = do(owner, enquiry, "order", title="The grandmother’s quilt", place="Sorrel Bank")
    order = Order.objects.get()
    assert answer.url == f"/quilts/{order.number}/bag/"
    assert (order.title, order.customer.phone) == ("The grandmother’s quilt", "text 555 0142")
    do(owner, enquiry, "order", title="The grandmother’s quilt")
    assert Order.objects.count() == Customer.objects.count() == 1


def test_an_order_needs_a_title(owner, enquiry):
    answer = do(owner, enquiry, "order", title="", place="Sorrel Bank")
    assert answer.status_code == 422
    assert "Type what you call it" in answer.content.decode()
    assert "Sorrel Bank" in answer.content.decode()


def test_it_can_be_reckoned_anew(owner, enquiry):
    Enquiry.objects.filter(pk=enquiry.pk).update(low=1, high=2)
    do(owner, enquiry, "answer")
    assert (enquiry.low, enquiry.high) == (72000, 86000)


def test_a_memorial_has_no_cheerful_word_and_nothing_is_sent_by_itself(owner, enquiry):
    Enquiry.objects.filter(pk=enquiry.pk).update(memorial=True)
    words = page(owner, enquiry)
    assert "Take all the time you want" in words
    assert "!" not in words.split('id="words">')[1].split("</p>")[0]
    assert "Nothing is sent by itself" in words


def test_a_day_that_cannot_be_kept_is_said_with_its_reason(owner, enquiry, shop):
    Enquiry.objects.filter(pk=enquiry.pk).update(needed_by=shop.today() + timedelta(days=3))
    words = page(owner, enquiry)
    assert "Cannot be before" in words
    assert "so that day is too early" in words
    assert "I cannot have it ready by" in words


@pytest.mark.parametrize("what", ["pencil", "eraser", "decline", "reopening", "order", "answer"])
def test_what_changes_something_is_no_link_and_not_for_helpers(client, shop, bo, ada, enquiry, what):
    client.force_login(ada)
    assert client.get(f"/enquiries/{enquiry.pk}/{what}/").status_code == 405
    assert client.post("/enquiries/9999/" + what + "/", {"title": "x"}).status_code == 404
    client.force_login(bo)
    assert client.post(f"/enquiries/{enquiry.pk}/{what}/").status_code == 403
    client.logout()
    assert client.post(f"/enquiries/{enquiry.pk}/{what}/").url.startswith("/sign-in/")


def test_a_helper_sees_neither_price_nor_contact(client, shop, bo, enquiry):
    client.force_login(bo)
    assert client.get(f"/enquiries/{enquiry.pk}/").status_code == 403


def test_words_go_where_they_can_be_sent():
    assert unquote(where_to_send("her@example.test", "a & b")) == "mailto:her@example.test?body=a & b"
    assert where_to_send("text +1 (555) 014-2345", "hi").startswith("sms:+15550142345?")
    assert where_to_send("through her sister", "hi") == ""


def test_what_was_written_down_but_not_reckoned_says_so_and_can_be(owner):
    found = Enquiry.objects.create(name="A coach of Cinder Cross", reach="555 0160", shirts=12)
    page = owner.get(f"/enquiries/{found.pk}/").text
    assert "Not reckoned yet" in page
    assert "not on the price list" not in page
    assert "Reckon it" in page
    owner.post(f"/enquiries/{found.pk}/answer/")
    found.refresh_from_db()
    assert found.answered_at is not None
    assert found.high


def test_other_ways_are_looked_for_behind_the_first_answer_and_come_by_themselves(owner, enquiry):
    do(owner, enquiry, "answer")
    first = page(owner, enquiry)
    assert "Looking longer." in first
    assert f'hx-get="/enquiries/{enquiry.pk}/ways/"' in first
    errands.run_due()
    told = owner.get(f"/enquiries/{enquiry.pk}/ways/", headers={"HX-Request": "true"}).content.decode()
    assert "Rush, ahead of the others" in told
    assert "Smaller, without a border" in told
    assert 'id="letter" hx-swap-oob="true"' in told  # the words name the day that was found by now
    assert "thank you for asking" in told
    assert "Looking longer." not in told
    assert "hx-get" not in told
    assert owner.get(f"/enquiries/{enquiry.pk}/ways/").status_code == 302


def test_ways_of_yesterday_are_told_no_more(owner, enquiry):
    do(owner, enquiry, "answer")
    errands.run_due()
    search = enquiry_ways.search_of(enquiry)
    search.payload["day"] = "2020-01-01"
    search.save()
    assert "Other ways" not in page(owner, enquiry)


def test_a_day_on_which_the_shop_is_closed_is_said_beside_the_answer(owner, enquiry, shop):
    Enquiry.objects.filter(pk=enquiry.pk).update(needed_by=shop.today() + timedelta(days=40))
    do(owner, enquiry, "answer")
    assert "the shop is closed" not in page(owner, enquiry)
    DayOff.objects.create(person=None, day=shop.today() + timedelta(days=40), words="the coast")
    assert "the shop is closed (the coast): it leaves before that day." in page(owner, enquiry)

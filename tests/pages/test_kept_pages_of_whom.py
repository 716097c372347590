"""A kept page is of one person in one browser, and of nobody who may not see it any more."""

from __future__ import annotations

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from orders.models import Link, Person, SignIn
from orders.workroom import let_go
from tests.pages.kept import address, look, owner, pages_are_drawn  # noqa: F401  (fixtures)

pytestmark = pytest.mark.django_db


def test_a_helper_never_gets_the_page_of_an_owner(owner, agreed, bo):  # noqa: F811
    helper = Client()
    helper.force_login(bo)
    helper.get(reverse("quilts"))
    for name in ("today", "quilts", "order-bag", "order-quilt", "order-bench"):
        place = address(name, agreed)
        look(owner, place)
        hers, from_memory = look(helper, place)
        assert not from_memory
        assert ">Books<" not in hers
    look(owner, address("order-account", agreed))
    assert helper.get(address("order-account", agreed)).status_code == 403


def test_who_becomes_a_helper_in_the_same_sign_in_sees_no_more(owner, agreed, ada):  # noqa: F811
    place = address("order-account", agreed)
    look(owner, place)
    Person.objects.filter(pk=ada.pk).update(role=Person.Role.HELPER)
    assert owner.get(place).status_code == 403


def test_a_sign_in_that_was_ended_opens_no_kept_page(owner, agreed, ada):  # noqa: F811
    look(owner, "/quilts/")
    SignIn.objects.of(ada).end(by=ada)
    assert owner.get("/quilts/").status_code == 302


def test_a_sign_in_whose_row_is_simply_gone_opens_none(owner, agreed):  # noqa: F811
    look(owner, "/quilts/")
    SignIn.objects.all().delete()
    assert owner.get("/quilts/").status_code == 302


def test_who_was_let_go_and_who_signed_out_get_none(owner, agreed, bo, ada):  # noqa: F811
    helper = Client()
    helper.force_login(bo)
    look(helper, "/quilts/")
    look(owner, "/quilts/")
    let_go(bo, by=ada)
    owner.post("/sign-out/")
    assert helper.get("/quilts/").status_code == owner.get("/quilts/").status_code == 302


def test_two_owners_in_two_browsers_have_pages_of_their_own(owner, agreed, ada):  # noqa: F811
    other = Client()
    other.force_login(ada)
    other.get(reverse("workroom"))
    look(owner, "/quilts/")
    assert not look(other, "/quilts/")[1]


def test_a_link_that_was_closed_opens_no_kept_page(hers, agreed):
    client = hers(agreed)
    for _ in range(2):
        look(client, "/for-you/")
    Link.objects.update(revoked_at=timezone.now())
    assert client.get("/for-you/").status_code == 404


def test_the_link_of_another_order_opens_none(hers, agreed, ada, aunt):
    first, other = hers(agreed), Client()
    look(first, "/for-you/")
    assert other.get("/for-you/").status_code == 404

"""Before the shop is set up, every address answers, and none lets in whom it would not let in later."""

from __future__ import annotations

import pytest
from django.urls import get_resolver
from django.urls.converters import IntConverter

from tests.pages.callers import ANYONE, CUSTOMER, ROWS, address, answer_to, expected, is_in

pytestmark = pytest.mark.django_db
WORDS = {"token": "no-such-token", "feed": "no-such-feed", "week": "2027-07-05"}


@pytest.mark.parametrize("caller", ["nobody", "helper", "owner"])
def test_before_the_shop_is_set_up_nothing_breaks_and_nobody_gets_in(client, ada, bo, caller):
    for name, row in ROWS.items():
        numbers = WORDS | dict.fromkeys(numbered(name, row), 1)
        for method, who in (("GET", row.look), ("POST", row.do)):
            client.cookies.clear()
            if caller != "nobody":
                client.force_login({"helper": bo, "owner": ada}[caller])
            answer = client.generic(method, address(name, row, numbers))
            assert answer.status_code < 500, name
            if who not in ("", ANYONE, CUSTOMER) and not is_in(who, caller):
                assert answer_to(answer) in (expected(who, caller), "not found"), name


def numbered(name, row):
    """Return what of an address is a number, as its pattern says."""
    kinds = get_resolver().reverse_dict.getlist(name)[0][3]
    return [part for part, kind in zip(row.of, kinds.values(), strict=True) if isinstance(kind, IntConverter)]

"""Before the shop is set up, every address answers, and none lets in whom it would not let in later."""

from __future__ import annotations

import pytest

from tests.pages.callers import ANYONE, CUSTOMER, ROWS, address, answer_to, expected, is_in

pytestmark = pytest.mark.django_db
STAND_INS = (
    "order", "bag", "photo", "her photo", "enquiry", "cloth", "piece", "helper", "stage", "deed", "day off",
    "line", "receipt", "link", "cut list", "panel", "her panel", "rectangle", "tag",
    "tool", "incident", "panel photo",
)  # fmt: skip


@pytest.mark.parametrize("caller", ["nobody", "helper", "owner"])
def test_before_the_shop_is_set_up_nothing_breaks_and_nobody_gets_in(client, ada, bo, caller):
    numbers = dict.fromkeys(STAND_INS, 1) | {"token": "no-such-token"}
    for name, row in ROWS.items():
        for method, who in (("GET", row.look), ("POST", row.do)):
            client.cookies.clear()
            if caller != "nobody":
                client.force_login({"helper": bo, "owner": ada}[caller])
            answer = client.generic(method, address(name, row, numbers))
            assert answer.status_code < 500, name
            if who not in ("", ANYONE, CUSTOMER) and not is_in(who, caller):
                assert answer_to(answer) in (expected(who, caller), "not found"), name

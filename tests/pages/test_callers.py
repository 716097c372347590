"""Each address, who calls it and how: nothing is open that is not listed here."""

import pytest
from django.urls import get_resolver

pytestmark = pytest.mark.django_db

DOOR = "/sign-in/?next="
# name → method → what somebody signed out, the helper and the owner get: a status, or where they are sent
CALLERS = {
    "today": {"GET": (DOOR + "/", 200, "/set-up/"), "POST": (405, 405, 405)},
    "sign-in": {"GET": (200, "/", "/"), "POST": (422, "/", "/"), "DELETE": (405, 405, 405)},
    "sign-out": {"GET": (405, 405, 405), "POST": ("/sign-in/", "/sign-in/", "/sign-in/")},
    "photo": {"GET": (DOOR + "/photos/1/320.jpg", 404, 404), "POST": (405, 405, 405)},
    "photo-part": {"GET": (DOOR + "/photos/1/320/", 404, 404), "POST": (405, 405, 405)},
    "new-enquiry": {
        "GET": (DOOR + "/enquiries/new/", 403, "/set-up/"),
        "POST": (DOOR + "/enquiries/new/", 403, "/set-up/"),
    },
    "enquiry": {"GET": (DOOR + "/enquiries/1/", 403, "/set-up/"), "POST": (405, 405, 405)},
    "enquiry-answer": {"GET": (405, 405, 405), "POST": (DOOR + "/enquiries/1/answer/", 403, "/set-up/")},
    "enquiry-pencil": {"GET": (405, 405, 405), "POST": (DOOR + "/enquiries/1/pencil/", 403, "/set-up/")},
    "enquiry-eraser": {"GET": (405, 405, 405), "POST": (DOOR + "/enquiries/1/eraser/", 403, "/set-up/")},
    "enquiry-decline": {"GET": (405, 405, 405), "POST": (DOOR + "/enquiries/1/decline/", 403, "/set-up/")},
    "enquiry-reopening": {
        "GET": (405, 405, 405),
        "POST": (DOOR + "/enquiries/1/reopening/", 403, "/set-up/"),
    },
    "enquiry-order": {"GET": (405, 405, 405), "POST": (DOOR + "/enquiries/1/order/", 403, "/set-up/")},
    "order-bag": {"GET": (DOOR + "/quilts/1/bag/", 404, 404), "POST": (405, 405, 405)},
    "bag-arrival": {
        "GET": (DOOR + "/quilts/1/bag/arrival/", 404, 404),
        "POST": (DOOR + "/quilts/1/bag/arrival/", 404, 404),
    },
    "bag-sharing": {"GET": (405, 405, 405), "POST": (DOOR + "/quilts/1/bag/sharing/", 404, 404)},
    "order-log": {
        "GET": (DOOR + "/quilts/1/bag/log/", 404, 404),
        "POST": (DOOR + "/quilts/1/bag/log/", 404, 404),
    },
    "bag": {"GET": (DOOR + "/quilts/1/bag/1/", 404, 404), "POST": (DOOR + "/quilts/1/bag/1/", 404, 404)},
    "bag-receipt": {"GET": (405, 405, 405), "POST": (DOOR + "/quilts/1/bag/1/receipt/", 403, 404)},
    "shirt": {
        "GET": (DOOR + "/quilts/1/shirts/1/", 200, "/set-up/"),
        "POST": (DOOR + "/quilts/1/shirts/1/", 200, "/set-up/"),
    },
    "shirt-panels": {"GET": (405, 405, 405), "POST": (DOOR + "/quilts/1/shirts/1/panels/", 200, "/set-up/")},
    "shirt-panel": {
        "GET": (405, 405, 405),
        "POST": (DOOR + "/quilts/1/shirts/1/panels/front/", 200, "/set-up/"),
    },
    "shirt-photos": {"GET": (405, 405, 405), "POST": (DOOR + "/quilts/1/shirts/1/photos/", 200, "/set-up/")},
    "shirt-return": {"GET": (405, 405, 405), "POST": (DOOR + "/quilts/1/shirts/1/return/", 404, 404)},
    "shirt-absence": {"GET": (405, 405, 405), "POST": (DOOR + "/quilts/1/shirts/1/absence/", 404, 404)},
    "shirt-finding": {"GET": (405, 405, 405), "POST": (DOOR + "/quilts/1/shirts/1/finding/", 404, 404)},
    "shelf": {"GET": (DOOR + "/shelf/", 200, "/set-up/"), "POST": (405, 405, 405)},
    "cloth-new": {
        "GET": (DOOR + "/shelf/new/", 403, "/set-up/"),
        "POST": (DOOR + "/shelf/new/", 403, "/set-up/"),
    },
    "cloth": {"GET": (DOOR + "/shelf/1/", 403, "/set-up/"), "POST": (DOOR + "/shelf/1/", 403, "/set-up/")},
    "cloth-pieces": {"GET": (405, 405, 405), "POST": (DOOR + "/shelf/1/pieces/", 403, "/set-up/")},
    "cloth-piece-end": {"GET": (405, 405, 405), "POST": (DOOR + "/shelf/1/pieces/1/end/", 404, 404)},
    "cloth-piece-back": {"GET": (405, 405, 405), "POST": (DOOR + "/shelf/1/pieces/1/back/", 404, 404)},
    "cloth-away": {"GET": (405, 405, 405), "POST": (DOOR + "/shelf/1/away/", 403, 404)},
    "cloth-back": {"GET": (405, 405, 405), "POST": (DOOR + "/shelf/1/back/", 403, 404)},
    "paper": {"GET": (DOOR + "/papers/1.pdf", 404, 404), "POST": (405, 405, 405)},
    "order-account": {"GET": (DOOR + "/quilts/99/account/", 403, 404), "POST": (405, 405, 405)},
    "order-line": {"POST": (DOOR + "/quilts/99/account/lines/", 403, 404), "GET": (405, 405, 405)},
    "order-line-removal": {
        "POST": (DOOR + "/quilts/99/account/lines/1/removal/", 403, 404),
        "GET": (405, 405, 405),
    },
    "order-quote": {"POST": (DOOR + "/quilts/99/account/quotes/", 403, 404), "GET": (405, 405, 405)},
    "order-quote-acceptance": {
        "POST": (DOOR + "/quilts/99/account/quotes/1/acceptance/", 403, 404),
        "GET": (405, 405, 405),
    },
    "order-quote-withdrawal": {
        "POST": (DOOR + "/quilts/99/account/quotes/1/withdrawal/", 403, 404),
        "GET": (405, 405, 405),
    },
    "order-payment": {"POST": (DOOR + "/quilts/99/account/payments/", 403, 404), "GET": (405, 405, 405)},
    "order-payment-reversal": {
        "POST": (DOOR + "/quilts/99/account/payments/1/reversal/", 403, 404),
        "GET": (405, 405, 405),
    },
    "order-link": {"POST": (DOOR + "/quilts/99/account/links/", 403, 404), "GET": (405, 405, 405)},
    "order-link-closing": {
        "POST": (DOOR + "/quilts/99/account/links/1/closing/", 403, 404),
        "GET": (405, 405, 405),
    },
    "order-hand-over": {
        "GET": (DOOR + "/quilts/99/hand-over/", 403, 404),
        "POST": (DOOR + "/quilts/99/hand-over/", 403, 404),
        "DELETE": (405, 405, 405),
    },
    "books": {"GET": (DOOR + "/books/", 403, "/set-up/"), "POST": (405, 405, 405)},
    "books-entries": {"GET": (DOOR + "/books/2027-05.csv", 403, 200), "POST": (405, 405, 405)},
    "for-you": {"GET": (404, 404, 404), "POST": (405, 405, 405)},
    "for-you-price": {"POST": (404, 404, 404), "GET": (405, 405, 405)},
    "for-you-picture": {"POST": (404, 404, 404), "GET": (405, 405, 405)},
    "for-you-wish": {"POST": (404, 404, 404), "GET": (405, 405, 405)},
    "for-you-photo": {"GET": (404, 404, 404), "POST": (405, 405, 405)},
    "for-you-open": {"GET": (404, 404, 404), "POST": (405, 405, 405)},
    "health": {"GET": (200, 200, 200), "POST": (405, 405, 405)},
}
ADDRESSES = {
    "today": "/",
    "sign-in": "/sign-in/",
    "sign-out": "/sign-out/",
    "photo": "/photos/1/320.jpg",
    "photo-part": "/photos/1/320/",
    "new-enquiry": "/enquiries/new/",
    "enquiry": "/enquiries/1/",
    "enquiry-answer": "/enquiries/1/answer/",
    "enquiry-pencil": "/enquiries/1/pencil/",
    "enquiry-eraser": "/enquiries/1/eraser/",
    "enquiry-decline": "/enquiries/1/decline/",
    "enquiry-reopening": "/enquiries/1/reopening/",
    "enquiry-order": "/enquiries/1/order/",
    "order-bag": "/quilts/1/bag/",
    "bag-arrival": "/quilts/1/bag/arrival/",
    "bag-sharing": "/quilts/1/bag/sharing/",
    "order-log": "/quilts/1/bag/log/",
    "bag": "/quilts/1/bag/1/",
    "bag-receipt": "/quilts/1/bag/1/receipt/",
    "shirt": "/quilts/1/shirts/1/",
    "shirt-panels": "/quilts/1/shirts/1/panels/",
    "shirt-panel": "/quilts/1/shirts/1/panels/front/",
    "shirt-photos": "/quilts/1/shirts/1/photos/",
    "shirt-return": "/quilts/1/shirts/1/return/",
    "shirt-absence": "/quilts/1/shirts/1/absence/",
    "shirt-finding": "/quilts/1/shirts/1/finding/",
    "shelf": "/shelf/",
    "cloth-new": "/shelf/new/",
    "cloth": "/shelf/1/",
    "cloth-pieces": "/shelf/1/pieces/",
    "cloth-piece-end": "/shelf/1/pieces/1/end/",
    "cloth-piece-back": "/shelf/1/pieces/1/back/",
    "cloth-away": "/shelf/1/away/",
    "cloth-back": "/shelf/1/back/",
    "paper": "/papers/1.pdf",
    "order-account": "/quilts/99/account/",
    "order-line": "/quilts/99/account/lines/",
    "order-line-removal": "/quilts/99/account/lines/1/removal/",
    "order-quote": "/quilts/99/account/quotes/",
    "order-quote-acceptance": "/quilts/99/account/quotes/1/acceptance/",
    "order-quote-withdrawal": "/quilts/99/account/quotes/1/withdrawal/",
    "order-payment": "/quilts/99/account/payments/",
    "order-payment-reversal": "/quilts/99/account/payments/1/reversal/",
    "order-link": "/quilts/99/account/links/",
    "order-link-closing": "/quilts/99/account/links/1/closing/",
    "order-hand-over": "/quilts/99/hand-over/",
    "books": "/books/",
    "books-entries": "/books/2027-05.csv",
    "for-you": "/for-you/",
    "for-you-price": "/for-you/price/",
    "for-you-picture": "/for-you/picture/",
    "for-you-wish": "/for-you/wish/",
    "for-you-photo": "/for-you/photos/1/320.jpg",
    "for-you-open": "/for-you/no-such-token/",
    "health": "/healthz",
}

QUILT = "/quilts/99/quilt/"
CALLERS["order-quilt"] = {"GET": (DOOR + QUILT, 404, 404), "POST": (405, 405, 405)}
CALLERS["order-quilt-picture"] = {"GET": (DOOR + QUILT + "picture.jpg", 404, 404), "POST": (405, 405, 405)}
ADDRESSES |= {"order-quilt": QUILT, "order-quilt-picture": QUILT + "picture.jpg"}
for noun in (
    "wish", "layout", "trade", "turn", "leaving-out", "bringing-back", "undoing",
    "cloth", "setting-aside", "question", "yes-to-cut", "yes-to-picture", "withdrawal",
):  # fmt: skip
    ADDRESSES[f"order-quilt-{noun}"] = f"{QUILT}{noun}/"
    CALLERS[f"order-quilt-{noun}"] = {"GET": (405, 405, 405), "POST": (f"{DOOR}{QUILT}{noun}/", 403, 404)}

CALLERS |= {
    "set-up": {"GET": (DOOR + "/set-up/", 403, 200), "POST": (DOOR + "/set-up/", 403, 422)},
    "first-owner": {
        "GET": ("/sign-in/", "/sign-in/", "/sign-in/"),
        "POST": ("/sign-in/", "/sign-in/", "/sign-in/"),
    },
}
ADDRESSES |= {"set-up": "/set-up/", "first-owner": "/set-up/owner/"}
# What only a shop has: before it is set up the owner is led there, and a helper is told to wait.
READ = {
    "quilts": ("/quilts/", 200),
    "weeks": ("/weeks/", 403),
    "workroom": ("/workroom/", 403),
    "workroom-care": ("/workroom/care/", 403),
    "order-bench": ("/quilts/99/bench/", 200),
}
SENT = {
    "weeks-days-off": ("/weeks/days-off/", 403),
    "weeks-day-on": ("/weeks/days-off/1/removal/", 403),
    "workroom-leave": ("/workroom/people/1/leave/", 403),
    "workroom-comeback": ("/workroom/people/1/comeback/", 403),
    "bench-undo": ("/quilts/99/bench/taken-back/1/", 200),
    "stage-start": ("/stages/1/start/", 200),
    "stage-pause": ("/stages/1/pause/", 200),
    "stage-finish": ("/stages/1/finish/", 200),
    "stage-pin": ("/stages/1/pin/", 403),
}
BOTH = {
    "workroom-part": ("/workroom/prices/", 403),
    "workroom-week": ("/workroom/people/1/week/", 403),
    "workroom-helper": ("/workroom/helper/", 403),
    "bench-pile": ("/quilts/99/bench/table/", 200),
}
for name, (url, helper) in (READ | SENT | BOTH).items():
    let_in, shut = (DOOR + url, helper, "/set-up/"), (405, 405, 405)
    ADDRESSES[name] = url
    CALLERS[name] = {"GET": shut if name in SENT else let_in, "POST": shut if name in READ else let_in}


def patterns(resolver):
    for entry in resolver.url_patterns:
        yield from patterns(entry) if hasattr(entry, "url_patterns") else [entry]


def test_every_address_of_the_site_is_in_the_table():
    assert {pattern.name for pattern in patterns(get_resolver())} == CALLERS.keys() == ADDRESSES.keys()


def test_every_view_says_who_may_open_it():
    assert [p.name for p in patterns(get_resolver()) if not getattr(p.callback, "callers", ())] == []


@pytest.mark.parametrize("caller", [0, 1, 2], ids=["nobody", "helper", "owner"])
@pytest.mark.parametrize("name", CALLERS)
def test_each_caller_gets_what_the_table_says(client, ada, bo, name, caller):
    for method, expected in CALLERS[name].items():
        client.logout()
        if caller:
            client.force_login([bo, ada][caller - 1])
        answer = client.generic(method, ADDRESSES[name])
        assert getattr(answer, "url", answer.status_code) == expected[caller], method

"""Each address, who calls it and how: nothing is open that is not listed here."""

import pytest
from django.urls import get_resolver

pytestmark = pytest.mark.django_db

DOOR = "/sign-in/?next="
# name → method → what somebody signed out, the helper and the owner get: a status, or where they are sent
CALLERS = {
    "home": {"GET": (DOOR + "/", 200, 200), "POST": (405, 405, 405)},
    "sign-in": {"GET": (200, "/", "/"), "POST": (422, "/", "/"), "DELETE": (405, 405, 405)},
    "sign-out": {"GET": (405, 405, 405), "POST": ("/sign-in/", "/sign-in/", "/sign-in/")},
    "photo": {"GET": (DOOR + "/photos/1/320.jpg", 404, 404), "POST": (405, 405, 405)},
    "photo-part": {"GET": (DOOR + "/photos/1/320/", 404, 404), "POST": (405, 405, 405)},
    "paper": {"GET": (DOOR + "/papers/1.pdf", 404, 404), "POST": (405, 405, 405)},
    "health": {"GET": (200, 200, 200), "POST": (405, 405, 405)},
}
ADDRESSES = {
    "home": "/",
    "sign-in": "/sign-in/",
    "sign-out": "/sign-out/",
    "photo": "/photos/1/320.jpg",
    "photo-part": "/photos/1/320/",
    "paper": "/papers/1.pdf",
    "health": "/healthz",
}


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

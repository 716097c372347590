"""Going out again."""

import pytest

pytestmark = pytest.mark.django_db


def test_it_ends_the_session(client, ada):
    client.force_login(ada)
    answer = client.post("/sign-out/")
    assert (answer.status_code, answer.url) == (302, "/sign-in/")
    assert client.get("/").url == "/sign-in/?next=/"


def test_a_link_cannot_do_it(client, shop, ada):
    client.force_login(ada)
    assert client.get("/sign-out/").status_code == 405
    assert client.get("/").status_code == 200

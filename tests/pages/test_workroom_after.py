"""The owner's terms for what comes after the yes: nothing is set alone, and a half-filled part comes back."""

import pytest

from orders.models import Shop

pytestmark = pytest.mark.django_db
PLACE = "/workroom/after/"


@pytest.fixture
def owner(client, ada, shop):
    client.force_login(ada)
    return client


def test_at_first_nothing_is_set(owner, shop):
    assert shop.settling == {}
    assert "Nothing is set, so nothing is ever proposed" in owner.get("/workroom/").content.decode()


def test_what_is_set_is_kept_and_shown_again(owner):
    said = {
        "included": "2", "round_each": "20", "free": "30", "a_day": "1", "most": "60", "fee-0": "25",
        "materials-1": "on", "share-2": "100",
    }  # fmt: skip
    assert owner.post(PLACE, said).status_code == 302
    assert Shop.objects.get().settling == {
        "rounds": {"included": 2, "each": 2000},
        "storage": {"free": 30, "a_day": 100, "most": 6000},
        "called_off": {
            "before cloth": {"fee": 2500, "share": "0", "materials": False},
            "cloth bought": {"fee": 0, "share": "0", "materials": True},
            "cut": {"fee": 0, "share": "1", "materials": False},
        },
    }
    shown = owner.get(PLACE).content.decode()
    assert 'value="60.00"' in shown
    assert 'value="100"' in shown


def test_emptied_it_proposes_nothing_again(owner):
    owner.post(PLACE, {"included": "2", "round_each": "20"})
    owner.post(PLACE, {})
    assert Shop.objects.get().settling == {}


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"included": "2"}, "Give this too"),
        ({"free": "30", "a_day": "1"}, "Give this too"),
        ({"free": "30", "a_day": "5", "most": "4"}, "at least one day’s storage"),
        ({"share-0": "101"}, "at most 100 per cent"),
        ({"share-0": "half"}, "Give per cent as a number"),
        ({"fee-0": "1.005"}, "finer than USD"),
    ],
)
def test_what_makes_no_sense_comes_back_and_nothing_is_kept(owner, said, words):
    answer = owner.post(PLACE, said)
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert Shop.objects.get().settling == {}


def test_a_helper_does_not_see_it(client, bo, shop):
    client.force_login(bo)
    assert client.get(PLACE).status_code == 403

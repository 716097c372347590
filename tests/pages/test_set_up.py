"""An empty shop: the first owner, four questions, and a shop that knows its place."""

import pytest

from orders.countries import COUNTRIES, ELSEWHERE, place_choices, read_place
from orders.models import Person, Shop, WorkingWeek
from planner.price import Rule
from planner.units import currencies

pytestmark = pytest.mark.django_db

OWNER = {"name": "Ada", "password": "batting for seven quilts"}
ANSWERS = {"place": "US America/Chicago", "name": "Alder Steps", "hours": "25", "block": "40"}


def page(answer):
    return answer.content.decode()


def block_price(shop):
    return next(rule for rule in shop.shop_rules().rules if rule.per == "block")


def test_the_first_visitor_becomes_the_owner_and_goes_on_to_the_questions(client):
    assert client.get("/").url == "/sign-in/?next=/"
    assert client.get("/sign-in/").url == "/set-up/owner/"
    assert client.post("/set-up/owner/", OWNER).url == "/set-up/"
    assert Person.objects.get().role == "owner"
    assert client.get("/").url == "/set-up/"


def test_nobody_becomes_owner_of_a_shop_that_has_one(client, ada):
    assert client.get("/set-up/owner/").url == "/sign-in/"
    assert client.post("/set-up/owner/", {**OWNER, "name": "Eve"}).url == "/sign-in/"
    assert Person.objects.count() == 1


def test_a_weak_password_is_refused_beside_its_field_and_the_name_kept(client):
    answer = client.post("/set-up/owner/", {"name": "Ada", "password": "1234567890"})
    assert answer.status_code == 422
    assert 'value="Ada"' in page(answer)
    assert "1234567890" not in page(answer)
    assert "id_password-fault" in page(answer)
    assert not Person.objects.exists()


def test_a_name_of_blanks_is_no_name(client):
    assert client.post("/set-up/owner/", {**OWNER, "name": "  "}).status_code == 422


def test_the_place_comes_first_then_three_more(client, ada):
    client.force_login(ada)
    assert "Where is the shop?" in page(client.get("/set-up/"))
    second = page(client.get("/set-up/?place=DE"))
    assert "centimeters and meters" in second
    assert "paid in EUR" in second
    assert second.count("<label") == 3


def test_four_answers_open_the_shop(client, ada):
    client.force_login(ada)
    assert client.post("/set-up/", ANSWERS).url == "/"
    shop = Shop.objects.the()
    assert (shop.unit, shop.currency, shop.paper, shop.time_zone) == (
        "in", "USD", "letter", "America/Chicago",
    )  # fmt: skip
    assert WorkingWeek.objects.get(person=ada).minutes == [300] * 5 + [0, 0]
    assert block_price(shop).rate.minor == 4000
    assert client.get("/").status_code == 200


def test_hours_that_do_not_divide_keep_every_minute(client, ada):
    client.force_login(ada)
    client.post("/set-up/", {**ANSWERS, "hours": "13"})
    minutes = WorkingWeek.objects.get(person=ada).minutes
    assert sum(minutes) == 13 * 60


def test_answering_twice_opens_one_shop(client, ada):
    client.force_login(ada)
    client.post("/set-up/", ANSWERS)
    assert client.post("/set-up/", {**ANSWERS, "name": "Other"}).url == "/"
    assert Shop.objects.the().name == "Alder Steps"


@pytest.mark.parametrize("place", list(COUNTRIES))
def test_every_place_of_the_list_gives_rules_the_planner_reads(client, ada, place):
    client.force_login(ada)
    zone = COUNTRIES[place].zones
    chosen = place if len(zone) == 1 else f"{place} {zone[-1]}"
    client.post("/set-up/", {**ANSWERS, "place": chosen, "block": "3600"})
    rules = Shop.objects.the().shop_rules()
    assert {rule.rate.currency for rule in rules.rules} == {COUNTRIES[place].currency}
    assert isinstance(block_price(Shop.objects.the()), Rule)


def test_somewhere_else_asks_for_clock_unit_and_money(client, ada):
    client.force_login(ada)
    answer = client.post("/set-up/", {**ANSWERS, "place": ELSEWHERE})
    assert answer.status_code == 422
    for asked in ("Choose the nearest city.", "Choose the money", "Tap inches or centimeters."):
        assert asked in page(answer)
    elsewhere = {"place": ELSEWHERE, "time_zone": "Asia/Kuwait", "unit": "cm", "currency": "KWD"}
    assert client.post("/set-up/", {**ANSWERS, **elsewhere, "block": "9.500"}).url == "/"
    assert block_price(Shop.objects.the()).rate.minor == 9500


@pytest.mark.parametrize(
    ("field", "typed", "fault"),
    [
        ("name", "", "Give it a name."),
        ("hours", "0", "At least one hour"),
        ("hours", "many", "Give whole hours"),
        ("hours", "99", "more than anybody sews"),
        ("block", "", "Give a price to start from"),
        ("block", "lots", "lots"),
        ("block", "0", "more than nothing"),
        ("block", "1.234", "1.234"),
    ],
)
def test_a_bad_answer_comes_back_with_the_fault_beside_it(client, ada, field, typed, fault):
    client.force_login(ada)
    answer = client.post("/set-up/", {**ANSWERS, field: typed})
    assert answer.status_code == 422
    assert fault in page(answer)
    assert f"id_{field}-fault" in page(answer)
    assert Shop.objects.the() is None


def test_a_place_that_is_not_on_the_list_is_asked_again(client, ada):
    client.force_login(ada)
    assert client.get("/set-up/?place=XX").status_code == 422


def test_a_helper_cannot_set_up_the_shop(client, bo):
    client.force_login(bo)
    assert client.get("/set-up/").status_code == 403
    assert client.post("/set-up/", ANSWERS).status_code == 403


def test_places_have_clocks_that_exist_and_money_that_is_known():
    for country in COUNTRIES.values():
        assert country.currency in currencies()
        assert country.zones
    flat = [choice for _, sub in place_choices() for choice in (sub if isinstance(sub, list) else [])]
    assert read_place("US America/Denver") == ("US", "America/Denver")
    assert ("US America/Denver", "United States, Denver time") in flat

"""What taxes are on, how they are rounded, and a price with a least: all the owner's to set."""

import pytest

from orders.models import Shop

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner(client, ada, shop):
    client.force_login(ada)
    return client


def filled(client, part):
    form = client.get(f"/workroom/{part}/").context["form"]
    return {bound.name: bound.value() or "" for bound in form if bound.value() is not False}


def terms():
    return Shop.objects.get().shop_rules().terms


def test_a_tax_is_on_what_was_ticked_and_rounded_as_was_chosen(owner):
    said = {"words-0": "Goods", "rate-0": "6", "materials-0": "on", "shipping-0": "on", "tax_per": "line"}
    assert owner.post("/workroom/tax/", said).status_code == 302
    (tax,) = terms().taxes
    assert tax.kinds == {"materials", "shipping"}
    assert terms().tax_per == "line"
    shown = owner.get("/workroom/tax/").context["form"]
    assert (shown["materials-0"].value(), shown["labour-0"].value()) == (True, False)


def test_a_tax_on_nothing_comes_back(owner):
    answer = owner.post("/workroom/tax/", {"words-0": "Goods", "rate-0": "6"})
    assert answer.status_code == 422
    assert "Say at least one thing that it is on." in answer.content.decode()


def test_quilting_by_the_area_is_put_on_the_list_with_a_least(owner):
    said = filled(owner, "prices") | {"new_words": "Quilting", "new_per": "in2", "new_rate": "0.02"}
    assert owner.post("/workroom/prices/", said).status_code == 302
    place = len(Shop.objects.get().rules["rules"]) - 1
    said = filled(owner, "prices") | {f"least-{place}": "50"}
    assert owner.post("/workroom/prices/", said).status_code == 302
    rule = Shop.objects.get().shop_rules().rules[place]
    assert (rule.per, rule.rate.per, rule.rate.minor, rule.least.minor) == ("in2", "in2", 2, 5000)


def test_a_least_that_is_no_amount_comes_back_beside_its_field(owner):
    said = filled(owner, "prices") | {"least-0": "some"}
    answer = owner.post("/workroom/prices/", said)
    assert answer.status_code == 422
    assert "least-0" in answer.context["form"].errors


def test_what_is_often_charged_and_not_on_the_list_is_named(owner):
    shown = owner.get("/workroom/prices/").content.decode()
    assert "frame strips ($3 to $10)" in shown
    assert "composite blocks" not in shown


def test_a_price_for_each_pillow_is_put_on_the_list_and_no_longer_said_to_be_missing(owner):
    assert "pillow from what is left ($35 to $75)" in owner.get("/workroom/prices/").content.decode()
    said = filled(owner, "prices") | {"new_words": "Pillow", "new_per": "pillow", "new_rate": "55"}
    assert owner.post("/workroom/prices/", said).status_code == 302
    rule = Shop.objects.get().shop_rules().rules[-1]
    assert (rule.words, rule.per, rule.rate.per, rule.rate.minor) == ("Pillow", "pillow", "each", 5500)
    shown = owner.get("/workroom/prices/").content.decode()
    assert "each pillow" in shown
    assert "pillow from what is left" not in shown

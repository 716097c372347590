"""The workroom: every figure is the owner's, and none is kept that cannot be planned with."""

from decimal import Decimal

import pytest

from orders.models import Event, Person, Shop, WorkingWeek
from orders.views.workroom import PARTS

pytestmark = pytest.mark.django_db
HELPER = {"name": "Cy", "password": "threads and needles twelve", "stages": ["cut", "trim"]}


@pytest.fixture
def signed_in(client, ada, shop):
    client.force_login(ada)
    return client


def page(client, address="/workroom/"):
    answer = client.get(address)
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split())


def filled(client, part, **change):
    """Return the part's form as the page shows it, with changes."""
    form = client.get(f"/workroom/{part}/").context["form"]
    return {bound.name: bound.value() or "" for bound in form if bound.value() is not False} | change


def send(client, part, **change):
    return client.post(f"/workroom/{part}/", filled(client, part, **change))


def rules():
    return Shop.objects.the().shop_rules()


def test_the_page_shows_prices_people_and_the_sentence_about_tax(signed_in):
    seen = page(signed_in)
    for words in (
        "Blocks, all in",
        "$36.00",
        "Ada",
        "25\N{NO-BREAK SPACE}h".replace("\N{NO-BREAK SPACE}", " "),
    ):
        assert words in seen
    assert "ask the local tax authority or an accountant" in seen


@pytest.mark.parametrize("part", PARTS)
def test_a_part_kept_as_it_is_changes_nothing(signed_in, part):
    before = Shop.objects.the()
    assert send(signed_in, part).url == "/workroom/"
    after = Shop.objects.the()
    assert (after.name, after.unit, after.terms_text) == (before.name, before.unit, before.terms_text)
    assert after.shop_rules() == before.shop_rules()


def test_a_price_is_changed_added_and_taken_off(signed_in):
    send(
        signed_in,
        "prices",
        **{"rate-0": "40", "words-1": ""},
        new_words="A label",
        new_per="quilt",
        new_rate="9.50",
    )
    found = {rule.words: rule.rate.minor for rule in rules().rules}
    assert found["Blocks, all in"] == 4000
    assert "Sashing" not in found
    assert found["A label"] == 950


@pytest.mark.parametrize(
    ("part", "change", "field"),
    [
        ("prices", {"rate-3": "lots"}, "rate-3"),
        ("prices", {"words-1": "", "rate-3": "lots"}, "rate-3"),
        ("prices", {"new_words": "A label", "new_rate": "x"}, "new_rate"),
        ("minutes", {"minutes-2": "soon"}, "minutes-2"),
        ("minutes", {"minutes-2": "-5"}, "minutes-2"),
        ("tax", {"words-0": "Sales tax", "rate-0": "much"}, "rate-0"),
        ("rates", {"overhead": "x"}, "overhead"),
        ("rates", {"deposit": "x"}, "deposit"),
        ("rates", {"deposit": "150"}, "deposit"),
        ("rates", {"round_to": "x"}, "round_to"),
        ("rates", {"sundries": "x"}, "sundries"),
        ("quilter", {"over": "12.3", "rate": "0.03", "days": "7"}, "over"),
        ("quilter", {"over": "96", "rate": "x", "days": "7"}, "rate"),
        ("quilter", {"over": "96", "rate": "", "days": "7"}, "rate"),
        ("quilter", {"over": "96", "rate": "0.03", "days": ""}, "days"),
        ("shop", {"name": ""}, "name"),
        ("shop", {"cushion_days": "-1"}, "cushion_days"),
    ],
)
def test_a_bad_figure_comes_back_with_its_fault_and_nothing_is_kept(signed_in, part, change, field):
    before = Shop.objects.the().rules
    answer = send(signed_in, part, **change)
    assert answer.status_code == 422
    assert f"id_{field}-fault" in answer.content.decode()
    assert Shop.objects.the().rules == before


def test_what_was_typed_is_kept_on_the_page(signed_in):
    answer = send(signed_in, "prices", **{"rate-3": "lots", "words-0": "My own words"})
    assert "My own words" in answer.content.decode()
    assert 'value="lots"' in answer.content.decode()


def test_taxes_are_added_changed_and_taken_off(signed_in):
    send(signed_in, "tax", **{"words-0": "Sales tax", "rate-0": "7.25"})
    assert [(tax.words, tax.rate, tax.inclusive) for tax in rules().terms.taxes] == [
        ("Sales tax", Decimal("0.0725"), False)
    ]
    send(signed_in, "tax", **{"words-1": "County", "rate-1": "1", "inclusive-1": "on"})
    assert [(tax.words, tax.inclusive) for tax in rules().terms.taxes] == [
        ("Sales tax", False),
        ("County", True),
    ]
    send(signed_in, "tax", **{"words-0": ""})
    assert [tax.words for tax in rules().terms.taxes] == ["County"]
    assert "ask the local tax authority" in page(signed_in, "/workroom/tax/")


def test_rates_deposit_and_parts_are_kept(signed_in):
    send(
        signed_in, "rates", overhead="8", aim="35.50", deposit="40", rush="25", round_to="5", instalments="3"
    )
    kept = rules()
    assert (kept.overhead.minor, kept.aim.minor) == (800, 3550)
    assert (kept.terms.deposit, kept.terms.rush, kept.terms.instalments) == (
        Decimal("0.4"),
        Decimal("0.25"),
        3,
    )
    assert kept.terms.round_to.minor == 500


def test_the_quilter_outside_comes_and_goes(signed_in):
    send(signed_in, "quilter", over="96", rate="0.03", days="10", minutes="45", least="80")
    quilter = rules().quilter
    assert (quilter.over, quilter.days, quilter.minutes, quilter.least.minor) == (96 * 8128, 10, 45, 8000)
    send(signed_in, "quilter", over="")
    assert rules().quilter is None


def test_a_shop_that_turns_to_centimeters_keeps_its_lengths(signed_in):
    send(signed_in, "quilter", over="96", rate="0.03", days="10")
    send(signed_in, "shop", unit="cm")
    assert rules().quilter.over == 96 * 8128


def test_standard_minutes_are_hers(signed_in):
    send(signed_in, "minutes", **{"minutes-0": "5,5"})
    assert rules().standards[0].minutes == Decimal("5.5")


def test_terms_have_no_text_ready_made(signed_in):
    assert Shop.objects.the().terms_text == ""
    assert "ask somebody who knows the law" in page(signed_in, "/workroom/terms/")
    send(signed_in, "terms", terms_text="Leftovers go back.")
    assert "Leftovers go back." in page(signed_in)


def test_a_helper_is_taken_on_let_go_and_let_in_again(signed_in, client):
    answer = signed_in.post("/workroom/helper/", HELPER)
    cy = Person.objects.named("cy")
    assert answer.url == f"/workroom/people/{cy.pk}/week/"
    assert (cy.role, cy.week.stages) == ("helper", ["cut", "trim"])
    for _ in range(2):
        signed_in.post(f"/workroom/people/{cy.pk}/leave/")
    assert Person.objects.get(pk=cy.pk).is_active is False
    signed_in.post(f"/workroom/people/{cy.pk}/comeback/")
    assert Person.objects.get(pk=cy.pk).is_active is True
    assert Event.objects.filter(what="helper gone").count() == 1


def test_the_owner_cannot_be_let_go(signed_in, ada):
    assert signed_in.post(f"/workroom/people/{ada.pk}/leave/").status_code == 404


@pytest.mark.parametrize(
    ("change", "field"),
    [({"name": ""}, "name"), ({"name": "ADA"}, "name"), ({"password": "short"}, "password")],
)
def test_a_bad_helper_is_refused_beside_the_field(signed_in, change, field):
    answer = signed_in.post("/workroom/helper/", HELPER | change)
    assert answer.status_code == 422
    assert f"id_{field}-fault" in answer.content.decode()
    assert Person.objects.count() == 1


def week(**change):
    return {f"day-{n}": "0" for n in range(7)} | {"opens": "13:00"} | change


def test_hours_are_typed_as_hours(signed_in, ada):
    signed_in.post(
        f"/workroom/people/{ada.pk}/week/", week(**{"day-0": "5", "day-2": "4.5", "day-4": "4:30"})
    )
    kept = WorkingWeek.objects.get(person=ada)
    assert (kept.minutes, kept.opens) == ([300, 0, 270, 0, 270, 0, 0], 780)
    assert 'value="4:30"' in page(signed_in, f"/workroom/people/{ada.pk}/week/")


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"day-1": "many"}, "day-1"),
        ({"day-1": "12"}, "day-1"),
        ({"day-1": "-1"}, "day-1"),
        ({"opens": "x"}, "opens"),
    ],
)
def test_bad_hours_are_refused_beside_the_day(signed_in, ada, change, field):
    answer = signed_in.post(f"/workroom/people/{ada.pk}/week/", week(**change))
    assert answer.status_code == 422
    assert f"id_{field}-fault" in answer.content.decode()


def test_a_stage_that_would_be_left_to_nobody_is_named_beside_the_list(signed_in, ada, bo):
    address = f"/workroom/people/{ada.pk}/week/"
    WorkingWeek.objects.filter(person=bo).delete()
    answer = signed_in.post(address, week(stages=["log", "design", "wash", "cut", "fuse"]))
    assert answer.status_code == 422
    seen = " ".join(answer.content.decode().split())
    assert "Nobody would be left for trimming, making up blocks, joining" in seen
    assert "id_stages-fault" in seen
    assert seen.count(" checked") == 5
    assert signed_in.post(address, week()).status_code == 302


def test_every_bag_is_on_the_list_for_whoever_comes_after(signed_in, order, twelve_shirts):
    order.bags.update(place="Shelf 3, blue crate")
    seen = page(signed_in, "/workroom/care/")
    for words in ("An aunt of Ferncliff", "555 0131", "Shelf 3, blue crate", "The aunt’s surprise", ">12<"):
        assert words in seen


def test_a_helper_sees_none_of_it(client, shop, bo):
    client.force_login(bo)
    for address in ("", "prices/", "rates/", "care/", "helper/", f"people/{bo.pk}/week/"):
        assert client.get(f"/workroom/{address}").status_code == 403


def test_an_unknown_part_is_not_here(signed_in):
    assert signed_in.get("/workroom/attic/").status_code == 404
    assert signed_in.get("/workroom/people/99/week/").status_code == 404


def test_what_the_wash_and_the_squared_end_take_is_bought_besides(signed_in):
    assert send(signed_in, "cloth", squaring="2", shrinkage="3", overhang="3").url == "/workroom/"
    given = rules().allowances
    assert (given.squaring, given.shrinkage, given.overhang) == (2 * 8128, 30, 3 * 8128)
    assert "3 %" in page(signed_in)


@pytest.mark.parametrize(("field", "typed"), [("squaring", "-2"), ("shrinkage", "26"), ("overhang", "much")])
def test_what_cannot_be_added_to_cloth_comes_back_with_its_fault(signed_in, field, typed):
    answer = send(signed_in, "cloth", **{field: typed})
    assert answer.status_code == 422
    assert answer.context["form"].errors[field]
    assert rules().allowances.squaring == 0

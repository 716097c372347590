"""Who pays and in which shares: written on the Account room, by the owner alone, and safe to send twice."""

import pytest

from orders.account import money
from orders.account.portions import who_pays
from orders.models import Customer, Event, Order, Payer

pytestmark = pytest.mark.django_db
UNCLE = "An uncle of Ferncliff"


@pytest.fixture
def owner(client, ada):
    client.force_login(ada)
    return client


def send(client, order, **change):
    said = {f"payers-share-{each.pk}": each.share for each in order.payers.all()}
    said |= {"payers-name": "", "payers-phone": "", "payers-share": ""}
    return client.post(
        f"/quilts/{order.number}/account/payers/", said | {f"payers-{k}": v for k, v in change.items()}
    )


def shares(order):
    return list(order.payers.order_by("pk").values_list("customer__name", "share"))


def test_somebody_joins_with_a_share_and_sent_twice_is_once(owner, agreed, aunt):
    for _ in range(2):
        assert send(owner, agreed, name=UNCLE, phone="555 0142", share="2").status_code == 302
    assert shares(agreed) == [(aunt.name, 1), (UNCLE, 2)]
    assert Customer.objects.get(name=UNCLE).phone == "555 0142"
    assert Event.objects.filter(what="who pays").count() == 1
    page = owner.get(f"/quilts/{agreed.number}/account/").content.decode()
    assert "$166.92 is their share" in page
    assert "$333.84 is their share" in page


def test_who_is_known_by_that_name_is_that_customer(owner, order):
    known = Customer.objects.create(name=UNCLE, phone="555 0142")
    send(owner, order, name=" an UNCLE of ferncliff ", share="1")
    assert order.payers.filter(customer=known).exists()
    assert Customer.objects.count() == 2


def test_a_share_is_changed_and_amounts_divide_as_they_are(owner, agreed):
    send(owner, agreed, name=UNCLE, share="300")
    mine = agreed.payers.order_by("pk").first()
    assert send(owner, agreed, **{f"share-{mine.pk}": "200"}).status_code == 302
    parts = money.shares_of(agreed, money.owing_of(agreed))
    assert [each.share for each in parts] == [20030, 30046]  # 500.76 as 2 and 3: 200.304 and 300.456


def test_a_share_of_nothing_pays_no_longer(owner, agreed, aunt):
    send(owner, agreed, name=UNCLE, share="1")
    mine = agreed.payers.get(customer=aunt)
    assert send(owner, agreed, **{f"share-{mine.pk}": "0"}).status_code == 302
    assert shares(agreed) == [(UNCLE, 1)]


def test_somebody_has_to_pay(owner, order):
    mine = order.payers.get()
    answer = send(owner, order, **{f"share-{mine.pk}": "0"})
    assert answer.status_code == 422
    assert "Somebody has to pay." in answer.content.decode()
    assert order.payers.count() == 1


def test_who_has_paid_keeps_a_share_and_nothing_else_is_changed_either(owner, agreed, aunt):
    money.take_payment(agreed, minor=100, payer=aunt, method="cash", key="k", by=None)
    mine = agreed.payers.get()
    answer = send(owner, agreed, name=UNCLE, share="1", **{f"share-{mine.pk}": "0"})
    assert answer.status_code == 422
    assert "has paid some of it" in answer.content.decode()
    assert shares(agreed) == [(aunt.name, 1)]
    assert not Customer.objects.filter(name=UNCLE).exists()


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"name": UNCLE}, "Type the share they pay"),
        ({"share": "1"}, "Type who pays that."),
        ({"amount": "200"}, "Type who pays that."),
        ({"name": UNCLE, "amount": "200.001"}, "finer than USD allows"),
        ({"name": UNCLE, "amount": "-200"}, "more than nothing"),
        ({"name": UNCLE, "share": "-1"}, "Type a whole number"),
        ({"name": UNCLE, "share": "40000"}, "Type a whole number"),
        ({"name": UNCLE, "share": "half"}, "Type a whole number"),
        ({"name": "x" * 121, "share": "1"}, "120"),
    ],
)
def test_what_cannot_be_comes_back_filled_in_with_words(owner, order, change, words):
    answer = send(owner, order, **change)
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert Payer.objects.count() == 1


def test_the_club_gives_200_and_the_aunt_pays_the_rest(owner, agreed, aunt):
    """500.76 less 200.00 is 300.76."""
    for _ in range(2):
        assert send(owner, agreed, name="The booster club", amount="200").status_code == 302
    agreed.refresh_from_db()
    parts = money.shares_of(agreed, money.owing_of(agreed))
    assert [(each.payer.name, each.share) for each in parts] == [
        (aunt.name, 30076),
        ("The booster club", 20000),
    ]
    assert Event.objects.filter(what="who pays").count() == 1
    page = owner.get(f"/quilts/{agreed.number}/account/").content.decode()
    for words in ("$200.00, before it is shared", "share 1 of the rest", "$300.76 is their share"):
        assert words in page, words


def test_a_set_amount_over_the_price_is_no_more_than_the_price(owner, agreed):
    send(owner, agreed, name="The booster club", amount="2,000")
    agreed.refresh_from_db()
    assert [each.share for each in money.shares_of(agreed, money.owing_of(agreed))] == [0, 50076]


@pytest.fixture
def club(owner, agreed):
    """Return a club that gives 200.00 of it."""
    send(owner, agreed, name="The booster club", amount="200")
    return agreed.payers.get(customer__name="The booster club")


def test_a_set_amount_gives_way_to_a_share_again(owner, agreed, club):
    assert send(owner, agreed, **{f"share-{club.pk}": "3"}).status_code == 302
    agreed.refresh_from_db()
    assert [each.share for each in money.shares_of(agreed, money.owing_of(agreed))] == [12519, 37557]


def test_the_club_pays_no_longer_and_its_amount_goes_with_it(owner, agreed, club):
    assert send(owner, agreed, **{f"share-{club.pk}": "0"}).status_code == 302
    agreed.refresh_from_db()
    assert who_pays(agreed) == [(agreed.customer_id, 1, 0)]


def test_somebody_pays_what_the_set_amounts_leave(owner, order, aunt):
    mine = order.payers.get()
    answer = send(owner, order, **{f"share-{mine.pk}": "", f"amount-{mine.pk}": "200"})
    assert answer.status_code == 422
    assert "Somebody has to pay what the set amounts leave." in answer.content.decode()
    assert who_pays(order) == [(aunt.pk, 1, 0)]


def test_signed_out_helper_get_and_another_number(client, bo, ada, order):
    assert send(client, order, name=UNCLE, share="1").url.startswith("/sign-in/")
    client.force_login(bo)
    assert send(client, order, name=UNCLE, share="1").status_code == 403
    client.force_login(ada)
    assert client.get(f"/quilts/{order.number}/account/payers/").status_code == 405
    assert client.post("/quilts/999/account/payers/").status_code == 404
    assert Payer.objects.count() == 1


def rest(client, order, noun="pause", **said):
    return client.post(f"/quilts/{order.number}/account/{noun}/", {f"rest-{k}": v for k, v in said.items()})


def test_an_order_rests_with_its_reason_and_goes_on(owner, agreed):
    for why in ("until her sister’s shirts are here", "another reason"):
        assert rest(owner, agreed, why=why).status_code == 302
    agreed.refresh_from_db()
    assert agreed.paused_at
    page = owner.get(f"/quilts/{agreed.number}/account/").content.decode()
    assert "It rests" in page
    assert "Until her sister’s shirts are here." in page
    assert "Resting until her sister’s shirts are here" in page
    assert "another reason" not in page
    for _ in range(2):
        assert rest(owner, agreed, "going-on").status_code == 302
    agreed.refresh_from_db()
    assert (agreed.paused_at, agreed.why_paused) == (None, "")
    told = Event.objects.filter(what__in=("paused", "taken up again"))
    assert list(told.values_list("what", flat=True)) == ["paused", "taken up again"]


def test_a_rest_without_a_reason_comes_back(owner, order):
    answer = rest(owner, order, why="  ")
    assert answer.status_code == 422
    assert "Say why, or until when." in answer.content.decode()
    assert Order.objects.get().paused_at is None


def test_what_has_left_or_was_called_off_does_not_rest(owner, order, ada):
    order.cancel(by=ada)
    answer = rest(owner, order, why="until May")
    assert answer.status_code == 409
    assert "not in the workroom any more" in answer.content.decode()
    assert Order.objects.get().paused_at is None
    assert "Pause this order" not in owner.get(f"/quilts/{order.number}/account/").content.decode()


@pytest.mark.parametrize("noun", ["pause", "going-on"])
def test_only_the_owner_pauses_and_never_by_looking(client, bo, ada, order, noun):
    assert rest(client, order, noun, why="x").url.startswith("/sign-in/")
    client.force_login(bo)
    assert rest(client, order, noun, why="x").status_code == 403
    client.force_login(ada)
    assert client.get(f"/quilts/{order.number}/account/{noun}/").status_code == 405
    assert Order.objects.get().paused_at is None

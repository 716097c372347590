"""Lines and discounts that the owner adds to the next quote."""

import pytest

from orders.models import ExtraLine

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner(client, ada):
    client.force_login(ada)
    return client


def add(client, order, **change):
    said = {"line-words": "For a neighbor", "line-amount": "20", "line-kind": "credit", **change}
    return client.post(f"/quilts/{order.number}/account/lines/", said)


def test_a_discount_is_taken_off_the_price(owner, drawn):
    answer = add(owner, drawn)
    assert answer.status_code == 302
    shown = owner.get(answer.url).content.decode()
    assert "−$20.00" in shown
    assert "$479.36" in shown


def test_an_added_line_raises_it(owner, drawn):
    add(owner, drawn, **{"line-words": "Label", "line-amount": "15.00", "line-kind": "labour"})
    assert ExtraLine.objects.get().minor == 1500


@pytest.mark.parametrize(
    ("amount", "words"),
    [
        ("", "Type the amount."),
        ("twenty", "is not an amount"),
        ("0", "more than nothing"),
        ("1.234", "finer than USD allows"),
        ("-5", "more than nothing"),
    ],
)
def test_an_amount_that_makes_no_sense_comes_back_beside_its_field(owner, drawn, amount, words):
    answer = add(owner, drawn, **{"line-amount": amount})
    shown = answer.content.decode()
    assert answer.status_code == 422
    assert words in shown
    assert 'value="For a neighbor"' in shown
    assert not ExtraLine.objects.exists()


def test_a_line_is_left_out_again(owner, drawn):
    add(owner, drawn)
    line = ExtraLine.objects.get()
    assert owner.post(f"/quilts/{drawn.number}/account/lines/{line.pk}/removal/").status_code == 302
    assert not ExtraLine.objects.exists()


def test_a_line_of_another_order_is_not_touched(owner, drawn, aunt, ada):
    from orders.models import Order

    add(owner, drawn)
    other = Order.objects.open(title="Another", customer=aunt, by=ada)
    owner.post(f"/quilts/{other.number}/account/lines/{ExtraLine.objects.get().pk}/removal/")
    assert ExtraLine.objects.count() == 1

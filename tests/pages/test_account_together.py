"""Two orders told as one quote on the Account room: ticked, told, said yes to once, and taken back."""

import pytest

from orders.account import told_together
from orders.models import ExtraLine, Order, Payer, Quote

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner(client, ada):
    client.force_login(ada)
    return client


@pytest.fixture
def beside(drawn, aunt, ada):
    """Return a second order of the aunt's, a repair with a line of 100.00."""
    made = Order.objects.open(title="Her old quilt mended", customer=aunt, by=ada, kind="repair")
    ExtraLine.objects.create(order=made, words="Mending", kind="labour", minor=10000, added_by=ada)
    return made


def issue(owner, order, *also):
    numbers = [each.number for each in also]
    return owner.post(f"/quilts/{order.number}/account/quotes/", {"also": numbers})


def room(owner, order):
    return owner.get(f"/quilts/{order.number}/account/").content.decode()


def test_the_other_order_can_be_ticked_and_its_box_goes_with_the_main_button(owner, drawn, beside):
    shown = room(owner, drawn)
    assert "Tell it together with" in shown
    box = shown[shown.index('name="also"') - 200 :][:400]
    assert 'form="issue"' in box
    assert 'id="issue"' in shown


def test_an_order_of_somebody_else_cannot_be_ticked(owner, drawn, beside, ada):
    from orders.models import Customer

    other = Order.objects.open(title="Another", customer=Customer.objects.create(name="A stranger"), by=ada)
    assert "Another" not in room(owner, drawn)
    answer = issue(owner, drawn, other)
    assert answer.status_code == 422
    assert "cannot be told with this one" in answer.content.decode()
    assert not Quote.objects.exists()


def test_what_is_in_the_way_of_the_other_names_it(owner, drawn, aunt, ada):
    bare = Order.objects.open(title="Nothing drawn", customer=aunt, by=ada)
    answer = issue(owner, drawn, bare)
    assert answer.status_code == 422
    assert f"No. {bare.number}: No layout is drawn yet." in answer.content.decode()
    assert not Quote.objects.exists()


def test_both_are_told_as_one_and_each_room_says_so(owner, drawn, beside):
    """500.76 and 100.00 with 7 % tax: 107.00; half first of 607.76 is 303.88."""
    assert issue(owner, drawn, beside).status_code == 302
    for order in (drawn, beside):
        shown = room(owner, order)
        assert "Told together: $607.76, $303.88 first." in shown
        assert "Her old quilt mended" in shown


def test_one_yes_counts_for_both_and_sent_twice_it_is_one(owner, drawn, beside, aunt):
    issue(owner, drawn, beside)
    said = {"yes-said_by": aunt.name, "yes-how": "phone"}
    for _ in range(2):
        address = f"/quilts/{beside.number}/account/quotes/1/acceptance/"
        assert owner.post(address, said).status_code == 302
    assert [each.accepted_by for each in Quote.objects.all()] == [aunt.name] * 2
    assert [each.entries.charges().count() for each in (drawn, beside)] == [1, 1]
    assert "$607.76" in room(owner, drawn)


def test_taken_back_both_are_taken_back(owner, drawn, beside):
    issue(owner, drawn, beside)
    owner.post(f"/quilts/{beside.number}/account/quotes/1/withdrawal/")
    assert not Quote.objects.filter(withdrawn_at=None).exists()


def test_a_second_order_without_a_price_says_what_is_missing(owner, drawn, beside):
    beside.extra_lines.all().delete()
    answer = issue(owner, drawn, beside)
    assert answer.status_code == 422
    assert "Add a line that says what it costs" in answer.content.decode()
    assert not Quote.objects.exists()


def test_who_pays_in_other_shares_is_not_told_together(drawn, beside):
    assert told_together.can_be_told_with(drawn) == [beside]
    Payer.objects.filter(order=beside).update(share=2)
    assert told_together.can_be_told_with(drawn) == []


def test_the_paper_lists_both(owner, drawn, beside):
    from orders.models import Paper

    issue(owner, drawn, beside)
    facts = Paper.objects.get(kind="quote").made_of
    assert (facts["total"], facts["further"][0]["total"], facts["total_of_all"]) == (
        "$500.76", "$107.00", "$607.76"
    )  # fmt: skip
    assert facts["deposit"] == "$303.88"

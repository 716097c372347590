"""The way home: a parcel is packed first, and weighs what its layers weigh; again, but not its price."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

import pytest

from orders.account import money
from orders.customer import handing_over, way_home, weighing
from orders.customer.handing_over import Answers
from orders.models import Consent, Customer, Event, Order, Parcel, cut
from orders.quilt.quilt_looks import quilt_of

pytestmark = pytest.mark.django_db
GONE = Answers(to="The parcel van", leftovers="returned", needles=True)


@pytest.fixture
def paid(agreed, twelve_shirts, ada):
    """Return the order with all shirts cut and all paid, to go by parcel."""
    pieces = [shirt.pieces.get() for shirt in twelve_shirts]
    Consent.objects.to_cut(agreed, pieces, said_by="the mother", how="phone", by=ada)
    cut(pieces, by=ada)
    money.take_payment(agreed, minor=50076, payer=agreed.customer, method="card", key="all", by=None)
    way_home.leave_by(agreed, "parcel", by=ada)
    return agreed


def pack(order, ada, **more):
    packed = {"address": "4 Towpath", "carrier": "The parcel van", "value": 50076, "transit_days": 3}
    return Parcel.objects.pack(order, by=ada, **packed | more)


def faults(order, answers, by):
    with pytest.raises(handing_over.NotYet) as refused:
        handing_over.hand_over(order, answers, by=by)
    order.refresh_from_db()
    assert order.handed_over_at is None
    return refused.value.faults


def test_what_goes_by_parcel_is_packed_first(paid, ada):
    assert "Pack it first" in faults(paid, replace(GONE, why_them="x"), ada)["parcel"]
    pack(paid, ada)
    handing_over.hand_over(paid, GONE, by=ada)
    assert paid.handed_to == "The parcel van"


def test_a_packed_parcel_goes_with_the_hand_over_and_is_expected(paid, shop, ada):
    pack(paid, ada)
    handing_over.hand_over(paid, GONE, by=ada)
    parcel = Parcel.objects.get()
    assert (parcel.sent_on, parcel.expected) == (shop.today(), shop.today() + timedelta(days=3))
    assert way_home.late_parcels(shop) == []
    Parcel.objects.update(sent_on=shop.today() - timedelta(days=4))
    assert way_home.late_parcels(shop) == [parcel]
    parcel.refresh_from_db()
    parcel.arrive(shop.today(), by=ada)
    assert way_home.late_parcels(shop) == []


def test_it_is_not_sent_so_that_it_arrives_on_the_day_to_keep_off(paid, shop, ada):
    pack(paid, ada)
    paid.keep_off(shop.today() + timedelta(days=3), by=ada)
    assert "Send it later" in faults(paid, GONE, ada)["day"]
    paid.keep_off(shop.today() + timedelta(days=4), by=ada)
    handing_over.hand_over(paid, GONE, by=ada)


def test_another_carrier_than_the_one_it_was_packed_for_is_a_stop_with_a_reason(paid, ada):
    pack(paid, ada)
    other = replace(GONE, to="Somebody with a cart")
    assert "not on this order" in faults(paid, other, ada)["why_them"]
    handing_over.hand_over(paid, replace(other, why_them="The van broke down"), by=ada)
    assert paid.handed_to == "Somebody with a cart"


def test_packed_anew_counts_until_it_went_and_not_after(paid, ada, shop):
    pack(paid, ada)
    assert pack(paid, ada, value=60000).value == 60000
    Parcel.objects.get().send(shop.today(), by=ada)
    pack(paid, ada, value=1)
    assert Parcel.objects.get().value == 60000


def test_a_quilt_weighs_what_its_layers_weigh(drawn):
    """By hand, with the usual grams a square meter: 145 cotton, 170 jersey, 35 behind it, 140 batting."""
    quilt = quilt_of(drawn)
    square = Fraction(10000, 1) / Fraction("2.54") ** 2  # square inches of a square meter
    whole = Fraction(50 * 66) / square
    blocks = sum(cell.at.size.area for cell in quilt.cells if cell.piece) * whole / quilt.size.area
    top = (blocks * (170 + 35) + (whole - blocks) * 145) * Fraction(108, 100)
    assert weighing.weight_of(drawn) == pytest.approx(float(top + whole * (145 + 140)), abs=1)


def test_what_is_not_drawn_has_no_weight(order):
    assert weighing.weight_of(order) is None


def test_weights_are_told_in_the_units_of_the_place(shop):
    """A pound is 453.59237 g exactly (NIST SP 811, appendix B)."""
    assert weighing.show_weight(1474, shop) == "3\N{NO-BREAK SPACE}lb 4\N{NO-BREAK SPACE}oz"
    assert weighing.in_grams(Fraction("3.25"), shop) == 1474
    shop.unit = "cm"
    assert weighing.show_weight(1474, shop) == "1.47\N{NO-BREAK SPACE}kg"
    assert weighing.in_grams(Fraction("1.474"), shop) == 1474


@pytest.fixture
def second(agreed, ada):
    """Return a second order of the aunt's, beside the agreed first one."""
    first = agreed
    first.wish = {"quilted": "frame", "way": "rush", "blocks": [[1, 1]]}
    first.leaving, first.cushion_days = "delivery", 5
    first.save()
    first.extra_lines.create(words="A pocket", kind="labour", minor=500, added_by=ada)
    return Order.objects.open(title="The pillow", customer=first.customer, by=ada, wish={"theme": True})


def test_same_as_before_copies_cloth_quilting_and_terms_and_never_a_price(agreed, second, ada):
    way_home.make_like(second, agreed, by=ada)
    assert second.cloth == agreed.cloth != {}
    assert second.wish == {"quilted": "frame"}
    assert (second.leaving, second.cushion_days) == ("delivery", 5)
    assert not second.extra_lines.exists()
    assert not second.quotes.exists()
    assert Event.objects.get(what="made like another").facts["pattern"] == agreed.number


def test_only_what_was_made_for_the_same_customer_before_can_be_copied(agreed, second, ada):
    assert list(way_home.made_before(second)) == [agreed]
    assert list(way_home.made_before(agreed)) == []
    stranger = Order.objects.open(title="x", customer=Customer.objects.create(name="x"), by=ada)
    with pytest.raises(way_home.CannotCopy, match="same customer"):
        way_home.make_like(second, stranger, by=ada)
    with pytest.raises(way_home.CannotCopy, match="agreed already"):
        way_home.make_like(agreed, second, by=ada)

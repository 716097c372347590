"""The demo shop: its plot holds every state a maker meets, and its books and counts add up."""

from __future__ import annotations

from collections import Counter
from datetime import timedelta

import pytest
from django.utils import timezone

from orders import planning
from orders.account import money, quoting
from orders.background import errands
from orders.customer import telling
from orders.demo.clock import standing_at
from orders.demo.shop import open_demo
from orders.models import (
    Account,
    Bag,
    Block,
    Consent,
    DesignVersion,
    Enquiry,
    Entry,
    Order,
    Paper,
    Piece,
    Posting,
    Quote,
    Shirt,
    Shop,
)
from orders.workroom import everything_in_care
from planner.layout import check_layout

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.fixture(scope="module")
def _opened(django_db_setup, django_db_blocker):
    """Open the demo once, in a transaction that is rolled back after this module; no midnight passes."""
    from django.db import transaction

    with django_db_blocker.unblock(), standing_at(timezone.now()), transaction.atomic():
        open_demo()
        yield
        transaction.set_rollback(True)


@pytest.fixture
def demo(_opened):
    """Return the demo shop."""
    return Shop.objects.get()


@pytest.fixture
def states(demo):
    """Return the state of each order in the workroom by its title."""
    orders = Order.objects.in_the_workroom()
    return {order.title: telling.state_of(order, today=demo.today()) for order in orders}


def test_there_are_some_ten_orders_one_of_them_handed_over(demo):
    assert 10 <= Order.objects.count() <= 14
    assert Order.objects.put_away().count() == 1


def test_fifty_odd_shirts_are_in_it(demo):
    assert 50 <= Shirt.objects.count() <= 65


def test_one_quilt_is_late_and_says_by_how_much(states):
    late = [state.words for state in states.values() if state.shape == "late"]
    assert len(late) == 1
    assert "day late" in late[0]


def test_two_quilts_wait_for_the_yes_to_their_pictures_and_one_has_a_wish(demo):
    waiting = [order for order in Order.objects.in_the_workroom() if telling.unanswered_picture(order)]
    assert {order.title for order in waiting} == {"First birthday", "The swimmer"}
    given_up = {order.title: order.versions.get().picture.shown["compromises"] for order in waiting}
    assert any("in strips" in words for words in given_up["First birthday"])
    assert [wish.order.title for wish in Consent.objects.filter(kind="wish")] == ["The swimmer"]


def test_one_quilt_is_a_memorial_of_dress_shirts_and_nothing_hurries_it(states):
    memorial = Order.objects.get(memorial=True)
    shirts = Shirt.objects.filter(bag__orders=memorial)
    assert set(shirts.filter(pieces__order=memorial).values_list("kind", flat=True)) == {"dress shirt"}
    assert states[memorial.title].shape == "rest"


def test_three_graduations_are_wanted_in_one_week(demo):
    graduations = Order.objects.filter(occasion__contains="graduat", place="Harrow Bay")
    days = sorted(order.needed_by for order in graduations)
    assert len(days) == 3
    assert days[-1] - days[0] < timedelta(days=7)


def test_one_bag_serves_two_orders_and_no_piece_is_in_both(demo):
    shared = [bag for bag in Bag.objects.all() if bag.orders.count() == 2]
    assert len(shared) == 1
    quilt, pillow = shared[0].orders.order_by("number")
    offered = {piece.id for piece in planning.bag_of(quilt).pieces}
    in_the_pillow = {piece.name for piece in pillow.pieces.all()}
    assert (len(offered), len(in_the_pillow)) == (4, 2)
    assert not offered & in_the_pillow


def test_the_pillow_is_priced_by_the_list_without_a_layout(demo):
    shop = Shop.objects.get()
    (line,) = quoting.prospect(Order.objects.get(kind="pillow"), shop).pricing.lines
    assert (line.words, line.amount.minor) == ("Pillow, 16 × 16 in, 1 at $55.00", 5500)


def test_two_repairs_by_the_hour_are_told_together_under_one_yes(demo):
    corner, binding = Order.objects.filter(kind="repair").order_by("number")
    first, beside = corner.quotes.get(), binding.quotes.get()
    assert beside.told_with_id == first.pk
    assert [each["total"] for each in first.together] == [first.total, beside.total]
    assert [line["amount"] for line in first.lines + beside.lines] == [9000, 7000]  # the first at its most
    assert first.lines[0]["words"] == "Mending two blocks, 2 h 30 of work at $40.00 an hour, at most $90.00"


def test_one_penciled_place_is_in_it(demo):
    penciled = Enquiry.objects.filter(penciled_until__gte=demo.today())
    assert [enquiry.name for enquiry in penciled] == ["A coach of Cinder Cross"]


def test_whoever_asked_has_a_band_and_a_day(demo):
    for enquiry in Enquiry.objects.all():
        assert 0 < enquiry.low <= enquiry.high
        assert enquiry.fits_by > demo.today()


def test_the_states_are_many(states):
    assert len({state.words for state in states.values()}) >= 7
    assert {state.shape for state in states.values()} == {"late", "work", "wait", "rest"}


def test_no_layout_has_a_fault_that_an_independent_look_finds(demo):
    drawn = [order for order in Order.objects.filter(kind="quilt") if hasattr(order, "design")]
    assert len(drawn) >= 9
    for order in drawn:
        answer = planning.plan_order(order, demo, drawn=order.design.quilt)
        assert check_layout(answer.options[0].layout, planning.bag_of(order)) == (), order.title


def test_every_count_adds_up(demo):
    for bag in Bag.objects.exclude(count=None):
        tally = bag.tally()
        assert tally.adds_up, bag
        assert tally.came_in == tally.in_work + tally.used + tally.returned + tally.discarded


def test_what_is_odd_at_a_door_is_in_it(demo):
    sealed = Bag.objects.get(count=None)
    assert (sealed.sacks, sealed.is_inspected) == (2, False)
    assert Shirt.objects.get(apart="smell").found == "a folded program"
    assert Shirt.objects.get(guest=True).bag.tally().guests == 1
    assert Shirt.objects.get(garments=3).pieces.count() == 3
    assert Shirt.objects.filter(fibres={}, label_read=True).count() == 1  # a label that is gone


def test_what_was_handed_over_is_no_longer_in_care(demo):
    away = Order.objects.put_away().get()
    assert away.bags.exists()
    assert not {each.bag.pk for each in everything_in_care()} & {bag.pk for bag in away.bags.all()}


def test_no_shirt_is_cut_without_a_yes(demo):
    in_blocks = Block.objects.exclude(piece=None).exclude(progress="planned").values("piece")
    cut = Piece.objects.filter(cut_width__isnull=False) | Piece.objects.filter(pk__in=in_blocks)
    used = Shirt.objects.filter(state="used")
    assert used.exists()
    assert not used.exclude(pieces__in=cut).exists()
    for piece in cut.distinct():
        assert piece.approvals.filter(consent__kind="cut", withdrawn_at=None).exists(), piece.full_name


def test_the_ledger_sums_to_zero(demo):
    balances = [Posting.objects.balance(account) for account in Account.values]
    assert any(balances)
    assert sum(balances) == 0


def test_each_order_owes_what_was_agreed_less_what_was_paid_and_taken_off(demo):
    for order in Order.objects.all():
        owing = money.owing_of(order)
        standing = Entry.objects.standing().filter(order=order, kind__in=("payment", "credit"))
        paid = sum(Posting.objects.filter(entry__in=standing).values_list("minor", flat=True))
        agreed = sum(quote.total for quote in order.quotes.all() if quote.accepted_at)
        assert owing.balance == agreed - paid, order.title


def test_receipts_are_numbered_without_a_gap(demo):
    numbers = Entry.objects.exclude(receipt_number=None).order_by("receipt_number")
    assert list(numbers.values_list("receipt_number", flat=True)) == list(range(1, len(numbers) + 1))


def test_nothing_in_it_happened_after_now(demo):
    assert not Entry.objects.filter(at__gt=timezone.now()).exists()
    assert not Shirt.objects.filter(logged_at__gt=timezone.now()).exists()


def test_every_quote_payment_and_hand_over_has_its_paper(demo):
    kinds = Counter(Paper.objects.values_list("kind", flat=True))
    assert kinds["quote"] == Quote.objects.filter(told_with=None).count() > 0
    assert kinds["receipt"] == kinds["care"] == 1
    assert kinds["deposit"] == Entry.objects.filter(kind="payment").count() > 0


def test_its_photographs_are_asked_for_as_errands(demo):
    kinds = Counter(errand.kind for errand in errands.Errand.objects.all())
    assert kinds["demo bag"] == Bag.objects.exclude(count=None).count()
    assert kinds["demo swatch"] > 0


def test_every_picture_that_was_asked_about_is_kept_as_it_was_shown(demo):
    versions = DesignVersion.objects.filter(replaced_at=None)
    assert versions.count() > 3
    assert [each for each in versions if not getattr(each, "picture", None)] == []

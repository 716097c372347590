"""What Today says may go on is what joining lets through: the standing of the yes is read in one place."""

from __future__ import annotations

from dataclasses import replace

import pytest

from orders.bench import work
from orders.customer.telling import state_of
from orders.days.calendar import workload
from orders.days.holds import nothing_without_its_yes
from orders.models import Order
from orders.quilt import layouts
from orders.yes import yes_to_picture
from orders.yes.yes_to_picture import Said

pytestmark = pytest.mark.django_db
AUNT = "An aunt of Ferncliff"


@pytest.fixture
def before_joining(agreed, ada):
    """Return the order with all done that comes before its rows are joined."""
    for kind in ("log", "design", "wash", "cut", "fuse", "trim", "make up"):
        agreed.stages.filter(kind=kind).update(done_at=agreed.opened_at)
    agreed.blocks.update(progress="trimmed")
    return agreed


def fresh(order):
    return Order.objects.get(pk=order.pk)


def trade(order, by):
    design, quilt = layouts.drawn(order)
    first, second, *rest = quilt.cells
    cells = (replace(first, at=second.at), replace(second, at=first.at), *rest)
    design.draw(replace(quilt, cells=cells), "traded", by=by)


def says_yes(order, shop, by, *, may_move=False):
    version = yes_to_picture.ask(fresh(order), shop, by=by)
    yes_to_picture.say(order, version.number, Said(AUNT, "phone", may_move), by=by)


def told(order, shop):
    """Return what Today says, whether the plan holds joining back, and whether joining is refused."""
    seen = Order.objects.with_state().with_little_quilt().get(pk=order.pk)
    planned = nothing_without_its_yes(workload(shop, today=shop.today())).stages
    joining = next(each for each in planned if each.order == str(order) and each.kind == "join")
    try:
        work.refuse_without_yes(fresh(order), "join")
    except work.NotYet:
        return state_of(seen, today=shop.today()).words, joining.ready > 0, True
    return state_of(seen, today=shop.today()).words, joining.ready > 0, False


def test_before_anybody_asked_joining_waits(before_joining, shop):
    assert told(before_joining, shop) == ("Her picture to ask about", True, True)


def test_while_the_answer_is_awaited_joining_waits(before_joining, shop, ada):
    yes_to_picture.ask(fresh(before_joining), shop, by=ada)
    assert told(before_joining, shop) == ("Waiting for her yes, since today", True, True)


def test_after_the_yes_rows_are_joined(before_joining, shop, ada):
    says_yes(before_joining, shop, ada)
    assert told(before_joining, shop) == ("Joining, 0 of 12", False, False)


def test_after_a_change_of_what_was_agreed_joining_waits_again(before_joining, shop, ada):
    says_yes(before_joining, shop, ada)
    trade(before_joining, ada)
    assert told(before_joining, shop) == ("Picture changed since the yes", True, True)


def test_with_leave_to_move_a_trade_holds_nothing_back(before_joining, shop, ada):
    says_yes(before_joining, shop, ada, may_move=True)
    trade(before_joining, ada)
    assert told(before_joining, shop) == ("Joining, 0 of 12", False, False)


def test_back_at_what_was_agreed_a_later_question_holds_nothing_back(before_joining, shop, ada):
    says_yes(before_joining, shop, ada)
    trade(before_joining, ada)
    yes_to_picture.ask(fresh(before_joining), shop, by=ada)
    assert told(before_joining, shop) == ("Waiting for her yes, since today", True, True)
    trade(before_joining, ada)
    assert told(before_joining, shop) == ("Joining, 0 of 12", False, False)


def test_many_changed_quilts_ask_no_more_queries_than_one(
    before_joining, shop, ada, django_assert_num_queries, django_assert_max_num_queries
):
    says_yes(before_joining, shop, ada)
    trade(before_joining, ada)

    def tell_all():
        orders = Order.objects.in_the_workroom().with_state().with_little_quilt()
        return [state_of(each, today=shop.today()).words for each in orders]

    with django_assert_max_num_queries(25) as one:
        assert tell_all() == ["Picture changed since the yes"]
    for number in range(3):
        _another_like(before_joining, f"Quilt {number}", ada)
    with django_assert_num_queries(len(one)):
        assert tell_all().count("Picture changed since the yes") == 4


def _another_like(order, title, by):
    other = Order.objects.open(title=title, customer=order.customer, by=by)
    other.bags.set(order.bags.all())
    first, second = order.versions.get(), fresh(order).design.quilt
    design, _ = layouts.drawn(other)
    design.draw(first.as_quilt(), "as agreed", by=by)
    version = design.freeze(by=by)
    other.consents.create(kind="picture", version=version, said_by=AUNT, how="phone", written_by=by)
    design.refresh_from_db()
    design.draw(second, "traded", by=by)
    for stage in order.stages.all():
        stage.pk = None
        stage.order = other
        stage.save()

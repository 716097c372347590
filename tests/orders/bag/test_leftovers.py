"""What remains of cut shirts is counted back by its numbers before it leaves."""

import pytest

from orders.bag import leftovers
from orders.customer import handing_over

pytestmark = pytest.mark.django_db


@pytest.fixture
def cut(order, twelve_shirts):
    order.bags.get().shirts.filter(number__lte=10).update(state="used")
    return order


def keys(order, *numbers):
    return [shirt.pk for shirt in leftovers.due(order) if shirt.number in numbers]


def test_one_bundle_is_due_for_each_cut_shirt(cut):
    assert [shirt.number for shirt in leftovers.due(cut)] == list(range(1, 11))


def test_bundles_that_are_not_there_are_named(cut, bo):
    done = leftovers.count(cut, keys(cut, 1, 2, 4, 5, 6, 7, 8, 9, 10), by=bo)
    assert (len(done.there), done.lacking) == (9, ("03",))
    again = leftovers.last_count(cut)
    assert (again.lacking, again.event.by) == (("03",), bo)


def test_counting_changes_nothing_in_the_count_of_the_bag(cut, bo):
    before = vars(cut.bags.get().tally())
    leftovers.count(cut, [], by=bo)
    assert vars(cut.bags.get().tally()) == before


def test_the_newest_count_counts(cut, bo):
    leftovers.count(cut, [], by=bo)
    leftovers.count(cut, keys(cut, *range(1, 11)), by=bo)
    assert leftovers.last_count(cut).lacking == ()


def answers(**change):
    return handing_over.Answers(
        to="An aunt of Ferncliff",
        why_unpaid="a gift",
        whole=True,
        leftovers="returned",
        needles=True,
        **change,
    )


def test_leftovers_that_were_not_found_keep_the_quilt_here(cut, ada, bo):
    leftovers.count(cut, keys(cut, *range(2, 11)), by=bo)
    with pytest.raises(handing_over.NotYet, match="did not find the leftovers of 01"):
        handing_over.hand_over(cut, answers(), by=ada)
    leftovers.count(cut, keys(cut, *range(1, 11)), by=bo)
    handing_over.hand_over(cut, answers(), by=ada)
    assert cut.handed_over_at
    assert set(cut.bags.get().shirts.filter(state="used").values_list("leftovers", flat=True)) == {"returned"}


def test_a_quilt_nobody_counted_leftovers_of_leaves_as_before(cut, ada):
    handing_over.hand_over(cut, answers(), by=ada)
    assert cut.handed_over_at

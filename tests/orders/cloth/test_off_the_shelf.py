"""Strips of several quilts on the remnants that lie here: never fewer new ones than the ruler needs."""

from datetime import date
from itertools import permutations, product

from hypothesis import given, settings
from hypothesis import strategies as st

from orders.cloth.off_the_shelf import NEW, Laid, Pieces
from orders.cloth.takes import Take
from orders.cloth.wanted import Wanted, by_order, shared, wanted_by
from orders.models import Order
from planner.units import INCH


def wants(number, *strips, planned_on=(), set_aside=0, by=None):
    laid = Laid(tuple(strips), tuple(planned_on))
    length = sum(high for _, high in strips)
    order = Order(number=number, pk=number)
    return Wanted(order, ("sashing",), length, set_aside, by=by, laid=laid)


def new_of(wanted, *here):
    return [one.new // INCH for one in shared(wanted, [each * INCH for each in here])]


def inches(*lengths, on=NEW):
    return tuple((on, each * INCH) for each in lengths)


def test_two_remnants_of_ten_inches_give_two_strips_of_six_and_not_three():
    """By hand: 6 + 12 in of strips, 20 in here. By lengths alone nothing is short; a 4-in end gives none."""
    both = [wants(1, *inches(6)), wants(2, *inches(6, 6))]
    assert new_of(both, 10, 10) == [0, 6]


def test_a_plan_is_kept_where_everything_lies_as_it_lay():
    """The longest first would lay 6 in on the piece of 9; the plan lays it on that of 6, and 5 + 4 on 9."""
    planned = wants(1, (1, 6 * INCH), (0, 5 * INCH), (0, 4 * INCH), planned_on=(9 * INCH, 6 * INCH))
    assert new_of([planned], 9, 6) == [0]
    assert new_of([wants(1, *inches(6, 5, 4))], 9, 6) == [4]


def test_a_plan_for_remnants_that_another_quilt_took_first_is_not_believed():
    second = wants(2, (0, 9 * INCH), planned_on=(10 * INCH,))
    assert new_of([wants(1, *inches(4)), second], 10) == [0, 9]


def test_what_is_set_aside_stays_with_its_quilt_though_another_is_due_sooner():
    kept = wants(1, *inches(8), set_aside=8 * INCH, by=date(2027, 5, 1))
    sooner = wants(2, *inches(5), by=date(2027, 3, 1))
    assert new_of([kept, sooner], 10) == [0, 5]


def test_of_two_with_nothing_set_aside_the_sooner_takes_the_remnant():
    later, sooner = wants(1, *inches(8), by=date(2027, 5, 1)), wants(2, *inches(5), by=date(2027, 3, 1))
    assert new_of([later, sooner], 10) == [8, 0]


def test_a_cloth_that_is_top_and_back_of_one_quilt_is_wanted_for_both():
    """Each part was reckoned with all that lies here; both together take 30 + 60 in, not the last 60."""
    order = Order(number=1, pk=1)
    top = Take("Forest", ("sashing",), 30 * INCH, 0, ((40 * INCH, 60 * INCH),), strips=inches(15, 15, on=0))
    back = Take("Forest", ("backing",), 60 * INCH, 0, ((40 * INCH, 60 * INCH),), strips=inches(60, on=0))
    _, both = by_order([(order, top), (order, back)])[1]
    assert (both.length, both.roles) == (90 * INCH, ("sashing", "backing"))
    assert Pieces([60 * INCH]).take(Laid(both.strips, ())) == 30 * INCH


def test_what_is_not_known_by_its_strips_lies_wherever_it_fits_in_one_piece():
    known = Take("Forest", ("sashing",), 9 * INCH, 0, ((40 * INCH, 20 * INCH),))
    order = Order(number=1, pk=1)
    assert [one.new for one in shared([wanted_by(order, known, (), usable=40 * INCH)], [20 * INCH])] == [0]


def fits(strips, pieces):
    """Whether every strip finds room, tried out in full."""
    for order in set(permutations(strips)):
        for where in product(range(len(pieces)), repeat=len(order)):
            used = [0] * len(pieces)
            for high, at in zip(order, where, strict=True):
                used[at] += high
            if all(each <= piece for each, piece in zip(used, pieces, strict=True)):
                return True
        break
    return not strips


@settings(max_examples=150, deadline=None)
@given(
    quilts=st.lists(st.lists(st.integers(2, 9), min_size=1, max_size=3), min_size=1, max_size=2),
    here=st.lists(st.integers(3, 12), max_size=3),
)
def test_what_is_bought_with_what_lies_here_always_gives_every_strip(quilts, here):
    wanted = [wants(number, *inches(*strips)) for number, strips in enumerate(quilts, 1)]
    new = sum(new_of(wanted, *here))
    every = [each for strips in quilts for each in strips]
    assert fits(every, [*here, new] if new else here)


@settings(max_examples=150, deadline=None)
@given(
    quilts=st.lists(st.lists(st.integers(2, 9), min_size=1, max_size=4), min_size=1, max_size=4),
    here=st.lists(st.integers(3, 12), max_size=4),
    more=st.integers(0, 4),
)
def test_once_it_is_bought_nothing_more_is_asked_for(quilts, here, more):
    wanted = [wants(number, *inches(*strips)) for number, strips in enumerate(quilts, 1)]
    new = sum(new_of(wanted, *here))
    assert sum(new_of(wanted, *here, new + more)) == 0

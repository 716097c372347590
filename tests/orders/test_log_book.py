"""The log of a bag: groups, guests, what is kept apart, what was struck; the count holds all through."""

from __future__ import annotations

import pytest
from django.db import DatabaseError, IntegrityError, transaction

from orders import planning
from orders.bag import groups, intake, lacking, receipts
from orders.bag.intake import Said
from orders.models import Bag, Consent, Event, Order, Paper, Piece, Shirt, Signature, cut
from orders.models.blade import KeptApart
from orders.papers.work import intake_facts
from orders.quilt import layouts
from orders.quilt.block_moves import CannotMove
from planner.care import heat_limit
from tests.cast import add_shirt

pytestmark = pytest.mark.django_db


@pytest.fixture
def bag(order):
    return order.bags.get()


def log(bag, ada, *, kind="tee", keep="front", **more):
    return intake.log_shirt(bag, bag.orders.get(), Said(kind, keep, "unknown", **more), by=ada)


def tally_of(bag):
    return Bag.objects.get(pk=bag.pk).tally()


def names(shirt):
    return sorted(piece.name for piece in shirt.pieces.all())


def test_tiny_garments_are_one_line_and_as_many_in_the_count(bag, ada):
    group = log(bag, ada, kind="one-piece", garments=6)
    assert (tally_of(bag).logged, tally_of(bag).not_logged) == (6, 6)
    assert names(group) == ["01F", "01F2", "01F3", "01F4", "01F5", "01F6"]
    assert set(group.flags) == {"infant", "snaps"}
    assert planning.garment_of(group).count == 6
    assert len(planning.bag_of(bag.orders.get()).pieces) == 6


def test_one_tag_covers_two_garments(bag, ada):
    pair = log(bag, ada, kind="other", keep="both", garments=2)
    assert names(pair) == ["01B", "01B2", "01F", "01F2"]


def test_some_of_a_group_get_a_number_of_their_own_and_the_count_stays(bag, ada):
    group = log(bag, ada, kind="hat", garments=5)
    own = groups.split(group, 2, by=ada)
    assert (group.garments, own.garments, own.number) == (3, 2, 2)
    assert (names(group), names(own)) == (["01F", "01F2", "01F3"], ["02F", "02F2"])
    assert tally_of(bag).logged == 5
    own.give_back(by=ada)
    assert (tally_of(bag).in_work, tally_of(bag).returned) == (3, 2)


@pytest.mark.parametrize("out", [0, 3, 4])
def test_a_group_keeps_at_least_one_and_gives_at_least_one(bag, ada, out):
    with pytest.raises(groups.CannotSplit, match="from 1 to 2"):
        groups.split(log(bag, ada, garments=3), out, by=ada)


def test_what_is_in_a_quilt_is_not_split_off(bag, order, ada):
    group = log(bag, ada, garments=2)
    group.pieces.filter(side="front-2").update(order=order)
    with pytest.raises(groups.CannotSplit, match="01F2 is in a quilt"):
        groups.split(group, 1, by=ada)
    assert Shirt.objects.count() == 1


def test_a_guest_is_counted_apart_and_is_in_no_quilt(bag, order, ada):
    guest = log(bag, ada, guest=True)
    tally = tally_of(bag)
    assert (tally.logged, tally.guests, tally.not_logged) == (0, 1, 12)
    assert planning.bag_of(order).garments == ()
    assert "whose it is" in lacking.lacks(guest).quote
    guest.give_back(by=ada)
    assert tally_of(bag).guests == 0


@pytest.mark.parametrize(("logged", "count"), [(3, 12), (12, 13)])
def test_a_guest_who_belongs_here_is_counted_and_the_count_grows_only_where_it_must(bag, ada, logged, count):
    for number in range(1, logged + 1):
        add_shirt(bag, number)
    guest = log(bag, ada, guest=True)
    for _ in range(2):
        groups.welcome(guest, by=ada)
    tally = tally_of(bag)
    assert (tally.came_in, tally.logged, tally.guests) == (count, logged + 1, 0)
    assert Event.objects.filter(what="guest welcomed").count() == 1


def test_a_line_logged_by_mistake_is_struck_and_not_deleted(bag, ada):
    mistake, right = log(bag, ada), log(bag, ada)
    mistake.strike(by=ada, why="logged twice")
    assert (tally_of(bag).logged, tally_of(bag).not_logged) == (1, 11)
    assert Shirt.objects.count() == 2
    assert Event.objects.get(what="struck").facts["why"] == "logged twice"
    assert log(bag, ada).number == 3  # its number is given to no other
    assert [item["number"] for item in intake_facts(bag)["items"]] == ["02", "03"]
    mistake.find(by=ada)
    assert tally_of(bag).logged == 3
    assert right.state == "in work"


def test_a_struck_line_cannot_leave_and_a_cut_one_cannot_be_struck(bag, ada):
    shirt = log(bag, ada)
    shirt.strike(by=ada, why="a rag")
    for leave in (shirt.give_back, shirt.miss):
        with pytest.raises(ValueError, match="taken out of the log"):
            leave(by=ada)
    other = add_shirt(bag, 9, state="used")
    with pytest.raises(ValueError, match="is cut"):
        other.strike(by=ada, why="a rag")


def test_what_is_in_a_quilt_or_has_its_yes_is_not_struck(bag, order, ada):
    shirt = add_shirt(bag, 4)
    Consent.objects.to_cut(order, shirt.pieces.all(), said_by="the aunt", how="person", by=ada)
    with pytest.raises(ValueError, match="There is a yes to cut 04F"):
        shirt.strike(by=ada, why="a rag")
    shirt.pieces.update(order=order)
    with pytest.raises(ValueError, match="04F is in a quilt"):
        shirt.strike(by=ada, why="a rag")
    assert tally_of(bag).logged == 1


def test_what_is_kept_apart_is_not_cut_until_it_may_lie_with_the_others(bag, order, ada):
    shirt = add_shirt(bag, 4)
    Consent.objects.to_cut(order, shirt.pieces.all(), said_by="the aunt", how="person", by=ada)
    for _ in range(2):
        shirt.keep_apart("insects", by=ada)
    assert Event.objects.filter(what="kept apart").count() == 1
    assert "leave to open it (insects)" in lacking.lacks(shirt).cut
    with pytest.raises(KeptApart):
        cut(shirt.pieces.all(), by=ada)
    shirt.bring_in(by=ada)
    assert len(cut(shirt.pieces.all(), by=ada)) == 1


@pytest.mark.parametrize("why", ["mold", "insects", "soiled"])
def test_what_keeps_a_bag_sealed_keeps_each_of_its_shirts_apart(order, ada, why):
    bag = intake.receive_bag(order, by=ada, count=1, brought_by="the aunt", **{why: True})
    shirt = intake.log_shirt(bag, order, Said("tee", "front", "none"), by=ada)
    assert shirt.apart == why


def test_what_turns_out_true_of_the_bag_becomes_true_of_what_was_logged_before(bag, ada):
    shirt, gone = log(bag, ada), log(bag, ada)
    gone.give_back(by=ada)
    intake.write_bag(bag, seen=1, by=ada, smoke=True)
    shirt.refresh_from_db()
    gone.refresh_from_db()
    assert (shirt.flags, gone.flags) == (["smoke"], [])


def test_a_label_nobody_read_is_pressed_no_hotter_than_a_blend_bears(bag, ada):
    shirt = log(bag, ada)
    assert shirt.fibres == {"cotton": "100"}
    assert heat_limit(planning.garment_of(shirt)) == 300  # trade handbook 3.4, a tee: about 300 °F
    assert heat_limit(planning.garment_of(log(bag, ada, kind="sport tee"))) == 265  # where its dye moves
    intake.write_shirt(shirt, seen=1, by=ada, stretch="very high")
    assert heat_limit(planning.garment_of(shirt)) == 275  # the same table: a rib with spandex
    intake.write_shirt(shirt, seen=2, by=ada, label_read=True)
    assert heat_limit(planning.garment_of(shirt)) == 400


def test_pockets_are_looked_into_before_the_blade(bag, ada):
    jeans = log(bag, ada, kind="jeans")
    assert "look into the pockets" in lacking.lacks(jeans).cut
    assert "look into the pockets" not in lacking.lacks(log(bag, ada)).cut
    Shirt.objects.filter(pk=jeans.pk).update(pockets="emptied")
    jeans.refresh_from_db()
    assert "look into the pockets" not in lacking.lacks(jeans).cut


def test_a_tag_that_was_typed_twice_is_refused_and_one_that_was_offered_makes_way(bag, ada):
    log(bag, ada, number=5, offered=1)
    with pytest.raises(intake.TagTaken, match="05 is a tee that is logged already"):
        log(bag, ada, number=5, offered=6)
    second = log(bag, ada, number=5, offered=5)
    assert (second.number, second.wrong_tag) == (6, 5)
    assert "06 on its tag instead of 05" in lacking.lacks(second).cut
    second.write_tag(by=ada)
    assert "06 on its tag instead of 05" not in lacking.lacks(second).cut
    assert Shirt.objects.count() == 2


def test_no_number_is_given_twice_in_one_order_even_after_a_bag_went_back(bag, order, ada):
    log(bag, ada)
    Bag.objects.filter(pk=bag.pk).update(handed_back_at="2027-03-01T12:00Z")
    second = intake.receive_bag(order, by=ada, count=2, brought_by="the aunt")
    said = Said("tee", "front", "none", number=1, offered=1)
    assert intake.log_shirt(second, order, said, by=ada).number == 2
    assert len(planning.bag_of(order).pieces) == 2  # a planner’s bag refuses two pieces of one name


def test_two_lines_of_one_number_in_a_bag_are_refused_by_the_database(bag):
    add_shirt(bag, 1)
    with pytest.raises(IntegrityError):
        Shirt.objects.create(bag=bag, number=1)


def test_a_bag_that_is_asked_for_gets_the_shirt_and_no_other_does(order, aunt, ada):
    other = Order.objects.open(title="Another", customer=aunt, by=ada)
    strange = intake.receive_bag(other, by=ada, count=1, brought_by="the aunt")
    assert Bag.objects.to_log(order, wanted=str(strange.pk)) is None
    assert Bag.objects.to_log(order, wanted="nonsense") is None
    assert Bag.objects.to_log(order) == order.bags.get()


class TestTheReceipt:
    @pytest.fixture
    def receipt(self, bag, order, ada):
        """A receipt made when three of three were logged."""
        bag.count_again(3, by=ada)
        for number in (1, 2, 3):
            add_shirt(bag, number)
        return Paper.objects.create(kind="intake", number=1, bag=bag, order=order, made_of=intake_facts(bag))

    def differences(self, bag):
        return receipts.differences(Bag.objects.get(pk=bag.pk))

    def test_agrees_with_a_log_that_did_not_change(self, receipt, bag):
        assert self.differences(bag) == ()

    def test_names_what_was_logged_after_it(self, receipt, bag):
        add_shirt(bag, 4, kind="tie")
        assert self.differences(bag) == (
            "Logged beyond the count, the last: 04 (tie). Count again, or it is a guest.",
            "Logged after the receipt was made: 04 (tie).",
        )

    def test_names_what_is_out_of_the_log_since(self, receipt, bag, ada):
        Shirt.objects.get(number=2).strike(by=ada, why="a rag")
        assert self.differences(bag) == ("On the receipt, and out of the log since: 02.",)

    def test_says_that_the_count_is_another(self, receipt, bag, ada):
        bag.count_again(5, by=ada)
        assert self.differences(bag) == ("The receipt says three, the bag was counted again: five.",)

    def test_names_the_last_where_a_count_alone_was_printed(self, bag, order, ada):
        bag.count_again(2, by=ada)
        Paper.objects.create(kind="intake", number=1, bag=bag, order=order, made_of=intake_facts(bag))
        for number in (1, 2, 3):
            add_shirt(bag, number, kind="hat")
        [said] = self.differences(bag)
        assert said.startswith("Logged beyond the count, the last: 03 (hat).")


def test_a_signature_is_for_the_count_it_was_given_for(bag, ada):
    for _ in range(2):
        bag.sign("handed in", "the aunt", [[1, 2, 3, 4]], by=ada)
    assert [each.name for each in bag.signed] == ["the aunt"]
    assert Event.objects.filter(what="signed").count() == 1
    bag.count_again(13, by=ada)
    assert bag.signed == []
    bag.sign("handed in", "the aunt", [], by=ada)
    assert [(each.name, each.count) for each in bag.signed] == [("the aunt", 13)]


@pytest.mark.parametrize("act", ["update", "delete"])
def test_a_signature_stays_as_it_was_given(bag, ada, act):
    bag.sign("handed in", "the aunt", [], by=ada)
    with pytest.raises(DatabaseError, match="Who signed for a count stays written"), transaction.atomic():
        getattr(Signature.objects.filter(name="the aunt"), act)(**({"name": "x"} if act == "update" else {}))


def test_a_piece_that_another_quilt_of_the_bag_took_meanwhile_goes_into_no_second_one(drawn, shop, aunt, ada):
    bag, second = drawn.bags.get(), Order.objects.open(title="A pillow", customer=aunt, by=ada)
    drawn.pieces.update(order=None)  # both quilts were reckoned while all pieces were free
    second.bags.add(bag)
    Piece.objects.filter(shirt__number=5).update(order=second)
    before = drawn.design.quilt
    with pytest.raises(CannotMove, match=r"05F went into No\. 2 meanwhile"):
        layouts.turn(drawn, before.cells[0].id, seen=drawn.design.at, by=ada)
    assert Piece.objects.get(shirt__number=5).order == second
    assert drawn.pieces.count() == 0


def test_pieces_of_a_garment_that_left_its_group_are_named_anew(bag, ada):
    group = log(bag, ada, keep="both", garments=3)
    own = groups.split(group, 1, by=ada)
    assert (names(group), names(own)) == (["01B", "01B2", "01F", "01F2"], ["02B", "02F"])
    assert Piece.objects.count() == 6

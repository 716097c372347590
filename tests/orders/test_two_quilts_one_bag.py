"""A widower's two quilts out of one bag: trade handbook, scenario S3, in the shop's own verbs.

The figures are the handbook's: 25 garments, two quilts of 4 × 5 blocks of 12 in with a 3 in border,
54 × 66, $765 each, $818.55 with 7 % tax, two deposits of $409.28; two grown children pay half each.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from orders import planning  # fmt: skip
from orders.account import agreeing, money, quoting  # fmt: skip
from orders.account.agreeing import NotTheirs
from orders.bag import intake, leftovers  # fmt: skip
from orders.customer import handing_over, telling  # fmt: skip
from orders.demo.clock import standing_at
from orders.models import (
    Bag,
    CannotAgree,
    Customer,
    Cut,
    NotLookedAtTwice,
    NoYes,
    Order,
    Payer,
    Piece,
    Shirt,
    cut,
)  # fmt: skip
from orders.papers.work import care_facts
from orders.quilt import layouts  # fmt: skip
from orders.quilt.block_moves import CannotMove
from orders.yes import yes_to_cut  # fmt: skip
from orders.yes.yes_to_cut import Said
from planner.price import split
from planner.quilt import Border, Cell, Quilt
from planner.units import INCH, Money, Rect, Sides, Size

pytestmark = [pytest.mark.django_db, pytest.mark.slow]
HE, SISTER = "The widower of Millbrook Fen", "His sister"
SATURDAY = datetime(2027, 6, 12, 16, 0, tzinfo=UTC)
SCENT, SOILED, BLEEDS, ROBE = (7, 15), 11, 18, 25
LEFT_OUT = {*SCENT, SOILED, BLEEDS}


class Story:
    """The two orders and their bag."""

    def __init__(self, shop: Any, ada: Any, bo: Any) -> None:
        self.shop, self.ada, self.bo = shop, ada, bo
        self.he = Customer.objects.create(name=HE, phone="555 0188")
        self.children = [Customer.objects.create(name=name) for name in ("His daughter", "His son")]
        self.quilts = [self.opens(f"A quilt for {child}") for child in self.children]
        self.bag = Bag.objects.receive(self.quilts[0], by=ada, brought_by=SISTER, count=25)
        self.bag.serve(self.quilts[1], by=ada)
        for number in range(1, 26):
            self.logs(number)

    def opens(self, title: str) -> Order:
        order = Order.objects.open(
            title=title, customer=self.he, by=self.ada, memorial=True, place="Millbrook Fen",
            width=54 * INCH, height=66 * INCH, needed_by=SATURDAY.date() + timedelta(days=69),
        )  # fmt: skip
        order.payers.all().delete()
        for child in self.children:
            Payer.objects.create(order=order, customer=child, share=1)
        return order

    def logs(self, number: int) -> None:
        """18 dress shirts give a back and a front half, 6 tees a front, the robe a back."""
        kind, keep = ("dress shirt", "back") if number <= 18 else ("tee", "front")
        kind, keep = ("robe", "back") if number == ROBE else (kind, keep)
        said = intake.Said(kind, keep, "none" if number <= 18 else "plastisol")
        shirt = intake.log_shirt(self.bag, self.quilts[0], said, by=self.ada, client_id=f"s3-{number}")
        if number <= 18:
            intake.add_panel(shirt, "left-front", by=self.ada)
        for piece in shirt.pieces.all():
            wide, high = (10 * INCH, 11 * INCH) if kind == "tee" else (0, 0)
            facts = {"print_width": wide, "print_height": high, "sizes_are_usual": False}
            free = dict.fromkeys(("free_top", "free_right", "free_bottom", "free_left"), 7 * INCH)
            intake.write_panel(piece, seen=piece.version, by=self.ada, **facts, **free)

    def pieces(self, *numbers: int) -> list[Piece]:
        found = Piece.objects.filter(shirt__bag=self.bag, shirt__number__in=numbers)
        return list(found.select_related("shirt__asked_singly", "order").order_by("shirt__number", "side"))

    def lays_out(self, which: int, names: list[str], *, down: int = 5) -> None:
        foot = 12 * INCH
        cells = tuple(
            Cell(f"{at + 1:02d}", Rect(3 * INCH + at % 4 * foot, 3 * INCH + at // 4 * foot, foot, foot), name)
            for at, name in enumerate(names)
        )
        three = Sides(*[3 * INCH] * 4)
        quilt = Quilt(Size(54 * INCH, (12 * down + 6) * INCH), cells, borders=(Border(three),))
        order = self.quilts[which]
        seen = layouts.move_number(order)
        layouts.choose(order, quilt, "Even grid", minutes=(), seen=seen, by=self.ada)

    def names(self, side: str) -> list[str]:
        found = self.pieces(*set(range(1, 26)) - LEFT_OUT)
        return [piece.name for piece in found if piece.side == side]

    def draws_both(self) -> None:
        """Backs and tees go to the daughter; front halves, the robe and a second front to the son.

        Without the four that are left out there are 35 pieces for 40 blocks, so his quilt is a row shorter.
        """
        self.lays_out(0, [*self.names("back")[:14], *self.names("front")])
        intake.add_panel(Shirt.objects.get(number=1), "right-front", by=self.ada)
        self.lays_out(1, [*self.names("left-front"), "25B", "01RF"], down=4)


@pytest.fixture
def story(shop, taxed, ada, bo):
    return Story(taxed, ada, bo)


def he_says(**change: Any) -> Said:
    return Said(**{"by": HE, "how": "person", **change})


def test_the_bag_serves_both_quilts_and_counts_twenty_five(story):
    tally = Bag.objects.prefetch_related("shirts").get().tally()
    assert (tally.came_in, tally.in_work, tally.not_logged) == (25, 25, 0)
    assert len(story.pieces(*range(1, 26))) == 18 * 2 + 6 + 1 == 43
    assert len(story.pieces(*set(range(1, 26)) - LEFT_OUT)) == 35


def test_a_back_that_one_quilt_has_is_in_no_other(story):
    story.lays_out(0, story.names("back")[:14] + story.names("front"))
    with pytest.raises(CannotMove, match=r"went into No\. 1"):
        story.lays_out(1, [*story.names("left-front"), "01B", "02B"], down=4)
    story.lays_out(1, [*story.names("left-front"), "25B", "15LF"], down=4)
    claimed = list(Piece.objects.exclude(order=None).values_list("pk", flat=True))
    assert len(claimed) == len(set(claimed)) == 36


def test_nobody_but_he_says_yes_to_the_cut(story):
    for name in (SISTER, "His daughter", "His son"):
        with pytest.raises(NotTheirs, match=HE):
            yes_to_cut.say_for_pile(story.quilts[0], story.pieces(1), he_says(by=name), by=story.ada)
    assert yes_to_cut.say_for_pile(story.quilts[0], story.pieces(1), he_says(), by=story.ada)
    with pytest.raises(CannotAgree, match=r"goes into No\. 1"):
        yes_to_cut.say_for_pile(story.quilts[1], story.pieces(1), he_says(), by=story.ada)


def test_what_carries_his_scent_is_cut_only_on_the_day_he_says_so(story):
    order, (seven,) = story.quilts[0], [p for p in story.pieces(7) if p.side == "back"]
    yes_to_cut.ask_singly(seven.shirt, [HE], for_the_day=True, why="his scent", by=story.ada)
    (seven,) = [p for p in story.pieces(7) if p.side == "back"]
    with standing_at(SATURDAY):
        assert not yes_to_cut.say_for_pile(order, [seven], he_says(), by=story.ada)
        yes_to_cut.say_for_one(order, seven, he_says(), by=story.ada)
        yes_to_cut.look(order, seven, by=story.ada)
        with pytest.raises(NotLookedAtTwice):
            cut([seven], by=story.ada)
        yes_to_cut.look(order, seven, by=story.bo)
    with standing_at(SATURDAY + timedelta(days=1)), pytest.raises(NoYes):
        cut([seven], by=story.ada)
    with standing_at(SATURDAY + timedelta(days=2)):
        yes_to_cut.say_for_one(order, seven, he_says(how="phone"), by=story.ada)
        assert len(cut([seven], by=story.ada)) == 1


def test_the_price_is_the_handbooks_and_each_child_pays_half_to_the_cent(story):
    story.draws_both()
    order = Order.objects.get(pk=story.quilts[0].pk)
    quote = quoting.issue(order, story.shop, by=story.ada)
    assert (quote.total, quote.deposit) == (81_855, 40_928)
    agreeing.accept(quote, said_by="His daughter", how="phone", by=story.ada)
    agreeing.accept(quote, said_by="His son", how="phone", by=story.ada)
    halves = [share.minor for share in split(Money(quote.total, "USD"), (1, 1))]
    assert halves == [40_928, 40_927]  # the cent that is over is the first payer's
    for child, minor in zip(story.children, halves, strict=True):
        money.take_payment(order, minor=minor, payer=child, method="check", key=f"s3 {child}", by=story.ada)
    assert money.owing_of(order).is_settled


def cut_and_counted(story: Story) -> None:
    """Say yes, look twice and cut both quilts, piece by piece."""
    story.draws_both()
    for number in SCENT:
        shirt = Shirt.objects.get(number=number)
        yes_to_cut.ask_singly(shirt, [HE], for_the_day=True, why="his scent", by=story.ada)
    for order in story.quilts:
        mine = list(Piece.objects.filter(order=order).select_related("shirt__asked_singly"))
        yes_to_cut.say_for_pile(order, mine, he_says(how="paper"), by=story.ada)
        for piece in mine:
            for person in (story.ada, story.bo):
                yes_to_cut.look(order, piece, by=person)
            cut([piece], by=story.ada)


def test_all_of_it_goes_back_counted(story):
    cut_and_counted(story)
    assert Cut.objects.count() == 36
    story.bag.refresh_from_db()
    tally = Bag.objects.prefetch_related("shirts").get().tally()
    used = len({*Cut.objects.values_list("approved__piece__shirt", flat=True)})
    assert (tally.came_in, tally.used, tally.in_work) == (25, used, 25 - used)
    answers = handing_over.Answers(
        to=SISTER, why_them="she drives", why_unpaid="paid by bank", whole=True, leftovers="returned",
        needles=True,
    )  # fmt: skip
    for order in story.quilts:
        due = {shirt.pk for shirt in leftovers.due(order)}
        assert leftovers.count(order, due, by=story.ada).lacking == ()
        handing_over.hand_over(order, answers, by=story.ada)
    tally = Bag.objects.prefetch_related("shirts").get().tally()
    assert (tally.in_work, tally.used, tally.returned) == (0, used, 25 - used)
    assert not Shirt.objects.filter(state="used", leftovers="").exists()
    assert Bag.objects.get().handed_back_at is not None


def test_neither_quilt_leaves_on_the_anniversary_itself(story):
    """Wanted by Saturday, August 21, but not on the day itself, which lies in that week."""
    anniversary = SATURDAY.date() + timedelta(days=67)
    cut_and_counted(story)
    order = story.quilts[0]
    order.keep_off(anniversary, by=story.ada)
    answers = handing_over.Answers(
        to=SISTER, why_them="she drives", why_unpaid="paid by bank", whole=True, leftovers="returned",
        needles=True,
    )  # fmt: skip
    with standing_at(SATURDAY + timedelta(days=67)):
        with pytest.raises(handing_over.NotYet, match="not to leave, Wed\xa018\xa0Aug"):
            handing_over.hand_over(order, answers, by=story.ada)
        handing_over.hand_over(story.quilts[1], answers, by=story.ada)
    with standing_at(SATURDAY + timedelta(days=68)):
        handing_over.hand_over(order, answers, by=story.ada)
    assert [str(Order.objects.get(pk=each.pk).handed_over_at.date()) for each in story.quilts] == [
        "2027-08-19", "2027-08-18"
    ]  # fmt: skip


def test_the_quilt_with_his_scent_in_it_is_not_to_be_washed_and_the_other_is(story):
    Shirt.objects.filter(number__in=SCENT).update(wash="never", flags=["scent"])
    story.lays_out(0, ["07B", *story.names("back")[:13], *story.names("front")])
    story.lays_out(1, [*story.names("left-front"), "25B", "11LF"], down=4)
    assert care_facts(story.quilts[0])["unwashable"]
    assert not care_facts(story.quilts[1])["unwashable"]


def test_no_word_of_it_is_loud(story):
    story.draws_both()
    with standing_at(SATURDAY + timedelta(days=90)):
        for order in story.quilts:
            state = telling.state_of(order, today=story.shop.today())
            assert state.shape in ("rest", "work")
            assert "late" not in state.words


def test_what_is_soiled_goes_back_whole_and_is_not_laid_out(story):
    shirt = Shirt.objects.get(number=SOILED)
    shirt.keep_apart("soiled", by=story.ada)
    shirt.give_back(by=story.ada)
    assert "11B" not in {piece.id for piece in planning.bag_of(story.quilts[0]).pieces}
    tally = Bag.objects.prefetch_related("shirts").get().tally()
    assert (tally.in_work, tally.returned) == (24, 1)

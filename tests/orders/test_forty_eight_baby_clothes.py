"""Forty-eight baby clothes: trade handbook, scenario S6, in the shop's own verbs.

The figures are the handbook's: 16 composite blocks of 12 in of three garments each, 2 in sashing all
round, a 3 in border, 64 × 64; $861, with 7 % tax $921.27, deposit $460.64.
"""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest

from orders import planning
from orders.account import quoting
from orders.bag import groups, intake
from orders.customer import handing_over
from orders.models import AskedSingly, Bag, Customer, Cut, Event, Order, Piece, Shirt, cut
from orders.papers.money import quote_facts
from orders.papers.work import care_facts
from orders.quilt import layouts
from orders.yes import yes_to_cut
from orders.yes.yes_to_cut import Said
from planner.care import needs
from planner.layout import fit
from planner.quilt import Border, Cell, Quilt, Sashing
from planner.units import INCH, Rect, Sides, Size

pytestmark = [pytest.mark.django_db, pytest.mark.slow]
MOTHER = "A mother of Osier Weir"
# How many on a line, of which kind; each line is one photo and one tap for the kind.
LINES = (
    *[(6, "one-piece", {})] * 5,
    *[(3, "one-piece", {"fibres": {"polyester": "100"}, "flags": ["infant", "flame-resistant"]})] * 2,
    (4, "hat", {"flags": ["infant"]}),
    (3, "one-piece", {"fibres": {"polyester": "100"}, "flags": ["infant", "vinyl"]}),
    (2, "jeans", {"flags": ["infant", "snaps"]}),
    (1, "other", {"flags": ["infant"]}),
    (2, "dress", {"flags": ["infant"]}),
)


class Story:
    """Her bag, logged in lines of several garments."""

    def __init__(self, shop: Any, by: Any) -> None:
        self.shop, self.by = shop, by
        customer = Customer.objects.create(name=MOTHER, phone="555 0177")
        self.order = Order.objects.open(
            title="First birthday", customer=customer, by=by, width=64 * INCH, height=64 * INCH,
            needed_by=shop.today() + timedelta(days=373), recipient="a child of nine months",
            cloth={"sashing": "Forest"},
        )  # fmt: skip
        self.bag = Bag.objects.receive(
            self.order, by=by, brought_by="the mother", count=48, allergies="no wool, no fragrance"
        )
        for number, (many, kind, facts) in enumerate(LINES):
            said = intake.Said(kind, "front", "unknown", garments=many, facts=facts)
            intake.log_shirt(self.bag, self.order, said, by=by, client_id=f"s6-{number}")
        self.measures()

    def measures(self) -> None:
        """One front of each garment: a print of 5 × 5 with cloth round it; the second leg is not kept."""
        for piece in self.pieces():
            if piece.side.startswith("leg-r"):
                intake.write_panel(piece, seen=piece.version, by=self.by, wanted="out", why_out="one each")
                continue
            free = dict.fromkeys(("free_top", "free_right", "free_bottom", "free_left"), 2 * INCH)
            size = {"print_width": 5 * INCH, "print_height": 5 * INCH, "sizes_are_usual": False}
            feel = {"print_kind": "plastisol", "wanted": "must"}
            intake.write_panel(piece, seen=piece.version, by=self.by, **size, **free, **feel)

    def pieces(self) -> list[Piece]:
        found = Piece.objects.filter(shirt__bag=self.bag).exclude(wanted="out")
        return list(found.select_related("shirt__asked_singly", "order").order_by("shirt__number", "pk"))

    def draws(self) -> Quilt:
        """Three to a block: one 6 × 12 and two 6 × 6 beside it."""
        names = [piece.name for piece in self.pieces()]
        cells = tuple(self._block(at, names[3 * at : 3 * at + 3]) for at in range(16))
        quilt = Quilt(
            Size(64 * INCH, 64 * INCH), cells,
            sashing=Sashing(2 * INCH, outer=True, cornerstones=True),
            borders=(Border(Sides(*[3 * INCH] * 4)),),
        )  # fmt: skip
        layouts.choose(self.order, quilt, "Three to a block", minutes=(), seen=0, by=self.by)
        return quilt

    def _block(self, at: int, names: list[str]) -> Cell:
        left, top = (5 + at % 4 * 14) * INCH, (5 + at // 4 * 14) * INCH
        foot, half = 12 * INCH, 6 * INCH
        places = (Rect(left, top, half, foot), Rect(left + half, top, half, half),
                  Rect(left + half, top + half, half, half))  # fmt: skip
        held = enumerate(zip(places, names, strict=True))
        inside = tuple(Cell(f"{at}-{n}", place, name) for n, (place, name) in held)
        return Cell(f"{at + 1:02d}", Rect(left, top, foot, foot), inside=inside)


@pytest.fixture
def story(taxed, shelf, ada):
    return Story(taxed, ada)


def tally():
    return Bag.objects.prefetch_related("shirts").get().tally()


def test_forty_eight_garments_are_logged_on_twelve_lines(story):
    assert Event.objects.filter(what="logged").count() == len(LINES) == 12
    assert (tally().came_in, tally().in_work, tally().not_logged) == (48, 48, 0)
    assert len(story.pieces()) == 48


def test_a_small_print_is_offered_a_place_beside_others(story):
    (piece, *_) = story.pieces()
    answer = fit(planning.piece_of(piece), Size(12 * INCH, 12 * INCH), margin=INCH // 2)
    assert "composite" in {remedy.kind for remedy in answer.remedies}


def test_the_price_is_the_handbooks(story):
    story.draws()
    quote = quoting.issue(Order.objects.get(), story.shop, by=story.by)
    assert (quote.total, quote.deposit) == (92_127, 46_064)


def test_what_must_not_be_said_of_it_is_said_on_the_quote_and_on_the_card(story):
    story.draws()
    order = Order.objects.get()
    quote = quoting.issue(order, story.shop, by=story.by)
    assert quote_facts(quote)["infant"]
    card = care_facts(order)
    assert (card["infant"], card["small_parts"], card["flame_resistant"]) == (True, True, True)


def test_a_plastic_backed_bib_bears_less_heat_than_cotton(story):
    by_flag = {flag: piece for piece in story.pieces() for flag in piece.shirt.flags}
    bib = by_flag["vinyl"]
    cotton = story.pieces()[0]
    heat = [needs(planning.garment_of(each.shirt), planning.piece_of(each)).heat for each in (bib, cotton)]
    assert heat[0] < heat[1]


def test_one_tap_is_a_yes_to_all_forty_eight_and_one_may_be_asked_about_by_itself(story):
    came_home_in = groups.split(Shirt.objects.get(number=1), 1, by=story.by)
    story.draws()
    names = [MOTHER, "His father"]
    yes_to_cut.ask_singly(came_home_in, names, for_the_day=False, why="the first", by=story.by)
    yes_to_cut.say_for_pile(story.order, story.pieces(), Said(MOTHER, "person"), by=story.by)
    assert sum(piece.approvals.standing().exists() for piece in story.pieces()) == 47
    assert (tally().came_in, tally().in_work) == (48, 48)


def test_whose_yes_a_group_needs_stays_with_what_is_taken_out_of_it(story):
    group = Shirt.objects.get(number=1)
    yes_to_cut.ask_singly(group, [MOTHER, "His father"], for_the_day=False, why="", by=story.by)
    own = groups.split(Shirt.objects.get(number=1), 2, by=story.by)
    assert AskedSingly.objects.get(shirt=own).names == [MOTHER, "His father"]


def test_all_are_used_and_none_is_left_over(story):
    story.draws()
    order = Order.objects.get()
    yes_to_cut.say_for_pile(order, story.pieces(), Said(MOTHER, "paper"), by=story.by)
    cut(story.pieces(), by=story.by)
    assert Cut.objects.count() == 48
    assert (tally().used, tally().in_work) == (48, 0)
    answers = handing_over.Answers(
        to=MOTHER, why_unpaid="a gift", leftovers="returned", needles=True
    )  # fmt: skip
    handing_over.hand_over(order, answers, by=story.by)
    assert not Shirt.objects.filter(leftovers="").exists()
    assert (tally().came_in, tally().used) == (48, 48)

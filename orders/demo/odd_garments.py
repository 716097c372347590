"""What is odd in the demo’s bags: sealed sacks, a robe kept apart, a label that is gone, a guest, a group."""

from __future__ import annotations

from orders.bag import intake
from orders.bag.intake import Said
from orders.demo.making import Maker
from orders.models import Bag, Order, Piece, Signature


def his_sister_brings_more(maker: Maker, order: Order) -> None:
    """A robe that smells of smoke, a tie without a label, a scarf that is nobody’s; two sacks stay sealed."""
    bag = order.bags.get()
    _add(maker, bag, order, Said("robe", "front", "none", facts={
        "apart": "smell", "smell": "his pipe", "pockets": "emptied", "found": "a folded program",
        "story": "He wore it on Sundays, with the paper."}))  # fmt: skip
    _add(maker, bag, order, Said("tie", "front", "none", facts={"fibres": {}, "label_read": True}))
    bag.count_again(bag.tally().logged, by=maker.owner)
    _add(maker, bag, order, Said("scarf", "front", "none", guest=True))
    Bag.objects.receive(
        order, by=maker.owner, brought_by="his sister", count=None, sacks=2, place="the closed shelf",
        notes="From the attic. Not to be opened before he is asked.",
    )  # fmt: skip


def her_hats(maker: Maker, order: Order) -> None:
    """Three tiny hats under one tag; both signed for the count."""
    bag = order.bags.get()
    _add(maker, bag, order, Said("hat", "front", "unknown", garments=3, facts={"flags": ["infant"]}))
    bag.count_again(bag.tally().logged, by=maker.owner)
    bag.sign(Signature.Role.HANDED_IN, "The mother", _SCRAWL, by=maker.owner)
    bag.sign(Signature.Role.RECEIVED, maker.owner.name, [], by=maker.owner)


def _add(maker: Maker, bag: Bag, order: Order, said: Said) -> None:
    shirt = intake.log_shirt(bag, order, said, by=maker.owner)
    # They came after the quilt was drawn, so none of them has to be in it.
    Piece.objects.filter(shirt=shirt).update(wanted="may")


_SCRAWL = [
    [120, 210, 160, 90, 190, 220, 230, 100, 260, 215],
    [300, 190, 340, 150, 370, 190, 330, 215, 400, 180, 440, 205, 480, 160, 520, 205],
    [560, 120, 570, 215],
    [620, 200, 660, 160, 700, 205, 760, 175, 860, 190],
]

"""Money of the demo beside prices and deposits: terms for later, a certificate, two who share, a tip."""

from __future__ import annotations

from orders import papers
from orders.account import adding, giving_back, money
from orders.demo.making import Maker
from orders.models import Customer, Order, Payer, Shop

SETTLING = {
    "rounds": {"included": 2, "each": 2000},
    "storage": {"free": 30, "a_day": 100, "most": 6000},
    "called_off": {
        "before cloth": {"fee": 2500, "share": "0", "materials": False},
        "cloth bought": {"fee": 2500, "share": "0", "materials": True},
        "cut": {"fee": 0, "share": "1", "materials": False},
    },
}


def set_terms(shop: Shop) -> None:
    """Give the shop terms for what comes after a yes."""
    shop.settling = SETTLING
    shop.save()


def fill(maker: Maker) -> None:
    """Sell a certificate, let two share a quilt, take a tip, credit a late day, let a check bounce."""
    sold = giving_back.sell_certificate(
        minor=15000, bought_by="A partner of Lower Pentland", given_to="a nephew", method="card",
        key="demo certificate", by=maker.owner,
    )  # fmt: skip
    papers.deposit(sold, by=maker.owner)
    choir = Order.objects.get(title="The choir’s thank-you")
    tip = adding.take_tip(
        choir, minor=2000, payer=choir.customer, method="cash", key="demo tip", by=maker.owner
    )
    papers.deposit(tip, by=maker.owner)
    club = Order.objects.get(title="The running club’s jubilee")
    uncle = Customer.objects.create(name="The second coach of Quarry Gap", phone="555 0119")
    Payer.objects.create(order=club, customer=uncle, share=1)
    share = money.shares_of(club, money.owing_of(club))[1].left
    paid = money.take_payment(
        club, minor=share, key="demo check", payer=uncle, method="check", by=maker.owner
    )
    papers.deposit(paid, by=maker.owner)
    papers.deposit(giving_back.bounced(paid, by=maker.owner), by=maker.owner)
    adding.credit(club, words="For the day it came late", minor=1500, key="demo credit", by=maker.owner)

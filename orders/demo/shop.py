"""A made-up shop to look round in: its people, its shelf, and a plot."""

from __future__ import annotations

from django.core.management import call_command
from django.db import connection, transaction

from orders import guards
from orders.demo.clock import ZONE
from orders.demo.making import Maker
from orders.demo.plot import play
from orders.demo.purse import set_terms
from orders.demo.shelf import fill_shelf
from orders.models import Customer, Machine, Order, Person, Shop, WorkingWeek

OWNER, HELPER = "Wren", "Juno"
PASSWORD = "muslin by the window"
PILLOW = {"words": "Pillow", "per": "pillow", "rate": "55"}
TAX = {"rate": "0.07", "words": "Sales tax, 7 %"}


class NotADemo(Exception):
    """There is a real shop here, and the demo leaves it alone."""


@transaction.atomic
def open_demo() -> bool:
    """Open the demo shop and play its plot; False when it stands already."""
    shop = Shop.objects.the()
    if shop is not None and shop.is_demo:
        return False
    if shop is not None or Person.objects.exists() or Order.objects.exists() or Customer.objects.exists():
        raise NotADemo("This shop has real records. The demo opens only in an empty place: set DATA_DIR.")
    play(Maker(_set_up(), Person.objects.get(role=Person.Role.OWNER)))
    return True


def close_demo() -> None:
    """Empty every table of a demo shop; its photographs are thrown away by the daily sweep."""
    shop = Shop.objects.the()
    if shop is None or not shop.is_demo:
        raise NotADemo("This is a real shop. It cannot be emptied from here.")
    connection.check_constraints()  # PostgreSQL empties no table of which a row waits to be checked
    guards.remove(connection)
    try:
        call_command("flush", interactive=False, verbosity=0)
    finally:
        guards.install(connection)


def _set_up() -> Shop:
    owner = Person.objects.create_person(OWNER, role=Person.Role.OWNER, password=PASSWORD)
    helper = Person.objects.create_person(HELPER, role=Person.Role.HELPER, password=PASSWORD)
    shop = Shop.objects.set_up(
        name="The workroom, Alder Steps",
        country="US",
        unit="in",
        currency="USD",
        paper="letter",
        time_zone=ZONE.key,
    )
    shop.is_demo = True
    terms = {**shop.rules["terms"], "taxes": [TAX], "round_to": "1.00"}
    shop.rules = {**shop.rules, "terms": terms, "rules": [*shop.rules["rules"], PILLOW]}
    set_terms(shop)
    WorkingWeek.objects.create(person=owner, minutes=[300] * 5 + [0, 0])
    stages = ["log", "wash", "cut", "finish"]
    WorkingWeek.objects.create(
        person=helper, minutes=[0, 0, 150, 0, 150, 360, 0], opens=13 * 60, stages=stages
    )
    Machine.objects.create(name="the frame")
    fill_shelf(by=owner)
    return shop

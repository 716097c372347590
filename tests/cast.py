"""The cast of the tests: a shop, its people, a customer, and a bag of twelve shirts with an order."""

from __future__ import annotations

from typing import Any

import pytest

from planner.units import INCH

PASSWORD = "batting for seven quilts"


@pytest.fixture
def password() -> str:
    return PASSWORD


@pytest.fixture
def ada(db: None) -> Any:
    """Return Ada, who owns the shop."""
    from orders.models import Person

    return Person.objects.create_person("Ada", role="owner", password=PASSWORD)


@pytest.fixture
def bo(ada: Any) -> Any:
    """Return Bo, who helps in the shop three afternoons a week."""
    from orders.models import Person

    return Person.objects.create_person("Bo", role="helper", password=PASSWORD)


@pytest.fixture
def shop(ada: Any) -> Any:
    """Return the shop, set up in inches and dollars, with Ada at work five hours a day."""
    from orders.models import Shop, WorkingWeek

    made = Shop.objects.set_up(
        name="The workroom, Alder Steps",
        country="US",
        unit="in",
        currency="USD",
        paper="letter",
        time_zone="America/New_York",
    )
    WorkingWeek.objects.create(person=ada, minutes=[300] * 5 + [0, 0])
    made.planned_share = 100  # so that five hours are five hours
    made.save()
    return made


@pytest.fixture
def aunt(shop: Any) -> Any:
    """Return a customer of Ferncliff."""
    from orders.models import Customer

    return Customer.objects.create(name="An aunt of Ferncliff", phone="555 0131")


@pytest.fixture
def order(aunt: Any, ada: Any, shop: Any) -> Any:
    """Return an order with an empty bag; it is wanted in ten weeks."""
    from datetime import timedelta

    from orders.models import Bag, Order

    made = Order.objects.open(
        title="The aunt’s surprise",
        customer=aunt,
        by=ada,
        place="Ferncliff",
        needed_by=shop.today() + timedelta(days=70),
        width=50 * INCH,
        height=66 * INCH,
    )
    made.bags.add(Bag.objects.create(customer=aunt, brought_by="the aunt", count=12, received_by=ada))
    return made


@pytest.fixture
def twelve_shirts(order: Any) -> list[Any]:
    """Return the order's bag filled: twelve cotton tees, each with a front print of 11 by 12 in."""
    return [add_shirt(order.bags.get(), number) for number in range(1, 13)]


def add_shirt(bag: Any, number: int, **change: Any) -> Any:
    """Log a cotton tee with a front print of 11 by 12 in and enough cloth round it."""
    from orders.models import Piece, Shirt

    shirt = Shirt.objects.create(bag=bag, number=number, fibres={"cotton": "100"}, **change)
    Piece.objects.create(
        shirt=shirt,
        side="front",
        print_kind="plastisol",
        print_width=11 * INCH,
        print_height=12 * INCH,
        free_top=3 * INCH,
        free_right=4 * INCH,
        free_bottom=6 * INCH,
        free_left=4 * INCH,
        ground="#2350b0" if number % 2 else "#e2a71e",
    )
    return shirt


@pytest.fixture
def shelf(shop: Any, ada: Any) -> list[Any]:
    """Return a small shelf: two cottons, a wide backing, batting and interfacing."""
    from orders.models import Cloth
    from planner.units import YARD

    rows = [
        ("Forest", "cotton", 40, "1200", "#234a34", 3),
        ("Gold", "cotton", 40, "1200", "#e2a71e", 1),
        ("Wide black", "backing", 106, "1800", "#1a1a1a", 5),
        ("Batting 80/20", "batting", 96, "1106", "", 11),
        ("Light non-woven", "light non-woven", 20, "220", "", 14),
        ("Tricot", "tricot", 60, "400", "", 0),
        ("Low-heat tricot", "low-heat tricot", 60, "400", "", 5),
    ]
    made = []
    for name, kind, usable, price, ground, yards in rows:
        cloth = Cloth.objects.create(
            name=name, kind=kind, usable=usable * INCH, step=YARD // 8, price=price, ground=ground
        )
        if yards:
            cloth.put_on_shelf(yards * YARD, by=ada)
        made.append(cloth)
    return made


@pytest.fixture
def taxed(shop: Any) -> Any:
    """Return the shop with 7 % tax on everything and prices in whole dollars."""
    shop.rules["terms"]["taxes"] = [{"rate": "0.07"}]
    shop.rules["terms"]["round_to"] = "1.00"
    shop.save(update_fields=["rules"])
    return shop


@pytest.fixture
def drawn(twelve_shirts: Any, shelf: Any, taxed: Any, ada: Any) -> Any:
    """Return the order with its layout drawn: three by four blocks, sashed, 50 by 66 in."""
    from orders import planning
    from orders.models import Design, Order

    order = Order.objects.get()
    order.cloth = {"sashing": "Forest", "cornerstone": "Gold", "binding": "Forest"}
    order.save()
    quilt = planning.plan_order(order, taxed).options[0].layout.quilt
    Design.objects.create(order=order).draw(quilt, "Even grid", by=ada)
    planning.keep_blocks(order, quilt)
    return order


@pytest.fixture
def quote(drawn: Any, shop: Any, ada: Any) -> Any:
    """Return the order's first quote, issued today: 500.76 with tax, half of it first."""
    from orders.account import quoting

    return quoting.issue(drawn, shop, by=ada)


@pytest.fixture
def agreed(drawn: Any, quote: Any, ada: Any) -> Any:
    """Return the order after the aunt said yes to its quote on the phone."""
    from orders.account import agreeing

    agreeing.accept(quote, said_by="An aunt of Ferncliff", how="phone", by=ada)
    drawn.refresh_from_db()
    return drawn

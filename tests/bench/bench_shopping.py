"""How long the shopping list takes with sixty open orders, each with six parts spoken for. Goal: 1 s.

Run: .venv/bin/python -m tests.bench.bench_shopping
"""

from __future__ import annotations

import os
import tempfile
import time

ORDERS, ROUNDS = 60, 5


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        os.environ |= {"DATA_DIR": folder, "DJANGO_SETTINGS_MODULE": "config.settings"}
        import django
        from django.core.management import call_command

        django.setup()
        call_command("migrate", verbosity=0)
        shop = fill()
        from orders.cloth.shopping import shopping_list
        from orders.days.weeks import timetable_of

        cold = seconds(lambda: shopping_list(shop))
        warm = min(seconds(lambda: shopping_list(shop)) for _ in range(ROUNDS))
        timetable_of.cache_clear()
        again = seconds(lambda: shopping_list(shop))
        lines = len(shopping_list(shop).lines)
        print(f"shopping list, {ORDERS} open orders, {lines} cloths short:", end=" ")
        print(f"first {cold:.2f} s, timetable anew {again:.2f} s, after that {warm:.3f} s")


def fill() -> object:
    """A shop with sixty open orders of eleven stages, each with six parts spoken for."""
    from datetime import timedelta

    from orders.models import Cloth, Customer, Order, Person, Reservation, Shop, WorkingWeek
    from planner.units import INCH, YARD

    owner = Person.objects.create_person("Ada", role="owner", password="batting for seven quilts")
    shop = Shop.objects.set_up(
        name="A workroom",
        country="US",
        unit="in",
        currency="USD",
        paper="letter",
        time_zone="America/New_York",
    )
    WorkingWeek.objects.create(person=owner, minutes=[300] * 5 + [0, 0])
    cloths = [
        Cloth.objects.create(name=f"Cloth {n}", usable=40 * INCH, step=YARD // 8, price="1200")
        for n in range(40)
    ]
    for cloth in cloths:
        cloth.put_on_shelf(3 * YARD, by=owner)
    aunt = Customer.objects.create(name="An aunt of Ferncliff", phone="555 0131")
    kinds = ("cut", "fuse", "trim", "make up", "join", "border", "back", "quilt", "bind", "finish")
    roles = ("sashing", "cornerstone", "border", "binding", "backing", "filler")
    for number in range(ORDERS):
        order = Order.objects.open(
            title=f"Quilt {number}",
            customer=aunt,
            by=owner,
            needed_by=shop.today() + timedelta(days=20 + 5 * number),
        )
        for position, kind in enumerate(kinds):
            order.stages.create(kind=kind, position=position, minutes=60 + 7 * position)
        for at, role in enumerate(roles):
            cloth = cloths[(number * 7 + at) % len(cloths)]
            Reservation.objects.create(order=order, cloth=cloth, role=role, length=(1 + at) * YARD // 2)
    return shop


def seconds(what: object) -> float:
    start = time.perf_counter()
    what()  # type: ignore[operator]
    return time.perf_counter() - start


if __name__ == "__main__":
    main()

"""What happens in the demo, said as short as the plot needs it; the shop’s own verbs do the work."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from fractions import Fraction
from typing import Any

from orders import papers, planning
from orders.account import agreeing, hourly, money, quoting
from orders.bench import needles, work
from orders.demo import pictures
from orders.models import Bag, Consent, Customer, Order, Person, Piece, Quote, Shirt, Shop
from orders.quilt import arranging, layouts, mixing, ways
from orders.quilt.answers import answer
from orders.quilt.arranging import Asked
from orders.yes import yes_to_cut, yes_to_picture
from orders.yes.yes_to_cut import Said
from planner.units import INCH

FEW_STEPS = 40  # of the search for mixed sizes: a second or two


def ticks(inches: float) -> int:
    """Return inches, written to an eighth, as ticks."""
    return int(Fraction(inches) * INCH)


class Maker:
    """The owner of the demo shop at work: every verb is one sentence of the plot."""

    def __init__(self, shop: Shop, owner: Person) -> None:
        self.shop, self.owner = shop, owner
        self.seed = 0

    def day(self, ahead: int) -> date:
        """Return the day so many days from now."""
        return self.shop.today() + timedelta(days=ahead)

    def opens(self, title: str, for_whom: str, *, reach: str, across: int, down: int, **facts: Any) -> Order:
        """Open an order for a new customer."""
        customer = Customer.objects.create(name=for_whom, phone=reach)
        size = {"width": across * INCH, "height": down * INCH} if across else {}
        return Order.objects.open(title=title, customer=customer, by=self.owner, **size, **facts)

    def receives(self, order: Order, looks: Sequence[dict[str, Any]], *, brought_by: str, **told: Any) -> Bag:
        """Take in a bag, count it, and log each garment."""
        bag = Bag.objects.create(
            customer=order.customer, brought_by=brought_by, count=len(looks), received_by=self.owner, **told
        )
        order.bags.add(bag)
        logged = [self._logs(bag, number, dict(look)) for number, look in enumerate(looks, start=1)]
        pictures.send_bag(bag, logged)
        return bag

    def _logs(self, bag: Bag, number: int, said: dict[str, Any]) -> dict[str, Any]:
        look, side = said.pop("look"), said.pop("side", "front")
        size, free = self._sizes(look, said)
        feel, heavy = said.pop("feel"), said.pop("heavy", False)
        usual = said.pop("usual", False) or bool(look["beside"])
        said.setdefault("fibres", {"cotton": "100"})
        shirt = Shirt.objects.create(bag=bag, number=number, kind=look["kind"], **said)
        self.seed += 1
        drawable = {**look, **_drawable(look)}
        box = pictures.panel_on(drawable, seed=self.seed)
        color = look["ground"].lower()
        piece = {"print_kind": feel, "heavy": heavy, "ground": color, "box": box, **size, **free}
        piece |= {"sizes_are_usual": usual, "ground_is_about": True}
        Piece.objects.create(shirt=shirt, side=side, **piece)
        return {"shirt": shirt.pk, "look": drawable, "seed": self.seed}

    def _sizes(self, look: dict[str, Any], said: dict[str, Any]) -> tuple[dict[str, int], dict[str, int]]:
        top, right, bottom, left = (ticks(side) for side in said.pop("free", (3, 4.5, 6, 4.5)))
        size = {"print_width": ticks(look["print_wide"]), "print_height": ticks(look["print_tall"])}
        return size, {"free_top": top, "free_right": right, "free_bottom": bottom, "free_left": left}

    def draws(self, order: Order, cloth: dict[str, str], *, favorites: tuple[str, ...] = ()) -> None:
        """Choose the cloth, take the first way to lay the shirts out, and rearrange the blocks."""
        order.cloth = cloth
        order.save(update_fields=["cloth"])
        best = planning.plan_order(order, self.shop).options[0]
        design, _ = layouts.drawn(order)
        layouts.choose(
            order, best.layout.quilt, "Even grid", minutes=best.minutes, seen=design.at, by=self.owner
        )
        design, _ = layouts.drawn(order)
        arranging.rearrange(order, Asked(favorites=favorites), seen=design.at, by=self.owner)
        order.refresh_from_db()

    def draws_mixed(self, order: Order, cloth: dict[str, str]) -> None:
        """Choose the cloth, look for blocks of many sizes, and take what was found."""
        order.cloth = cloth
        order.save(update_fields=["cloth"])
        mixing.look_now(order, unit=self.shop.unit, effort=FEW_STEPS)
        found = answer(order, self.shop).options[0]
        design, _ = layouts.drawn(order)
        words = f"{ways.name_of(found.layout.quilt)} chosen"
        layouts.choose(order, found.layout.quilt, words, minutes=found.minutes, seen=design.at, by=self.owner)
        order.refresh_from_db()

    def pins(self, order: Order, name: str) -> None:
        """Pin the block of a piece where it lies."""
        design, quilt = layouts.drawn(order)
        assert quilt is not None
        cell = next(cell.id for cell in quilt.cells if cell.piece == name)
        layouts.pin(order, cell, seen=design.at, by=self.owner)

    def works_by_the_hour(
        self, order: Order, words: str, *, minutes: int, an_hour: int, most: int | None = None
    ) -> None:
        """Put hours of work on the price to come."""
        hourly.put(
            order, words, minutes=minutes, an_hour=an_hour, most=most,
            currency=self.shop.currency, by=self.owner,
        )  # fmt: skip

    def quotes(self, order: Order, *, also: Sequence[Order] = ()) -> Quote:
        """Issue the quote, with those of other orders on the same paper."""
        quote = quoting.issue(order, self.shop, by=self.owner, also=also)
        papers.quote(quote, by=self.owner)
        return quote

    def agrees(self, order: Order, *, pays: str = "card", all_of_it: bool = False) -> None:
        """Write down the yes to the price and take the deposit, or everything."""
        quote = self.quotes(order)
        agreeing.accept(quote, said_by=order.customer.name, how="person", by=self.owner)
        owing = money.owing_of(order)
        minor = owing.balance if all_of_it else quote.deposit
        key = f"demo {order.number} {'all' if all_of_it else 'deposit'}"
        paid = money.take_payment(
            order, minor=minor, payer=order.customer, method=pays, key=key, by=self.owner
        )
        papers.deposit(paid, by=self.owner)

    def hears_yes_to_cut(self, order: Order, *, how: str = "person") -> None:
        """Write down the yes to cut every piece in the layout."""
        placed = order.blocks.select_related("piece__shirt__asked_singly")
        pieces = [block.piece for block in placed if block.piece]
        yes_to_cut.say_for_pile(order, pieces, Said(order.approver, how), by=self.owner)

    def asks_singly(
        self, order: Order, number: int, *names: str, why: str = "", for_the_day: bool = False
    ) -> None:
        """Ask about a shirt by itself: each of these names says yes to it."""
        shirt = Shirt.objects.of_order(order.number).get(number=number)
        yes_to_cut.ask_singly(shirt, names, for_the_day=for_the_day, why=why, by=self.owner)

    def hears_one_yes(self, order: Order, number: int, name: str, *, how: str = "person") -> None:
        """Write down one name's yes to each piece of one shirt."""
        for piece in self._pieces(order, number):
            yes_to_cut.say_for_one(order, piece, Said(name, how), by=self.owner)

    def takes_back(self, order: Order, number: int) -> None:
        """Take the yes to one shirt back."""
        for piece in self._pieces(order, number):
            yes_to_cut.take_back_piece(order, piece, by=self.owner)

    def _pieces(self, order: Order, number: int) -> list[Piece]:
        found = Piece.objects.filter(shirt__bag__orders=order, shirt__number=number)
        return list(found.select_related("shirt__asked_singly"))

    def hears_yes_to_picture(self, order: Order) -> None:
        """Ask for the yes to the picture and write it down."""
        self.asks_about_picture(order)
        version = order.versions.get(replaced_at=None)
        Consent.objects.to_picture(version, said_by=order.approver, how="message", by=self.owner)

    def asks_about_picture(self, order: Order) -> None:
        """Ask for the yes to the picture with all that is shown of it."""
        yes_to_picture.ask(order, self.shop, by=self.owner)

    def hears_wish(self, order: Order, words: str, *, how: str = "message") -> None:
        """Write down what should change in the picture that was asked about."""
        number = order.versions.get(replaced_at=None).number
        said = yes_to_picture.Said(order.approver, how)
        yes_to_picture.wish(order, number, words, said, by=self.owner)

    def does(self, order: Order, *stages: str) -> None:
        """Finish whole stages."""
        for kind in stages:
            if kind == "finish":
                needles.count(order, needles.Count(3, 3, 40, 40), by=self.owner)
            work.finish(order.stages.get(kind=kind), by=self.owner)

    def does_part(self, order: Order, kind: str, count: int) -> None:
        """Do so many blocks of a stage."""
        blocks = list(order.blocks.filter(piece__isnull=False).order_by("cell").values_list("pk", flat=True))
        work.do_pile(order, kind, blocks[:count], by=self.owner)

    def hands_over(self, order: Order, to: str) -> None:
        """Give it out of the shop with its receipt and its care card."""
        order.hand_over(to, by=self.owner)
        papers.receipt(order, by=self.owner)
        papers.care(order, by=self.owner)


def _drawable(look: dict[str, Any]) -> dict[str, Any]:
    """A plain garment has no print, but a drawing wants a size to leave free."""
    return {name: max(2, look[name]) for name in ("print_wide", "print_tall")}

"""Words of the demo: what was said to customers, a mail that nobody took, a parcel that is packed."""

from __future__ import annotations

from orders.customer import drafts, way_home
from orders.demo.clock import days_ago
from orders.demo.making import Maker
from orders.models import Mail, Message, Order, Parcel


def fill(maker: Maker) -> None:
    """Let some words have gone, one mail be refused, and one quilt be packed for the carrier."""
    club = Order.objects.get(title="The running club’s jubilee")
    crew = Order.objects.get(title="The bus crew’s send-off")
    with days_ago(6):
        _said(maker, club, "Called about: Yes to the price", how="call")
    with days_ago(3):
        _said(maker, crew, "Talked: two more days, and they are content", how="talk")
    with days_ago(1):
        _not_taken(maker, crew)
    _packed(maker, club)


def _said(maker: Maker, order: Order, words: str, *, how: str) -> None:
    on = maker.shop.today()
    Message.objects.note(order, words, to=order.customer.name, on=on, by=maker.owner, how=how)


def _not_taken(maker: Maker, order: Order) -> None:
    words = drafts.written("delay", order, maker.shop, day=maker.day(3))
    Mail.objects.create(
        order=order, kind="delay", to=order.customer.name, address="dispatch@pebble-weir.example",
        subject=f"Your quilt, No. {order.number}", words=words, key="demo mail", state=Mail.State.REFUSED,
        tries=1, why="The mail server will not have it: 550 5.1.1 nobody of that name", by=maker.owner,
    )  # fmt: skip


def _packed(maker: Maker, order: Order) -> None:
    way_home.leave_by(order, Order.Leaving.PARCEL, by=maker.owner)
    Parcel.objects.pack(
        order, by=maker.owner, address="The clubhouse\n4 Towpath\nQuarry Gap", carrier="The parcel van",
        value=41000, weight=1860, transit_days=3,
    )  # fmt: skip

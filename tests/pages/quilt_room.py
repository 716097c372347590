"""What the tests of the Quilt room share: its addresses, an order with a layout, ways to look and to send."""

from __future__ import annotations

import re

from orders.models import Order, Piece
from orders.quilt import layouts
from orders.quilt.answers import answer


class QuiltRoom:
    """The room of one order, seen by whoever is signed in."""

    def __init__(self, client, order):
        self.client, self.order = client, order
        self.url = f"/quilts/{order.number}/quilt/"

    def look(self, query=""):
        return self.client.get(self.url + query)

    def send(self, noun, **typed):
        return self.client.post(f"{self.url}{noun}/", typed)

    def text(self, query=""):
        return self.look(query).content.decode()

    def label(self, query):
        """Return the words of the label that hangs beside the picture."""
        page = self.text(query)
        words = words_of(page[page.index('id="label"') : page.index('class="under"')])
        return words.replace("\xa0", " ")

    def draw(self, by, shop):
        """Draw the first way on offer."""
        order = Order.objects.get(pk=self.order.pk)
        offer = answer(order, shop).options[0]
        layouts.choose(order, offer.layout.quilt, "chosen", minutes=offer.minutes, seen=self.seen, by=by)

    @property
    def seen(self):
        return layouts.move_number(self.order)

    @property
    def quilt(self):
        return Order.objects.get(pk=self.order.pk).design.quilt

    @property
    def version(self):
        return Order.objects.get(pk=self.order.pk).version


def add_back(number):
    """Log the back of a shirt as well, with the print of its front; it may be in."""
    back = Piece.objects.get(shirt__number=number)
    back.pk, back.side, back.wanted = None, "back", "may"
    back.save(force_insert=True)
    return back


def words_of(html):
    """Return the words of a page without its marks."""
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html))

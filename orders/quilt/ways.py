"""The ways on offer to lay an order's shirts out, each as a picture with what it takes and gives up."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from django.utils.safestring import SafeString

from orders.models.design import fingerprint
from orders.planning import day_of
from orders.quilt import quilt_picture
from orders.quilt.cautions import is_about_all_ways
from orders.quilt.drawn import Room, listed, view_of
from planner.brief import as_json
from planner.plan import Offer
from planner.quilt import Quilt
from planner.schedule import Promise
from planner.units import Size


@dataclass(frozen=True)
class Way:
    """One way to lay the shirts out; `price` is minor units before tax, for the owner alone."""

    key: str
    name: str
    offer: Offer
    picture: SafeString
    is_standing: bool
    fits_by: date | None

    @property
    def size(self) -> Size:
        return self.offer.layout.quilt.size

    @property
    def block(self) -> Size | None:
        """The size of its blocks, where all are alike."""
        sizes = {cell.at.size for cell in self.offer.layout.quilt.cells}
        return sizes.pop() if len(sizes) == 1 else None

    @property
    def how_good(self) -> str:
        """How good a layout that was searched for is; even grids are all looked at."""
        layout = self.offer.layout
        if not layout.verdict or in_rows(layout.quilt):
            return ""
        return "Proved the best of its kind" if layout.proved else "The best found so far"

    @property
    def minutes(self) -> int:
        return sum(each.minutes for each in self.offer.minutes)

    @property
    def price(self) -> int:
        return self.offer.pricing.net.minor

    @property
    def left_out(self) -> str:
        names = [each.piece for each in self.offer.layout.left_out]
        return f"Leaves out {listed(names)}" if names else "Nothing left out"

    @property
    def compromise(self) -> str:
        """What it gives up, in one sentence."""
        layout = self.offer.layout
        given_up = [each.what for each in self.offer.problems if not is_about_all_ways(each)]
        said = [f"{listed(layout.cropped)} would lose part of the print."] if layout.cropped else []
        said += [*layout.notes, *given_up]
        more = f" And {len(said) - 1} more to look at." if len(said) > 1 else ""
        return said[0] + more if said else "Every print whole, every seam straight."


def ways_of(room: Room) -> tuple[Way, ...]:
    """Return the ways on offer; a layout changed by hand is a way of its own, and stands first."""
    options = room.plan.options
    if room.quilt is None:
        return tuple(_way(room, offer, is_standing=False) for offer in options)
    drawn, others, same = options[0], options[1:], room.same_way
    own = [] if same else [replace(_way(room, drawn, is_standing=True), name="As you drew it")]
    return (*own, *(_way(room, offer, is_standing=offer is same) for offer in others))


def key_of(quilt: Quilt) -> str:
    """Return what names a way on its button: a hash of the whole quilt."""
    return fingerprint(as_json(quilt))[:24]


def offer_with(room: Room, key: str) -> Offer | None:
    """Return the way a button named, if it is still on offer."""
    return next((each for each in room.plan.options if key_of(each.layout.quilt) == key), None)


def name_of(quilt: Quilt) -> str:
    """Name a layout by its rows, `3 across, 4 down`, or by its blocks where they stand in none."""
    if not in_rows(quilt):
        return f"Mixed sizes, {len(quilt.cells)} blocks"
    across = len({cell.at.x for cell in quilt.cells})
    down = len({cell.at.y for cell in quilt.cells})
    return f"{across} across, {down} down"


def in_rows(quilt: Quilt) -> bool:
    """Say whether every row crosses every column in a block."""
    columns = {(cell.at.x, cell.at.width) for cell in quilt.cells}
    rows = {(cell.at.y, cell.at.height) for cell in quilt.cells}
    return len(columns) * len(rows) == len(quilt.cells)


def _way(room: Room, offer: Offer, *, is_standing: bool) -> Way:
    quilt = offer.layout.quilt
    promise = offer.promise
    return Way(
        key=key_of(quilt),
        name=name_of(quilt),
        offer=offer,
        picture=quilt_picture.thumbnail(quilt, view_of(room)),
        is_standing=is_standing,
        fits_by=day_of(promise.day, room.shop) if isinstance(promise, Promise) else None,
    )

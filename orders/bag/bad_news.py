"""The words a customer hears when something went wrong: what, when, what is kept, and nothing more."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from orders.bag.panels import label_of
from orders.customer.sending import plain
from orders.models import Incident, Shop
from orders.templatetags.clock import moment_clock
from orders.templatetags.shop import day

_HAPPENED = {
    Incident.What.MELTED: "was spoiled by heat while it was pressed",
    Incident.What.CUT_WRONG: "was cut where it should not have been",
    Incident.What.STAINED: "got a stain",
    Incident.What.MISSING: "is not where it should be, and we are looking for it",
    Incident.What.OTHER: "was not right when we worked on it",
}


def words_for(incident: Incident, shop: Shop) -> str:
    """Return words to say or send; what will be done about it is the maker's own to add."""
    on = day(incident.at.astimezone(ZoneInfo(shop.time_zone)).date(), shop.today())
    it = _thing(incident)
    kept = "" if incident.what == Incident.What.MISSING else " Every piece of it is kept."
    return plain(
        f"I am sorry to have to tell you this. On {on} at {moment_clock(incident.at, shop)}, {it}"
        f" {_HAPPENED[Incident.What(incident.what)]}.{kept} Nothing more is done to it until we have talked."
    )


def _thing(incident: Incident) -> str:
    order = f"of {incident.order.your_thing}, No. {incident.order.number},"
    if incident.piece:
        return f"the {label_of(incident.piece.side).lower()} of shirt {incident.shirt} {order}"
    return f"shirt {incident.shirt} {order}" if incident.shirt else f"a piece {order}"

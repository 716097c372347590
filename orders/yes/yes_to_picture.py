"""The yes to the picture: asked for with all that was shown, said by the one who decides, or a wish instead.

Reckoning comes first; each verb is one transaction and safe to send twice.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass
from datetime import date, timedelta
from typing import Any

from django.db import transaction

from orders.account import money
from orders.account.agreeing import name_among
from orders.days.calendar import order_id
from orders.days.weeks import days_of_room, look_ahead
from orders.models import (
    AskedPicture,
    Consent,
    Design,
    DesignVersion,
    LeaveToMove,
    Order,
    Person,
    Shop,
)
from orders.quilt.compromises import compromises
from orders.quilt.drawn import Room, left_out_of, room_of, view_of
from orders.quilt.layouts import drawn


class NoPicture(Exception):
    """There is nothing to ask about; the message says what comes first."""


class TooLate(Exception):
    """What was answered is no longer what is asked; the message says so."""


NEWER = "A newer picture has taken the place of this one. Look at the new one first."


@dataclass(frozen=True)
class Said:
    """Whose words they are, how they came, and whether blocks may move (None: not asked)."""

    by: str
    how: str
    may_move: bool | None = None


def ask(order: Order, shop: Shop, *, by: Person) -> DesignVersion:
    """Keep the picture as it stands and ask about it; the same picture is asked about once."""
    room = room_of(order, shop)
    if room.quilt is None:
        raise NoPicture("There is no picture to ask about yet. Choose a layout first.")
    shown, answer_by = shown_of(room), answer_by_of(order, shop)
    design, _ = drawn(order)
    with transaction.atomic():
        if Design.objects.select_for_update().get(pk=design.pk).quilt != room.quilt:
            raise NoPicture("The picture changed this moment. Look at it again, then ask.")
        version = design.freeze(by=by)
        _, is_new = AskedPicture.objects.get_or_create(version=version, defaults={"shown": shown})
        if is_new:
            DesignVersion.objects.filter(pk=version.pk).update(answer_by=answer_by)
            version.answer_by = answer_by
    return version


def shown_of(room: Room) -> dict[str, Any]:
    """Return all that is shown with a picture as plain values, so that it stays what she saw."""
    assert room.quilt is not None
    view = view_of(room)
    cells = room.quilt.with_pieces()
    return {
        "panels": {cell.piece: asdict(view.panel(cell)) for cell in cells if cell.piece},
        "colors": dict(room.cloth),
        "swatches": {role: asdict(swatch) for role, swatch in room.swatches.items()},
        "left_out": [[piece.name, why] for piece, why in left_out_of(room)],
        "compromises": list(compromises(room)),
    }


def answer_by_of(order: Order, shop: Shop) -> date | None:
    """Return the last day on which an answer costs no day; a memorial is not hurried, so it has none."""
    if order.memorial or order.promised_for is None:
        return None
    today = shop.today()
    room = days_of_room(look_ahead(shop, today=today, weeks=1), order_id(order))
    return today + timedelta(days=room) if room is not None else None


@transaction.atomic
def say(order: Order, number: int, said: Said, *, by: Person | None) -> Consent:
    """Write down the yes to a picture; only the one who decides gives it, and only to the newest one."""
    name = name_among([order.approver], said.by)
    version = standing(order, number)
    consent = Consent.objects.to_picture(version, said_by=name, how=said.how, by=by)
    if said.may_move is not None:
        LeaveToMove.objects.answer(order, said.may_move, said_by=name, how=said.how, by=by)
    return consent


@transaction.atomic
def wish(order: Order, number: int, words: str, said: Said, *, by: Person | None) -> Consent:
    """Keep what should change in a picture; the one who decides and those who pay may wish."""
    name = name_among([order.approver, *money.names_that_pay(order)], said.by)
    version = standing(order, number)
    return Consent.objects.wish(version, words=words, said_by=name, how=said.how, by=by)


def standing(order: Order, number: int) -> DesignVersion:
    """Return the version of that number, held; TooLate when another took its place."""
    version = order.versions.select_for_update().filter(number=number).first()
    if version is None or version.replaced_at is not None:
        raise TooLate(NEWER)
    return version

"""The state of an order as a sentence, read off the record: nobody picks it, so it is never stale."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from orders.bench.piles import minutes_left, pile_of
from orders.models import Block, Order, Stage
from orders.yes.picture_standing import agreed_of, may_be_joined

DOING = {
    "log": "Logging",
    "wash": "Washing",
    "design": "Drawing it",
    "cut": "Cutting",
    "fuse": "Fusing",
    "trim": "Trimming",
    "make up": "Making up blocks",
    "join": "Joining",
    "border": "Sewing the border",
    "back": "Piecing the back",
    "quilt": "Quilting",
    "bind": "Binding",
    "finish": "Finishing",
}
READY = {"collection": "Ready to collect", "delivery": "Ready to deliver", "parcel": "Ready to post"}


@dataclass(frozen=True)
class State:
    """A sentence of a few words, and its shape: done, wait, late, work or rest."""

    words: str
    shape: str


@dataclass(frozen=True)
class Left:
    """What is left: minutes of work, and days until it is needed (below 0: past), None without a day."""

    minutes: int
    days: int | None


def state_of(order: Order, *, today: date) -> State:
    """Tell where an order is. Reads no more than `Order.objects.with_state()` brought along."""
    seen = order if hasattr(order, "zone") else Order.objects.with_state().get(pk=order.pk)
    found = next(state for rule in _RULES if (state := rule(seen, today)) is not None)
    return _quietly(found) if seen.memorial else found


def left_of(order: Order, *, today: date) -> Left:
    """Return the work that is left and the days there are for it."""
    minutes = sum(minutes_left(order, stage) for stage in order.stages.all())
    return Left(minutes, (order.needed_by - today).days if order.needed_by else None)


def days_since(moment: datetime, order: Any, today: date) -> int:
    """Return the days of the shop's calendar since a moment."""
    return max(0, (today - moment.astimezone(ZoneInfo(order.zone)).date()).days)


def waited(days: int) -> str:
    """Return how long something has waited, in words."""
    return "since today" if days == 0 else f"{days} day{'s' if days > 1 else ''}"


def open_quote(order: Any, today: date) -> Any:
    """Return the quote that waits for an answer, past its day or not."""
    return next((each for each in order.quotes.all() if each.standing(on=today) in ("open", "expired")), None)


def unanswered_picture(order: Any) -> Any:
    """Return the picture that was asked about and waits for a yes; none where rows may be joined as drawn."""
    asked = next((each for each in order.versions.all() if each.replaced_at is None), None)
    agreed = agreed_of(order)
    if asked is None or (agreed is not None and agreed.version_id == asked.pk) or may_be_joined(order):
        return None
    return asked


def has_yes_to_cut(order: Any) -> bool:
    """Say whether there is a yes to cut anything at all; each piece still needs its own."""
    return any(each.kind == "cut" and each.stands for each in order.consents.all())


def open_deposit(order: Any) -> Any:
    """Return the accepted quote whose deposit has not come in, if there is one."""
    accepted = next((each for each in order.quotes.all() if each.accepted_at), None)
    return accepted if accepted is not None and order.paid < accepted.deposit else None


def next_stage(order: Any) -> Stage | None:
    """Return the first stage that is not done."""
    return next((stage for stage in order.stages.all() if is_to_do(stage)), None)


def is_to_do(stage: Stage) -> bool:
    """Say whether there is work left in a stage; one of no minutes is not part of this quilt."""
    return not stage.done_at and (stage.minutes > 0 or stage.started_at is not None)


def doing(order: Any, kind: str) -> str:
    """Return what is being done, with the count of its pile: `Fusing, 7 of 12`."""
    through, all_of_them = pile_of(order, kind)
    words = DOING.get(kind, kind.capitalize())
    return f"{words}, {through} of {all_of_them}" if all_of_them else words


def _called_off(order: Any, today: date) -> State | None:
    return State("Called off", "rest") if order.cancelled_at else None


def _handed_over(order: Any, today: date) -> State | None:
    return State("Handed over", "done") if order.handed_over_at else None


def _resting(order: Any, today: date) -> State | None:
    return State(f"Resting {order.why_paused}".strip(), "rest") if order.paused_at else None


def _ready(order: Any, today: date) -> State | None:
    stages = order.stages.all()
    return (
        State(READY[order.leaving], "done") if stages and not any(is_to_do(each) for each in stages) else None
    )


def _late(order: Any, today: date) -> State | None:
    wanted = order.needed_by or order.promised_for
    if wanted is None or wanted >= today:
        return None
    words, days = _what_is_done_now(order, today).words, (today - wanted).days
    if order.memorial:
        return State(f"{words}, wanted {wanted:%a} {wanted.day} {wanted:%b}", "rest")
    return State(f"{days} day{'s' if days > 1 else ''} late, {words[0].lower()}{words[1:]}", "late")


def _running(order: Any, today: date) -> State | None:
    stage = next((each for each in order.stages.all() if each.started_at), None)
    return _at_work(order, stage.kind, today) if stage else None


def _no_bag(order: Any, today: date) -> State | None:
    if order.bags_here or order.kind == "repair":
        return None
    return State(f"Waiting for her bag, {waited(days_since(order.opened_at, order, today))}", "wait")


def _not_logged(order: Any, today: date) -> State | None:
    all_here = order.shirts_logged and order.shirts_counted <= order.shirts_logged
    if all_here or order.kind == "repair":
        return None
    of = f"{order.shirts_logged} of {order.shirts_counted}" if order.shirts_counted else "none yet"
    return State(f"Logging, {of}", "work")


def _not_drawn(order: Any, today: date) -> State | None:
    priced_undrawn = order.kind == "repair" or (order.kind == "pillow" and order.quotes.all())
    return None if order.is_drawn or priced_undrawn else State("Drawing it", "work")


def _no_answer(order: Any, today: date) -> State | None:
    quote, picture = open_quote(order, today), unanswered_picture(order)
    asked = [each for each in (quote and quote.issued_at, picture and picture.asked_at) if each]
    if not asked or (quote is None and _may_go_on(order)):
        return None
    return State(f"Waiting for her yes, {waited(days_since(min(asked), order, today))}", "wait")


def _may_go_on(order: Any) -> bool:
    """Cutting, fusing and trimming need only the first yes; the picture's is needed to join."""
    stage = next_stage(order)
    before_joining = stage is not None and stage.kind in ("wash", "cut", "fuse", "trim", "make up")
    return before_joining and has_yes_to_cut(order)


def _no_deposit(order: Any, today: date) -> State | None:
    quote = open_deposit(order)
    if quote is None or any(block.progress != Block.Progress.PLANNED for block in order.blocks.all()):
        return None
    return State(f"Her deposit, {waited(days_since(quote.accepted_at, order, today))}", "wait")


def _not_asked(order: Any, today: date) -> State | None:
    if order.quotes.all() or order.versions.all() or has_yes_to_cut(order):
        return None
    return State("Pricing it" if order.cloth or order.kind == "repair" else "Choosing her cloth", "work")


def _picture_to_ask(order: Any, today: date) -> State | None:
    """All that comes before the rows is done, and what is drawn now is not what was agreed."""
    stage = _stage_in_hand(order)
    if stage is None or stage.kind != "join" or order.kind == "repair" or may_be_joined(order):
        return None
    changed = agreed_of(order) is not None
    return State("Picture changed since the yes" if changed else "Her picture to ask about", "wait")


def _next_work(order: Any, today: date) -> State | None:
    stage = _stage_in_hand(order)
    return _at_work(order, stage.kind, today) if stage else None


def _nothing_laid_out(order: Any, today: date) -> State | None:
    return State("Ready to be planned", "work")


def _stage_in_hand(order: Any) -> Stage | None:
    """The pile that is furthest on and not through yet, else the first stage not done."""
    open_ones = [stage for stage in order.stages.all() if is_to_do(stage)]
    begun = [stage for stage in open_ones if pile_of(order, stage.kind)[0]]
    return (begun or open_ones or [None])[-1 if begun else 0]


def _at_work(order: Any, kind: str, today: date) -> State:
    words = doing(order, kind)
    wanted = order.needed_by
    if wanted and (wanted - today).days in (0, 1):
        joint = "," if ", " in words else "" if words.endswith(" it") else " it"
        words = f"{words}{joint} for {'today' if wanted == today else 'tomorrow'}"
    return State(words, "work")


def _what_is_done_now(order: Any, today: date) -> State:
    rules = _RULES[_RULES.index(_late) + 1 :]
    return next(state for rule in rules if (state := rule(order, today)) is not None)


def _quietly(state: State) -> State:
    """A memorial shows no color of alarm and no flag of success."""
    return State(state.words, "work" if state.shape == "work" else "rest")


_RULES: tuple[Callable[[Any, date], State | None], ...] = (
    _called_off,
    _handed_over,
    _resting,
    _ready,
    _late,
    _running,
    _no_bag,
    _not_logged,
    _not_drawn,
    _no_answer,
    _no_deposit,
    _not_asked,
    _picture_to_ask,
    _next_work,
    _nothing_laid_out,
)

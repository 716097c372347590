"""Background work: what kinds there are, how one is sent, and one attempt at it."""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from importlib import import_module
from typing import Any

from django.conf import settings
from django.db import transaction
from django.utils import timezone

from orders.models.errand import Errand, LeaseLost

log = logging.getLogger(__name__)
Work = Callable[[Errand], str]
SPARE_SECONDS = 15  # from the time limit of an attempt to the end of its lease
wake = threading.Event()


class CannotBeDone(Exception):
    """An errand for which another attempt would be in vain; its text is for people."""


class NotNow(Exception):
    """An errand that can be done later, after a rest that its work knows best; its text is for people."""

    def __init__(self, words: str, *, rest: timedelta) -> None:
        super().__init__(words)
        self.rest = rest


@dataclass(frozen=True)
class Handler:
    """How a kind of errand is done: a function from the errand to a sentence, and its limits.

    `waited_for` says that somebody stands before a page until it is done.
    """

    work: Work
    seconds: int
    megabytes: int
    daily: bool = False
    waited_for: bool = False


_handlers: dict[str, Handler] = {}


def errand(kind: str, *, seconds: int, megabytes: int, waited_for: bool = False) -> Callable[[Work], Work]:
    """Make the function below do errands of this kind; what it does twice must be the same as once."""
    return _register(kind, seconds=seconds, megabytes=megabytes, waited_for=waited_for)


def daily(kind: str, *, seconds: int, megabytes: int) -> Callable[[Work], Work]:
    """Make the function below an errand that is sent by itself once a day."""
    return _register(kind, seconds=seconds, megabytes=megabytes, daily=True)


def _register(kind: str, **limits: Any) -> Callable[[Work], Work]:
    def register(work: Work) -> Work:
        _handlers[kind] = Handler(work, **limits)
        return work

    return register


def handlers() -> dict[str, Handler]:
    """Return each kind with its handler, from the modules that the settings name."""
    for module in settings.ERRANDS_IN:
        import_module(module)
    return _handlers


def send(
    kind: str,
    *,
    key: str,
    payload: dict[str, Any] | None = None,
    cause: str = "",
    due_at: datetime | None = None,
) -> Errand:
    """Write an errand in the transaction of its cause; a second one of the same kind and key is the first."""
    sent, is_new = Errand.objects.get_or_create(
        key=f"{kind}: {key}",
        defaults={"kind": kind, "payload": payload or {}, "cause": cause, "due_at": due_at or timezone.now()},
    )
    if is_new:
        transaction.on_commit(wake.set)
    return sent


def send_daily(day: date) -> None:
    """Send what is to be done once a day, unless it has been sent on this day."""
    for kind, handler in handlers().items():
        if handler.daily:
            send(kind, key=day.isoformat(), cause="the day")


def claim_next(now: datetime) -> Errand | None:
    """Take the errand that has waited longest; what somebody stands before a page for goes first.

    The rest cannot starve: each of those was begun by somebody's click, a page has one at a time,
    and they come to an end within minutes.
    """
    known = handlers()
    waited_for = [kind for kind, handler in known.items() if handler.waited_for]
    for waiting in Errand.objects.due(now).these_first(waited_for)[:10]:
        handler = known.get(waiting.kind)
        if waiting.claim(now=now, seconds=(handler.seconds if handler else 0) + SPARE_SECONDS):
            return waiting
    return None


def pick_up_left_behind(now: datetime) -> None:
    """Put back what was under way when its runner was ended."""
    for left in Errand.objects.left_behind(now):
        try:
            left.try_later("It was cut off.", now=now)
        except LeaseLost:
            log.info("errand %s was settled meanwhile", left.pk)


def attempt(taken: Errand, now: datetime) -> None:
    """Do a claimed errand in this process and keep how it went."""
    try:
        words = _work_of(taken)(taken)
        if taken.state == Errand.State.RUNNING:
            taken.finish(words)
    except LeaseLost:
        log.warning("errand %s (%s) was taken over; this attempt kept nothing", taken.pk, taken.kind)
    except CannotBeDone as reason:
        taken.refresh_from_db()
        taken.fail(str(reason))
    except NotNow as reason:
        taken.refresh_from_db()
        taken.rest(str(reason), until=now + reason.rest)
    except MemoryError:
        _try_later(taken, "It needed more memory than it may have.", now)
    except Exception:
        log.exception("errand %s (%s) went wrong", taken.pk, taken.kind)
        _try_later(taken, f"Something went wrong; the log says what, under errand {taken.pk}.", now)


def _work_of(taken: Errand) -> Work:
    if taken.kind not in handlers():
        raise CannotBeDone(f"This version of the program cannot do “{taken.kind}”.")
    return handlers()[taken.kind].work


def _try_later(taken: Errand, words: str, now: datetime) -> None:
    # What the work wrote in a transaction of its own was undone, so the row says again what is true.
    taken.refresh_from_db()
    taken.try_later(words, now=now)


def run_due(now: datetime | None = None) -> list[Errand]:
    """Do all that is due, here and now, one after the other; for tests and for the demo shop."""
    now = now or timezone.now()
    pick_up_left_behind(now)
    done = []
    while taken := claim_next(now):
        attempt(taken, now)
        done.append(taken)
    return done

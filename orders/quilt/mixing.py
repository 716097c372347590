"""Looking for a mixed layout of an order, every print in a block of its own size: asked, found, stopped.

It is searched for in the background, where it tells the best so far and can be stopped, keeping that.
What was found is a way on offer while the shirts and the size that is wished stay as they were.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace

from django.utils import timezone

from orders.background import errands
from orders.models import Errand, Order
from orders.models.design import fingerprint
from orders.models.errand import STILL_OPEN
from orders.planning import bag_of, wish_of
from planner.brief import as_json, read_layout
from planner.layout import Layout, Wish, mixed_layout
from planner.problems import Limit
from planner.quilt import Bag, Quilt
from planner.units import Rect, show_length

KIND = "mixed layout"
SECONDS = 60
TOLD_EVERY = 1.0  # seconds


def look(order: Order, *, unit: str) -> Errand:
    """Begin to look for a mixed layout, unless one is looked for already or was found for what is wished."""
    last = search_of(order)
    if last is not None and (last.is_open or _is_answered(last)):
        return last
    number = Errand.objects.about(KIND, str(order.pk)).exclude(state__in=STILL_OPEN).count()
    question = question_of(order)
    return errands.send(
        KIND,
        key=f"{order.pk} {number} {question}",
        cause=str(order)[:120],
        payload={"order": order.pk, "question": question, "unit": unit},
    )


def search_of(order: Order) -> Errand | None:
    """Return the last search for what is wished now and the shirts that are here now."""
    last = Errand.objects.about(KIND, str(order.pk)).first()
    return last if last is not None and last.payload.get("question") == question_of(order) else None


def found_before(order: Order, quilt: Quilt | None) -> Errand | None:
    """Return the search that the layout on the wall came from, if shirts or size are other ones since."""
    last = Errand.objects.about(KIND, str(order.pk)).exclude(state__in=STILL_OPEN).first()
    best = last.payload.get("best") if last is not None else None
    if best is None or quilt is None or search_of(order) is not None:
        return None
    return last if _places(read_layout(best).quilt) == _places(quilt) else None


def found_for(order: Order) -> tuple[Layout, ...]:
    """Return the best mixed layout that was found so far, in the cloth that is chosen now; or none."""
    last = search_of(order)
    best = last.payload.get("best") if last is not None else None
    if best is None:
        return ()
    layout = read_layout(best)
    return (replace(layout, quilt=replace(layout.quilt, cloth=wish_of(order).cloth)),)


def stop(order: Order) -> str:
    """Stop the search; the best so far stays on offer. Returns in words what comes of it."""
    last = search_of(order)
    if last is None or not last.is_open:
        return "The search had come to its end already."
    last.ask_to_stop()
    if last.payload.get("best") is None:
        return "Stopped before a mixed layout was found."
    return "Stopped. The best so far is among the ways."


def question_of(order: Order) -> str:
    """Return what names the question: the pieces without their colors, and the wish without its cloth."""
    bag, wish = _asked(order)
    return fingerprint({"bag": as_json(bag), "wish": as_json(wish)})[:16]


def limit_of(watch: Callable[[Layout], bool]) -> Limit:
    """Return how long a search may go on."""
    return Limit(seconds=SECONDS, watch=watch)


@errands.errand(KIND, seconds=SECONDS + 60, megabytes=1500, waited_for=True)
def search_in_the_background(taken: Errand) -> str:
    """Search until it is settled or the time is up, telling of each better layout."""
    order, unit = Order.objects.get(pk=taken.payload["order"]), taken.payload["unit"]
    if question_of(order) != taken.payload["question"]:
        raise errands.CannotBeDone("The shirts or the size changed meanwhile. Look again.")
    return _searched(taken, order, limit=replace(limit_of(_keeper(taken, unit)), tell=_teller(taken)))


def look_now(order: Order, *, unit: str, effort: int) -> str:
    """Look for a mixed layout while somebody waits, and no longer than the effort lasts."""
    taken = look(order, unit=unit)
    if taken.claim(now=timezone.now(), seconds=SECONDS):
        taken.finish(_searched(taken, order, limit=Limit(effort=effort)))
    return taken.outcome


def _searched(taken: Errand, order: Order, *, limit: Limit) -> str:
    answer = mixed_layout(*_asked(order), limit=limit, unit=taken.payload["unit"])
    if not isinstance(answer, Layout):
        problem = answer.problems[0]
        return f"{problem.what} {problem.change}".strip()
    taken.keep(answer.verdict, best=as_json(answer))
    return answer.verdict


def _asked(order: Order) -> tuple[Bag, Wish]:
    bag, wish = bag_of(order), wish_of(order)
    pieces = tuple(replace(piece, palette=None) for piece in bag.pieces)
    return replace(bag, pieces=pieces), replace(wish, style="mixed", cloth={})


def _places(quilt: Quilt) -> set[Rect]:
    return {cell.at for cell in quilt.cells}


def _is_answered(last: Errand) -> bool:
    return last.state == Errand.State.DONE


def _keeper(taken: Errand, unit: str) -> Callable[[Layout], bool]:
    """Keep the best so far with the errand: the first at once, others once a second at most."""
    last = time.monotonic() - TOLD_EVERY

    def keep(best: Layout) -> bool:
        nonlocal last
        if time.monotonic() - last >= TOLD_EVERY:
            last = time.monotonic()
            taken.keep(f"Best so far: {_words(best, unit)}", best=as_json(best))
        return True

    return keep


def _teller(taken: Errand) -> Callable[[str], None]:
    """Say with the errand how far a search without a layout is, once a second at most."""
    last = time.monotonic() - TOLD_EVERY

    def tell(words: str) -> None:
        nonlocal last
        if time.monotonic() - last >= TOLD_EVERY:
            last = time.monotonic()
            taken.say(words)

    return tell


def _words(layout: Layout, unit: str) -> str:
    size = layout.quilt.size
    wide, high = (show_length(side, unit=unit, rounding="nearest") for side in (size.width, size.height))
    plain = sum(cell.is_filler for cell in layout.quilt.cells)
    size_words = f"{wide.removesuffix(f' {unit}')} × {high}"
    return f"{size_words}, {_count(len(layout.quilt.cells), 'block')}, {_count(plain, 'plain one')}."


def _count(number: int, thing: str) -> str:
    return f"{number or 'no'} {thing}{'' if number == 1 else 's'}"

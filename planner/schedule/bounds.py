"""Proofs that days asked cannot all be kept, and the first day that is not ruled out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner.schedule.floor import DAY, MIDNIGHT, Floor, moment_after
from planner.schedule.flow import Ceiling, Rooms, short_set
from planner.schedule.proof import Proof
from planner.schedule.sums import PlainSum, readable
from planner.schedule.windows import Tails, almanacs, heads


@dataclass(frozen=True)
class FirstDay:
    """The first day on which an order is not ruled out (None: none is), and why not the day before."""

    day: int | None
    proof: Proof | None


class Bounds:
    """What can be proved about a floor."""

    def __init__(self, floor: Floor) -> None:
        self.floor = floor
        self.books = almanacs(floor)
        self.heads = heads(floor, self.books)
        self.tails = Tails(floor)
        self.rooms = Rooms(floor, self.books, self.heads)

    def first_day(self, order: int, dues: Sequence[int | None]) -> FirstDay:
        """Return the first day not ruled out for one order when all others keep their days."""
        last = self.floor.days - 1
        head = (
            max(end for end, o in zip(self.heads.finish, self.floor.order_of, strict=True) if o == order)
            // DAY
        )

        def asked(day: int) -> list[int | None]:
            return self._within([day if o == order else due for o, due in enumerate(dues)])

        low, high, step = min(head - 1, last), min(head, last), 1
        while self._ruled_out(asked(high)):
            low = high
            if high == last:
                return FirstDay(None, self.proof(asked(last)))
            high, step = min(last, high + step), step * 2
        while high - low > 1:
            middle = (low + high) // 2
            if self._ruled_out(asked(middle)):
                low = middle
            else:
                high = middle
        return FirstDay(high, self.proof(asked(low)) if low >= 0 else None)

    def proof(self, dues: Sequence[int | None]) -> Proof | None:
        """Return a proof that the days asked (by order number) cannot all be kept; None: not ruled out.

        A day beyond the horizon asks for nothing.
        """
        asked = self._within(dues)
        return self._chain(asked) or self._sum(asked)

    def _within(self, dues: Sequence[int | None]) -> list[int | None]:
        return [due if due is not None and due < self.floor.days else None for due in dues]

    def _ruled_out(self, asked: Sequence[int | None]) -> bool:
        """Return whether there is a proof, without putting it into a form that can be read."""
        if self._too_long(asked) is not None:
            return True
        work = self.rooms.pressing(self.tails.ends(asked))
        if not work.stages:
            return False
        if PlainSum(self.floor, work).is_short():
            return True
        cut = short_set(self.floor, work)
        return cut is not None and Ceiling(self.floor, work).lacks(cut) > 0

    def _chain(self, dues: Sequence[int | None]) -> Proof | None:
        found = self._too_long(dues)
        return None if found is None else self._chain_to(*found, dues)

    def _too_long(self, dues: Sequence[int | None]) -> tuple[int, int] | None:
        """Return a stage that cannot be done by its day even alone, and that day."""
        floor = self.floor
        for s in floor.in_turn:
            days = [day for day in (dues[floor.order_of[s]], floor.pin[s]) if day is not None]
            if days and self.heads.finish[s] > min(days) * DAY + MIDNIGHT:
                return s, min(days)
        return None

    def _chain_to(self, s: int, last: int, dues: Sequence[int | None]) -> Proof:
        floor, chain = self.floor, [s]
        while earlier := self._what_holds_up(chain[0]):
            chain.insert(0, min(earlier))
        done = sum(self._done_by(c, last) for c in chain)
        return Proof(
            kind="chain",
            first=min(self.heads.start[chain[0]] // DAY, last),
            last=last,
            people=self._people_for(chain),
            stages=tuple(floor.stages[c].id for c in chain),
            demand=sum(floor.effort[c] for c in chain),
            capacity=done,
            orders=self._asked([s], dues),
        )

    def _what_holds_up(self, s: int) -> list[int]:
        """Return the stages whose end decides when this one can start at the earliest."""
        floor, book = self.floor, self.books[self.floor.kind_of[s]]
        moments = {
            earlier: moment_after(self.heads.finish[earlier], days) for earlier, days in floor.before[s]
        }
        start = max(moments.values(), default=0)
        if start <= floor.ready[s] * DAY or (
            floor.effort[s] and book.first_moment(floor.ready[s] * DAY) >= start
        ):
            return []
        return [earlier for earlier, moment in moments.items() if moment == start]

    def _done_by(self, s: int, last: int) -> int:
        start, end = self.heads.start[s], last * DAY + MIDNIGHT
        if self.heads.finish[s] <= end:
            return self.floor.effort[s]
        return sum(
            self.books[self.floor.kind_of[s]].room(day, start, end) for day in range(start // DAY, last + 1)
        )

    def _sum(self, dues: Sequence[int | None]) -> Proof | None:
        work = self.rooms.pressing(self.tails.ends(dues))
        if not work.stages:
            return None
        plain, ceiling = PlainSum(self.floor, work), Ceiling(self.floor, work)
        rows = plain.fewest()
        if rows is not None:
            rows = readable(self.floor, work, rows, plain.lacks)
        else:
            cut = short_set(self.floor, work)
            if cut is None:
                return None
            rows = readable(self.floor, work, cut, ceiling.lacks)
        chosen = [s for s, row in zip(work.stages, rows, strict=True) if row]
        demand, lacks = sum(self.floor.effort[s] for s in chosen), plain.lacks(rows)
        most = demand - lacks if lacks > 0 else ceiling.most(rows)
        if most >= demand:
            return None
        return Proof(
            kind="capacity" if lacks > 0 else "cut",
            first=int(plain.first[rows].min()),
            last=int(plain.last[rows].max()),
            people=self._people_for(chosen),
            stages=tuple(self.floor.stages[s].id for s in chosen),
            demand=demand,
            capacity=most,
            orders=self._asked(chosen, dues),
        )

    def _people_for(self, stages: Sequence[int]) -> tuple[str, ...]:
        kinds = {self.floor.kind_of[s] for s in stages}
        return tuple(
            self.floor.people[p] for p in sorted({p for k in kinds for p in self.floor.kinds[k].people})
        )

    def _asked(self, stages: Sequence[int], dues: Sequence[int | None]) -> dict[str, int]:
        """Return the days asked for the orders of some stages and of all that wait for them."""
        reached, queue = set(stages), list(stages)
        for s in queue:
            fresh = [later for later, _ in self.floor.after[s] if later not in reached]
            reached.update(fresh)
            queue.extend(fresh)
        days = {self.floor.orders[o]: dues[o] for o in sorted({self.floor.order_of[s] for s in reached})}
        return {order: day for order, day in days.items() if day is not None}

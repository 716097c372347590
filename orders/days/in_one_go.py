"""Stages of several quilts done in one go: loads of washing one after the other, a batch at the iron."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from django.db import transaction

from orders.models import Event, Person, Stage
from planner.problems import BadInput
from planner.schedule import Workload, together
from planner.schedule.proof import names_in_words

KINDS = ("wash", "fuse")
Deeds = list[list[object]]


def may_join(stage: Stage) -> list[Stage]:
    """Return the stages of other quilts that can be done in one go with this one."""
    if stage.kind not in KINDS or stage.done_at or stage.batch:
        return []
    open_ones = Stage.objects.to_do().of_open_orders().filter(kind=stage.kind, order__paused_at=None)
    return list(open_ones.exclude(order=stage.order_id).order_by("order__needed_by", "order__number"))


def with_it(stage: Stage) -> list[Stage]:
    """Return the other stages, not done yet, that are done in one go with this one."""
    if not stage.batch:
        return []
    found = Stage.objects.to_do().of_open_orders().filter(kind=stage.kind, batch=stage.batch)
    return list(found.exclude(pk=stage.pk).order_by("order__number"))


@transaction.atomic
def join_deeds(stage: Stage, others: Iterable[Stage], *, by: Person) -> Deeds:
    """Let these be done in one go from now on; return each as a deed with the batch it was in before."""
    batch = stage.batch or f"{stage.kind} {stage.order.number}"
    deeds: Deeds = []
    for each in (stage, *others):
        if each.batch != batch:
            deeds.append(["batch", each.pk, each.batch])
            Stage.objects.filter(pk=each.pk).update(batch=batch)
    if deeds:
        Event.objects.note("in one go", by=by, order=stage.order, stage=stage.kind, batch=batch)
    return deeds


@transaction.atomic
def apart_deeds(stage: Stage, *, by: Person) -> Deeds:
    """Let each of a batch be done by itself again."""
    rows = list(Stage.objects.to_do().filter(kind=stage.kind, batch=stage.batch)) if stage.batch else []
    Stage.objects.filter(pk__in=[each.pk for each in rows]).update(batch="")
    if rows:
        Event.objects.note("apart again", by=by, order=stage.order, stage=stage.kind, batch=stage.batch)
    return [["batch", each.pk, each.batch] for each in rows]


def joined(work: Workload, in_batches: Iterable[tuple[Stage, str]]) -> Workload:
    """Return the workload with each batch as one stage, by the name of its first.

    One that cannot be one stage any more, such as after two different pins, stays apart.
    """
    batches: dict[tuple[str, str], list[str]] = defaultdict(list)
    known = {stage.id for stage in work.stages}
    for stage, name in in_batches:
        if name in known:
            batches[stage.kind, stage.batch].append(name)
    for members in batches.values():
        if len(members) > 1:
            try:
                work = together(work, members, name=members[0])
            except BadInput:
                continue
    return work


def words_of_batch(stage: Stage) -> str:
    """Return what is done in one go with a stage: `in one go with No. 32`."""
    others = with_it(stage)
    return (
        f", in one go with {names_in_words([f'No. {each.order.number}' for each in others])}"
        if others
        else ""
    )


def share_out(stage: Stage) -> None:
    """End a go all of whose stages are done: the minutes that were clocked are shared out over all of it.

    Where each had a clock of its own, each keeps its minutes.
    """
    if not stage.batch:
        return
    whole = list(Stage.objects.filter(kind=stage.kind, batch=stage.batch).order_by("order__number"))
    clocked = [each for each in whole if each.clock == Stage.Clock.RAN]
    if 0 < len(clocked) < len(whole):
        shares = share_minutes(whole, sum(each.spent for each in clocked))
        for each, minutes in zip(whole, shares, strict=True):
            Stage.objects.filter(pk=each.pk).update(spent=minutes, clock=Stage.Clock.RAN)
    Stage.objects.filter(pk__in=[each.pk for each in whole]).update(batch="")


def share_minutes(stages: list[Stage], minutes: int) -> list[int]:
    """Return the minutes of one go shared out by what each was reckoned at; they add up to all of them."""
    whole = sum(stage.minutes for stage in stages) or 1
    until, shares, before = 0, [], 0
    for stage in stages:
        until += stage.minutes
        share = minutes * until // whole
        shares.append(share - before)
        before = share
    return shares

"""Who may do which stage: the owner everything unless she lists less, a helper what is listed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from orders.models import Person, Shop


def does(person: Person, stage: str) -> bool:
    """Say whether a stage is on somebody's list; an owner without a list does everything."""
    listed = listed_for(person)
    return stage in listed or (person.role == Person.Role.OWNER and not listed)


def listed_for(person: Person) -> list[str]:
    """Return what stands on somebody's list."""
    return list(person.week.stages) if hasattr(person, "week") else []


def who_may(stage: str, people: Sequence[Person]) -> tuple[str, ...]:
    """Return the names of those who may do a stage; what is on nobody's list falls to everybody."""
    named = tuple(person.name for person in people if does(person, stage))
    return named or tuple(person.name for person in people)


def on_no_list(shop: Shop, people: Iterable[Person]) -> list[str]:
    """Return the stages of the shop that are on nobody's list, in the order of the work."""
    here = tuple(people)
    return [
        step.stage for step in shop.shop_rules().steps if not any(does(each, step.stage) for each in here)
    ]


def on_no_list_if(shop: Shop, person: Person, stages: Sequence[str], people: Iterable[Person]) -> list[str]:
    """Return the stages that would be on nobody's list if this person did these only."""
    others = [each for each in people if each.pk != person.pk]
    if person.role == Person.Role.OWNER and not stages:
        return []
    return [stage for stage in on_no_list(shop, others) if stage not in stages]

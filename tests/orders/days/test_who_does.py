"""Who may do which stage, and what is on nobody's list."""

import pytest

from orders.days.calendar import workers
from orders.days.who_does import on_no_list, on_no_list_if, who_may
from orders.models import WorkingWeek

pytestmark = pytest.mark.django_db


def lists(person, *stages):
    WorkingWeek.objects.update_or_create(
        person=person, defaults={"minutes": [300] * 5 + [0, 0], "stages": list(stages)}
    )


def test_an_owner_without_a_list_does_everything_and_a_helper_what_is_listed(shop, ada, bo):
    lists(bo, "cut")
    people = list(workers())
    assert who_may("cut", people) == (ada.name, bo.name)
    assert who_may("quilt", people) == (ada.name,)
    assert on_no_list(shop, people) == []


def test_an_owner_with_a_list_does_only_that(shop, ada, bo):
    lists(ada, "quilt", "bind")
    lists(bo, "cut")
    assert who_may("cut", list(workers())) == (bo.name,)


def test_what_is_on_nobodys_list_is_named_and_falls_to_everybody(shop, ada, bo):
    everything = [step.stage for step in shop.shop_rules().steps]
    lists(ada, *(stage for stage in everything if stage != "quilt"))
    lists(bo, "cut")
    people = list(workers())
    assert on_no_list(shop, people) == ["quilt"]
    assert who_may("quilt", people) == (ada.name, bo.name)
    assert on_no_list_if(shop, bo, ["cut", "quilt"], people) == []
    assert on_no_list_if(shop, bo, [], people) == ["quilt"]
    assert on_no_list_if(shop, ada, [], people) == []

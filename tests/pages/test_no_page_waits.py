"""No page waits for a search: with sixty quilts in the room a look makes a handful of plans, and what is
looked for longer goes on in the background."""

from __future__ import annotations

from datetime import timedelta
from functools import wraps

import pytest

from orders.account import ways_to_take
from orders.days import weeks
from orders.models import Enquiry, Errand, Order
from orders.planning import AT_ONCE
from planner.schedule import promise
from planner.schedule.dispatch import Bench

pytestmark = pytest.mark.django_db

HANDFUL = 8
SIXTY = 60
PAGES = (
    "/",
    "/quilts/",
    "/weeks/",
    "/weeks/calendar/",
    "/shelf/list/",
    "/quilts/{}/account/",
    "/quilts/{}/quilt/",
)
CHAIN = {"log": 40, "wash": 30, "cut": 90, "fuse": 60, "trim": 40, "join": 120, "quilt": 180, "bind": 110}


@pytest.fixture
def sixty(drawn, ada, shop):
    """Return the order that is asked about, beside sixty that are wanted sooner than they can be done."""
    for number in range(SIXTY):
        order = Order.objects.open(
            title=f"Another {number}", customer=drawn.customer, by=ada,
            needed_by=shop.today() + timedelta(days=20 + number),
        )  # fmt: skip
        for place, (kind, minutes) in enumerate(CHAIN.items()):
            order.stages.create(kind=kind, position=place, minutes=minutes + number % 7)
    return drawn


@pytest.fixture
def dispatched(monkeypatch):
    """Return a way to count the plans made while something is done, with none kept from before."""
    made = []
    run = Bench.run

    @wraps(run)
    def counted(bench):
        made.append(bench)
        return run(bench)

    monkeypatch.setattr(Bench, "run", counted)

    def count(deed):
        for kept in (weeks.timetable_of, weeks._quick_timetable, promise.__globals__["_counted_plan"]):
            kept.cache_clear()
        made.clear()
        answer = deed()
        assert answer.status_code in (200, 302)
        return len(made)

    return count


def test_no_page_beside_sixty_quilts_makes_more_than_a_handful_of_plans(client, ada, sixty, dispatched):
    client.force_login(ada)
    made = {each: dispatched(lambda each=each: client.get(each.format(sixty.number))) for each in PAGES}
    assert {page: plans for page, plans in made.items() if plans > HANDFUL} == {}
    assert made["/"] >= 1
    assert made["/quilts/{}/account/"] >= 1


def test_a_quote_is_issued_and_an_enquiry_answered_with_a_handful_of_plans(
    client, ada, shop, sixty, dispatched
):
    client.force_login(ada)
    assert 1 <= dispatched(lambda: client.post(f"/quilts/{sixty.number}/account/quotes/")) <= HANDFUL
    asked = {"name": "A grandmother", "reach": "text 555 0142", "kind": "quilt", "shirts": "20", "size": "",
             "needed_by": str(shop.today() + timedelta(days=120)), "client_id": "the-phone-1"}  # fmt: skip
    assert 1 <= dispatched(lambda: client.post("/enquiries/new/", asked)) <= HANDFUL
    assert Errand.objects.filter(kind="ways to take an enquiry").count() == 1
    address = f"/enquiries/{Enquiry.objects.get().pk}/"
    assert dispatched(lambda: client.get(address)) == 0


def test_the_count_sees_a_search(ada, sixty, shop, dispatched):
    """A search as long as the background makes would not pass for a glance."""
    work = ways_to_take.workload(shop, today=shop.today(), but=sixty)

    class Answer:
        status_code = 200

        def __init__(self):
            weeks.make_timetable(work, limit=ways_to_take.usual_limit(work))

    assert dispatched(Answer) > 10 * HANDFUL > AT_ONCE

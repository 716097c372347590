"""If… by its address: asked, shown, done, put away; and a week on its sheet."""

from datetime import date, timedelta

import pytest

from orders.background import errands
from orders.days import supposing
from orders.models import DayOff, Enquiry, Replan, Shop, Stage, Visit

pytestmark = pytest.mark.django_db


@pytest.fixture
def signed_in(client, ada):
    client.force_login(ada)
    return client


@pytest.fixture
def binding(order, shop):
    order.needed_by, order.cushion_days = shop.today() + timedelta(days=14), 0
    order.save()
    Stage.objects.create(order=order, kind="bind", position=0, minutes=1500)
    return order


def ask_for_a_fever(client, ada, shop, **change):
    first, last = shop.today(), shop.today() + timedelta(days=11)
    sent = {"kind": "ill", "ill-person": ada.pk, "ill-first": first, "ill-last": last, **change}
    return client.post("/weeks/if/asking/", sent)


def page(client):
    return " ".join(client.get("/weeks/if/").content.decode().split()).replace("\N{NO-BREAK SPACE}", " ")


def test_asking_waits_for_no_search_and_the_page_follows_it(signed_in, ada, shop, binding):
    assert ask_for_a_fever(signed_in, ada, shop).url == "/weeks/if/"
    assert "It is being tried." in page(signed_in)
    progress = signed_in.get("/weeks/if/progress/", headers={"HX-Request": "true"})
    assert "It is being tried." in progress.content.decode()
    errands.run_due()
    progress = signed_in.get("/weeks/if/progress/", headers={"HX-Request": "true"})
    assert progress.headers["HX-Refresh"] == "true"
    seen = page(signed_in)
    assert "Ada is ill " in seen
    assert "1 quilt would be late." in seen
    assert "of overtime is proved, in whatever order you work" in seen
    assert "Do it, with the overtime" in seen
    assert "Ask An aunt of Ferncliff for a later day" in seen
    assert signed_in.get("/weeks/if/progress/").url == "/weeks/if/"


def test_doing_it_changes_the_calendar_once_and_says_what_moved(signed_in, ada, shop, binding):
    ask_for_a_fever(signed_in, ada, shop)
    errands.run_due()
    asked = supposing.standing()
    for _ in range(2):
        signed_in.post(f"/weeks/if/{asked.pk}/doing/", {"overtime": "1"})
    assert DayOff.objects.count() == 12
    change = Replan.objects.get()
    seen = signed_in.get("/weeks/").content.decode()
    assert f'action="/weeks/changes/{change.pk}/undoing/"' in seen
    assert "Ada is ill" in seen
    for _ in range(2):
        assert signed_in.post(f"/weeks/changes/{change.pk}/undoing/").url == "/weeks/"
    assert not DayOff.objects.exists()
    assert "The last change" not in signed_in.get("/weeks/").content.decode()


def test_putting_it_away_stops_it_and_changes_nothing(signed_in, ada, shop, binding):
    ask_for_a_fever(signed_in, ada, shop)
    for _ in range(2):
        assert signed_in.post("/weeks/if/putting-away/").status_code == 302
    assert errands.run_due() == []
    assert not DayOff.objects.exists()


def test_one_more_order_has_a_kind_no_ready_and_is_penciled_in(signed_in, shop, binding):
    coach = Enquiry.objects.create(
        name="A coach", reach="555 010 1234", shirts=20, needed_by=shop.today() + timedelta(days=12)
    )
    signed_in.post("/weeks/if/asking/", {"kind": "more", "more-enquiry": coach.pk})
    errands.run_due()
    seen = page(signed_in)
    assert "I am sorry that I cannot make it" in seen
    assert "sms:5550101234" in seen
    answer = signed_in.post(f"/weeks/if/{supposing.standing().pk}/doing/")
    assert answer.url == f"/enquiries/{coach.pk}/"
    coach.refresh_from_db()
    assert coach.is_penciled(on=shop.today())


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"ill-first": ""}, "Give the first day."),
        ({"ill-first": "2020-01-01"}, "That day is past"),
        ({"ill-last": "2020-01-01"}, "Turn them round"),
        ({"ill-last": "2999-01-01"}, "Suppose a shorter time"),
        ({"ill-person": ""}, "Say who is ill."),
        ({"kind": "nonsense"}, "Somebody is ill"),
    ],
)
def test_a_bad_supposition_comes_back_with_the_fault(signed_in, ada, shop, binding, change, fault):
    answer = ask_for_a_fever(signed_in, ada, shop, **change)
    assert answer.status_code == 422
    assert fault in answer.content.decode()
    assert supposing.standing() is None


def test_work_that_is_not_there_is_refused(signed_in, shop, binding):
    sent = {"kind": "slip", "slip-order": binding.pk, "slip-work": "cut", "slip-hours": "3"}
    answer = signed_in.post("/weeks/if/asking/", sent)
    assert answer.status_code == 422
    assert "There is no cutting left to do" in answer.content.decode()


def test_another_errand_is_not_done_by_its_number(signed_in, shop):
    other = errands.send("something else", key="1")
    assert signed_in.post(f"/weeks/if/{other.pk}/doing/").status_code == 404


def test_a_week_is_told_day_by_day_closed_and_opened(signed_in, shop, binding):
    monday = shop.today() + timedelta(days=7 - shop.today().weekday())
    Stage.objects.update(minutes=2000)  # more than one week, so that the next has some on a Monday, too
    Visit.objects.create(order=binding, kind="look", at=f"{monday}T20:00:00Z")
    address = f"/weeks/week/{monday}/"
    seen = " ".join(signed_in.get(address).content.decode().split())
    assert "Sew on the binding" in seen
    assert "look, No. 1" in seen
    for _ in range(2):
        assert signed_in.post(f"{address}closing/").url == "/weeks/"
    assert DayOff.objects.count() == 7
    assert "Open this week again" in signed_in.get(address).content.decode()
    signed_in.post(f"{address}opening/")
    assert not DayOff.objects.exists()


@pytest.mark.parametrize("written", ["soon", "2027-13-01", "0001-01-01", "9999-12-31"])
def test_a_week_that_is_none_is_nowhere(signed_in, shop, written):
    assert signed_in.get(f"/weeks/week/{written}/").status_code == 404
    assert signed_in.post(f"/weeks/week/{written}/closing/").status_code == 404


def test_the_53rd_week_goes_over_the_new_year(signed_in, shop, monkeypatch):
    monkeypatch.setattr(Shop, "today", lambda shop: date(2026, 12, 20))
    seen = signed_in.get("/weeks/week/2027-01-02/").content.decode()
    assert "Week of 28 December" in seen
    assert "Week 53 of 2026" in seen


def test_a_helper_reads_the_week_and_nothing_else(client, shop, bo, binding):
    client.force_login(bo)
    seen = client.get(f"/weeks/week/{shop.today()}/").content.decode()
    assert "Close this week" not in seen
    assert client.get("/weeks/if/").status_code == 403
    assert client.post(f"/weeks/week/{shop.today()}/closing/").status_code == 403
    client.logout()
    assert client.get(f"/weeks/week/{shop.today()}/").status_code == 302


def test_get_changes_nothing(signed_in, shop):
    for end in (
        "if/asking/",
        "if/putting-away/",
        "if/1/doing/",
        "changes/1/undoing/",
        "week/2027-01-04/closing/",
    ):
        assert signed_in.get(f"/weeks/{end}").status_code == 405


def test_in_an_empty_shop_no_quilt_is_asked_for(signed_in, shop):
    seen = page(signed_in)
    assert "no quilt is in the workroom" in seen
    assert 'name="slip-order"' not in seen


def test_with_a_quilt_its_work_may_be_supposed_longer(signed_in, binding):
    assert 'name="slip-order"' in page(signed_in)


def test_late_cloth_is_supposed_of_work_that_takes_cloth_alone(signed_in, binding):
    form = page(signed_in).split("Cloth is late")[1].split("</form>")[0]
    assert 'value="bind"' in form
    assert 'value="join" selected' in form
    assert all(f'value="{kind}"' not in form for kind in ("log", "design", "wash", "cut", "trim"))


def test_an_enquiry_is_named_with_its_day_in_words(signed_in, shop):
    day = date(shop.today().year + 1, 3, 25)
    Enquiry.objects.create(name="Somebody from Nettle Stop", reach="555 0177", shirts=12, needed_by=day)
    assert f"Somebody from Nettle Stop, needed by {day:%a} 25 Mar {day.year}" in page(signed_in)

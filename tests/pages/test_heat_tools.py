"""The irons and presses of the shop, and the page for whoever must bring every bag home."""

import pytest

from orders.account import money
from orders.models import HeatTool, Paper

pytestmark = pytest.mark.django_db
PRESS = {
    "name": "small press",
    "kind": "press",
    "unit": "F",
    "hotter": 10,
    "least": 150,
    "most": 400,
    "step": 5,
}


@pytest.fixture
def signed_in(client, ada, shop):
    client.force_login(ada)
    return client


def page(client, address):
    answer = client.get(address)
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split()).replace("\N{NO-BREAK SPACE}", " ")


def test_a_new_shop_has_an_iron(signed_in):
    assert HeatTool.objects.the_usual().kind == "iron"
    assert "Iron</b>" in page(signed_in, "/workroom/")


def test_a_press_is_written_down_with_what_it_runs_off(signed_in):
    assert signed_in.post("/workroom/tools/new/", PRESS).status_code == 302
    tool = HeatTool.objects.get(name="small press").as_tool()
    assert (tool.hotter, tool.least, tool.most, tool.step) == (10, 150, 400, 5)
    assert "runs 10° hotter" in page(signed_in, "/workroom/")


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"name": ""}, "Give it a name"),
        ({"name": "iron"}, "There is a tool of this name"),
        ({"kind": "kettle"}, "valid choice"),
        ({"least": 500}, "lowest setting"),
        ({"least": ""}, "lowest setting"),
        ({"hotter": "some"}, "Type whole degrees"),
        ({"hotter": 900}, "that far off"),
        ({"step": 0}, "at least 1 degree"),
    ],
)
def test_a_tool_that_makes_no_sense_comes_back_with_its_fault(signed_in, change, fault):
    answer = signed_in.post("/workroom/tools/new/", PRESS | change)
    assert answer.status_code == 422
    assert fault.lower() in answer.content.decode().lower()
    assert HeatTool.objects.count() == 1


def test_one_tool_is_the_usual_one_at_a_time(signed_in, ada):
    signed_in.post("/workroom/tools/new/", PRESS)
    press = HeatTool.objects.get(name="small press")
    signed_in.post(f"/workroom/tools/{press.pk}/usual/")
    assert HeatTool.objects.the_usual().name == "small press"
    assert HeatTool.objects.filter(is_usual=True).count() == 1
    signed_in.post(f"/workroom/tools/{press.pk}/away/")
    assert HeatTool.objects.the_usual().name == "iron"
    assert signed_in.get(f"/workroom/tools/{press.pk}/").status_code == 404


def test_an_iron_needs_no_degrees(signed_in):
    iron = HeatTool.objects.get()
    data = {"name": "old iron", "kind": "iron", "unit": "C", "hotter": "-5"}
    assert signed_in.post(f"/workroom/tools/{iron.pk}/", data).status_code == 302
    assert HeatTool.objects.get().as_tool().hotter == -5


def test_every_bag_owner_count_place_and_balance_stand_on_one_page(signed_in, agreed, aunt, ada):
    agreed.bags.update(place="bin 3")
    open_now = money.owing_of(agreed).balance
    seen = page(signed_in, "/workroom/care/")
    for words in (aunt.name, aunt.phone, "12", "bin 3", f"No. {agreed.number}", "$500.76 open"):
        assert words in seen
    assert open_now == 50076
    signed_in.post("/workroom/care/paper/")
    (bag,) = Paper.objects.get(kind="in care").made_of["bags"]
    assert (bag["owner"], bag["count"], bag["place"]) == (aunt.name, 12, "bin 3")
    assert bag["orders"][0]["balance"] == "$500.76 open"


def test_what_was_paid_is_no_longer_open_on_it(signed_in, agreed, aunt, ada):
    money.take_payment(agreed, minor=50076, payer=aunt, method="cash", key="all", by=ada)
    assert "all paid" in page(signed_in, "/workroom/care/")


def test_a_bag_without_a_price_says_so(signed_in, order, twelve_shirts):
    assert "no price agreed" in page(signed_in, "/workroom/care/")


def test_more_bags_ask_no_more_queries(signed_in, agreed, aunt, ada, django_assert_max_num_queries):
    from orders.models import Bag

    for _ in range(10):
        agreed.bags.add(Bag.objects.create(customer=aunt, brought_by="x", count=1, received_by=ada))
    with django_assert_max_num_queries(14):
        page(signed_in, "/workroom/care/")


def test_a_helper_never_sees_it(client, bo, shop):
    client.force_login(bo)
    for address in (
        "/workroom/care/",
        "/workroom/tools/new/",
        f"/workroom/tools/{HeatTool.objects.get().pk}/",
    ):
        assert client.get(address).status_code == 403
    assert client.post("/workroom/care/paper/").status_code == 403

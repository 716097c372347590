"""Not right: the panel at the bench, the page of what happened, telling and settling."""

import pytest

from orders.bench.work import do_pile
from orders.models import Incident, Paper, Photo
from tests.orders.pictures import drawing, saved, upload
from tests.orders.workbench import draw, let_help, say_yes_to_cut

pytestmark = pytest.mark.django_db


@pytest.fixture
def cut(order, twelve_shirts, shop, shelf, ada):
    order.cloth = {"sashing": "Forest", "binding": "Forest", "cornerstone": "Gold"}
    order.save()
    draw(order, shop, ada)
    say_yes_to_cut(order, ada)
    do_pile(order, "cut", order.blocks.values_list("pk", flat=True), by=ada)
    return order


@pytest.fixture
def signed_in(client, ada):
    client.force_login(ada)
    return client


@pytest.fixture
def helping(client, bo):
    let_help(bo, "fuse")
    client.force_login(bo)
    return client


@pytest.fixture
def blocks(cut):
    return list(cut.blocks.order_by("cell")[:3].values_list("pk", flat=True))


def page(client, address):
    answer = client.get(address)
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split()).replace("\N{NO-BREAK SPACE}", " ")


def report(client, order, place="iron", **data):
    return client.post(f"/quilts/{order.number}/bench/{place}/incident/", data)


@pytest.mark.parametrize(
    ("place", "first"),
    [("iron", "Iron off and up. Do not touch it while soft."), ("table", "Blade closed and down.")],
)
def test_the_first_words_are_about_the_hand_not_the_cloth(
    signed_in, order, twelve_shirts, shop, shelf, ada, place, first
):
    draw(order, shop, ada)
    say_yes_to_cut(order, ada)
    if place == "iron":
        do_pile(order, "cut", order.blocks.values_list("pk", flat=True), by=ada)
    seen = page(signed_in, f"/quilts/{order.number}/bench/{place}/")
    panel = seen[seen.index('id="not-right"') :]
    assert panel.index(first) < panel.index("Melted")
    assert "Nobody asks whose hand it was" in panel


def test_one_word_writes_it_down_and_stops_the_batch(helping, cut, blocks, bo):
    answer = report(helping, cut, what="melted", block=blocks[0], batch=blocks)
    made = Incident.objects.get()
    assert answer.url == f"/incidents/{made.pk}/"
    assert (made.what, made.by, made.stage) == ("melted", bo, "fuse")
    assert made.setting["heat"] == 300
    assert made.setting["words"] == "Turn to just short of two dots"
    assert cut.blocks.exclude(held="").count() == 3
    seen = page(helping, f"/quilts/{cut.number}/bench/iron/")
    assert "All 9 of this batch done" in seen
    assert "The batch stopped" in seen


def test_a_photo_comes_with_it(helping, cut, blocks, settings, tmp_path):
    settings.DATA_DIR = tmp_path
    report(helping, cut, what="melted", block=blocks[0], batch=blocks, photo=upload(saved(drawing())))
    assert Photo.objects.get().incident == Incident.objects.get()


def test_sent_twice_it_is_written_once(helping, cut, blocks):
    for _ in range(2):
        report(helping, cut, what="stained", block=blocks[0], batch=blocks, client_id="once")
    assert Incident.objects.count() == 1


@pytest.mark.parametrize(
    "data",
    [{}, {"what": "exploded"}, {"what": "melted", "block": "999999"}, {"what": "melted", "block": "x"}],
)
def test_a_report_of_nothing_known_comes_back_in_words(helping, cut, data):
    assert report(helping, cut, **data).status_code == 422
    assert not Incident.objects.exists()


def test_a_place_that_is_none_is_not_here(helping, cut):
    assert report(helping, cut, place="attic", what="melted").status_code == 404


@pytest.fixture
def melted(cut, blocks, bo, client):
    client.force_login(bo)
    report(client, cut, what="melted", block=blocks[0], batch=blocks)
    return Incident.objects.get()


def test_the_owner_sees_words_to_say_and_a_helper_does_not(client, melted, ada, bo, aunt):
    client.force_login(ada)
    seen = page(client, f"/incidents/{melted.pk}/")
    assert "Tell the customer, today" in seen
    assert "I am sorry to have to tell you this" in seen
    client.force_login(bo)
    seen = page(client, f"/incidents/{melted.pk}/")
    for hidden in ("Tell the customer", aunt.phone, "$", "sms:"):
        assert hidden not in seen


def test_a_surprise_is_kept_in_mind_beside_the_words(client, melted, ada):
    client.force_login(ada)
    melted.order.discreet = "Nothing to the shared phone"
    melted.order.save()
    assert "Nothing to the shared phone" in page(client, f"/incidents/{melted.pk}/")


def test_more_is_written_when_there_is_time(client, melted, bo):
    client.force_login(bo)
    client.post(f"/incidents/{melted.pk}/note/", {"words": "It smelled first.", "turned_to": "three dots"})
    melted.refresh_from_db()
    assert (melted.words, melted.turned_to) == ("It smelled first.", "three dots")


def test_go_on_frees_the_rest_and_leads_back_to_the_iron(client, melted, ada):
    client.force_login(ada)
    answer = client.post(f"/incidents/{melted.pk}/going-on/")
    assert answer.url == f"/quilts/{melted.order.number}/bench/iron/"
    assert melted.order.blocks.exclude(held="").count() == 1


def test_a_helper_cannot_say_go_on(client, melted, bo):
    client.force_login(bo)
    assert client.post(f"/incidents/{melted.pk}/going-on/").status_code == 403
    assert melted.order.blocks.exclude(held="").count() == 3


def test_the_telling_is_written_with_its_answer(client, melted, ada):
    client.force_login(ada)
    data = {"how": "phone", "words": "I rang and told her.", "answer": "Use the right half of it."}
    assert client.post(f"/incidents/{melted.pk}/telling/", data).status_code == 302
    seen = page(client, f"/incidents/{melted.pk}/")
    assert "Use the right half of it." in seen
    assert "Tell the customer, today" not in seen


@pytest.mark.parametrize("data", [{}, {"how": "phone"}, {"how": "pigeon", "words": "x"}])
def test_a_telling_without_how_or_words_comes_back(client, melted, ada, data):
    client.force_login(ada)
    assert client.post(f"/incidents/{melted.pk}/telling/", data).status_code == 422
    melted.refresh_from_db()
    assert melted.told_at is None


def test_it_is_settled_by_a_choice(client, melted, ada):
    client.force_login(ada)
    assert client.post(f"/incidents/{melted.pk}/settlement/", {"outcome": ""}).status_code == 422
    assert client.post(f"/incidents/{melted.pk}/settlement/", {"outcome": "kept"}).status_code == 302
    melted.refresh_from_db()
    assert melted.outcome == "kept"


def test_it_comes_on_paper_only_when_it_is_chosen(client, melted, ada):
    client.force_login(ada)
    assert not Paper.objects.filter(kind="damage").exists()
    client.post(f"/incidents/{melted.pk}/paper/")
    melted.refresh_from_db()
    assert melted.on_papers
    assert Paper.objects.filter(kind="damage").count() == 1
    client.post(f"/incidents/{melted.pk}/off-papers/")
    melted.refresh_from_db()
    assert not melted.on_papers


def test_today_says_what_is_not_settled(client, melted, ada):
    client.force_login(ada)
    seen = page(client, "/")
    assert f"{melted}" in seen
    assert "The customer does not know yet" in seen


def test_an_incident_nobody_wrote_is_not_here(signed_in, cut):
    assert signed_in.get("/incidents/999/").status_code == 404


def test_looking_changes_nothing(client, melted, ada):
    client.force_login(ada)
    for noun in ("note", "going-on", "telling", "settlement", "paper", "off-papers"):
        assert client.get(f"/incidents/{melted.pk}/{noun}/").status_code == 405


def test_a_shirt_that_is_stained_in_the_wash_is_written_down_from_its_tag(signed_in, order, twelve_shirts):
    answer = signed_in.post(f"/find/{order.number}-05F/incident/", {"what": "stained"})
    made = Incident.objects.get()
    assert answer.url == f"/incidents/{made.pk}/"
    assert made.name == f"{order.number}-05F"
    tally = order.bags.get().tally()
    assert (tally.in_work, tally.damaged, tally.adds_up) == (12, 1, True)
    assert "1 damaged and kept" in page(signed_in, f"/quilts/{order.number}/bag/")
    assert "Leave it as it lies" in page(signed_in, f"/incidents/{made.pk}/")


def test_a_report_from_a_tag_nobody_knows_or_without_a_word_is_refused(signed_in, order, twelve_shirts):
    assert signed_in.post("/find/1-99/incident/", {"what": "stained"}).status_code == 404
    assert signed_in.post(f"/find/{order.number}-05F/incident/", {}).status_code == 422
    assert not Incident.objects.exists()

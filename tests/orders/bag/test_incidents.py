"""Not right: the batch stops, what happened is written with its setting and picture, and the count holds."""

import pytest
from django.db import IntegrityError, transaction

from orders import papers
from orders.bag import incidents
from orders.bag.bad_news import words_for
from orders.bench import work
from orders.bench.bench import bench_of
from orders.models import Incident, Message, Photo
from planner.units import INCH
from tests.orders.workbench import draw, let_help, say_yes_to_cut

pytestmark = pytest.mark.django_db
ROUGH = 2 * INCH
SHOWN = {"heat": 270, "words": "Turn to one dot", "tool": "iron", "seconds": 10, "cover": "non-stick sheet"}


@pytest.fixture
def cut(order, twelve_shirts, shop, shelf, ada):
    order.cloth = {"sashing": "Forest", "binding": "Forest", "cornerstone": "Gold"}
    order.save()
    draw(order, shop, ada)
    say_yes_to_cut(order, ada)
    work.do_pile(order, "cut", order.blocks.values_list("pk", flat=True), by=ada)
    return order


@pytest.fixture
def batch(cut):
    return tuple(cut.blocks.select_related("piece__shirt").order_by("cell")[:4])


def report(order, batch, by, **change):
    said = {"what": "melted", "stage": "fuse", "block": batch[0], "batch": batch, "setting": SHOWN, **change}
    return incidents.report(order, incidents.Report(**said), by=by)


def test_a_report_keeps_what_was_shown_who_wrote_it_and_which_piece(cut, batch, bo):
    made = report(cut, batch, bo)
    assert (made.what, made.by, made.setting, made.piece) == ("melted", bo, SHOWN, batch[0].piece)
    assert made.name == f"{cut.number}-{batch[0].piece.name}"


def test_the_rest_of_the_batch_waits_and_cannot_be_pressed(cut, batch, ada, bo):
    let_help(bo, "fuse")
    report(cut, batch, bo)
    for block in batch:
        with pytest.raises(work.NotYet, match="held"):
            work.do_pile(cut, "fuse", [block.pk], by=ada)
    waiting = bench_of(cut, rough=ROUGH)
    assert len(waiting.held("iron")) == 4
    assert sum(len(each.items) for each in waiting.batches()) == 8


def test_the_clock_of_the_stage_stops_with_the_batch(cut, batch, ada):
    stage = cut.stages.get(kind="fuse")
    stage.start(by=ada)
    report(cut, batch, ada)
    stage.refresh_from_db()
    assert stage.started_at is None


def test_go_on_lets_the_rest_through_and_keeps_the_damaged_one(cut, batch, ada):
    made = report(cut, batch, ada)
    assert incidents.go_on(made, by=ada) == 3
    assert incidents.go_on(made, by=ada) == 0
    work.do_pile(cut, "fuse", [block.pk for block in batch[1:]], by=ada)
    with pytest.raises(work.NotYet, match="melted"):
        work.do_pile(cut, "fuse", [batch[0].pk], by=ada)


def test_a_batch_stopped_twice_waits_for_both(cut, batch, ada):
    first = report(cut, batch, ada)
    second = report(cut, batch, ada, block=batch[1], what="stained")
    incidents.go_on(first, by=ada)
    cut.refresh_from_db()
    assert cut.blocks.get(pk=batch[2].pk).held
    incidents.go_on(second, by=ada)
    assert not cut.blocks.get(pk=batch[2].pk).held


def test_sent_twice_it_is_one_incident(cut, batch, bo):
    said = incidents.Report("melted", "fuse", batch[0], batch, SHOWN)
    first = incidents.report(cut, said, by=bo, client_id="a")
    assert incidents.report(cut, said, by=bo, client_id="a") == first
    assert Incident.objects.count() == 1


def test_one_word_is_enough(cut, bo):
    made = incidents.report(cut, incidents.Report("other"), by=bo)
    assert made.name == f"No. {cut.number}"
    assert made.piece is None


def test_its_picture_is_kept_with_it_and_is_no_picture_of_the_shirt(cut, batch, bo):
    photo = Photo.objects.create(sha256="a" * 64, sent_sha256="b" * 64, width=3, height=4, received_by=bo)
    said = incidents.Report("melted", "fuse", batch[0], batch, SHOWN)
    made = incidents.report(cut, said, by=bo, photo=photo)
    assert list(made.photos.all()) == [photo]
    assert not batch[0].piece.shirt.photos.exists()


@pytest.mark.parametrize(
    ("outcome", "damaged", "held"), [("kept", True, True), ("mended", False, False), ("well", False, False)]
)
def test_damaged_and_kept_is_in_work_still_and_the_count_holds(cut, batch, ada, outcome, damaged, held):
    bag = cut.bags.get()
    before = bag.tally()
    made = report(cut, batch, ada)
    assert bag.tally().damaged == 0  # it is cut: what is damaged of it is a piece, not a whole garment
    incidents.settle(made, outcome, by=ada)
    shirt = batch[0].piece.shirt
    shirt.refresh_from_db()
    assert shirt.damaged is damaged
    assert bool(cut.blocks.get(pk=batch[0].pk).held) is held
    after = bag.tally()
    assert after.came_in == after.in_work + after.used + after.returned + after.discarded == 12
    assert (before.in_work, before.used) == (after.in_work, after.used)


def test_a_whole_shirt_that_is_stained_is_damaged_and_kept_in_work(order, twelve_shirts, ada):
    made = Incident.objects.create(what="stained", order=order, shirt=twelve_shirts[2], by=ada)
    type(twelve_shirts[2]).objects.filter(pk=twelve_shirts[2].pk).update(damaged=True)
    incidents.settle(made, "kept", by=ada)
    tally = order.bags.get().tally()
    assert (tally.in_work, tally.damaged, tally.adds_up) == (12, 1, True)


def test_settled_twice_the_first_time_stands(cut, batch, ada):
    made = report(cut, batch, ada)
    incidents.settle(made, "kept", by=ada)
    incidents.settle(made, "well", by=ada)
    made.refresh_from_db()
    assert made.outcome == "kept"


def test_an_end_nobody_knows_is_refused(cut, batch, ada):
    with pytest.raises(ValueError, match="no way"):
        incidents.settle(report(cut, batch, ada), "forgotten", by=ada)


def test_it_stays_off_papers_until_it_is_chosen(cut, batch, ada):
    made = report(cut, batch, ada)
    with pytest.raises(ValueError, match="stays off papers"):
        papers.damage(made, by=ada)
    for paper in (
        papers.intake(cut.bags.get(), by=ada),
        papers.receipt(cut, by=ada),
        papers.care(cut, by=ada),
    ):
        assert "melted" not in str(paper.made_of).lower()
    made.show_on_papers(True, by=ada)
    facts = papers.damage(made, by=ada).made_of
    assert (facts["what"], facts["setting"]) == ("Melted", "Turn to one dot")
    assert "Ada" not in str(facts)  # no paper says whose hand it was


def test_words_for_the_customer_name_the_shirt_and_promise_nothing(cut, batch, ada, shop):
    words = words_for(report(cut, batch, ada), shop)
    assert f"shirt {batch[0].piece.shirt} of your quilt, No. {cut.number}" in words
    assert "Every piece of it is kept" in words
    for never in ("guarantee", "refund", "fault", "$", "!"):
        assert never not in words


def test_the_customer_is_told_once_with_when_and_how(cut, batch, ada):
    made = report(cut, batch, ada)
    made.tell(how="phone", words="I rang her.", by=ada)
    made.tell(how="message", words="Again.", by=ada)
    made.refresh_from_db()
    assert (made.told_how, made.told_words, made.needs_telling) == ("phone", "I rang her.", False)
    assert not Message.objects.exists()  # nothing is sent by itself


def test_what_went_wrong_is_never_deleted(cut, batch, ada):
    report(cut, batch, ada)
    with pytest.raises(IntegrityError, match="stays written"), transaction.atomic():
        Incident.objects.all().delete()


def test_what_was_written_before_stays_in_the_events(cut, batch, ada):
    made = report(cut, batch, ada)
    incidents.add(made, by=ada, words="It smelled first.", turned_to="three dots")
    incidents.add(made, by=ada, words="It smelled, then it shrank.", turned_to="three dots")
    made.refresh_from_db()
    assert made.words == "It smelled, then it shrank."
    told = cut.events.filter(what="incident written").order_by("pk")
    assert [each.facts["before"]["words"] for each in told] == ["", "It smelled first."]

"""A print melts in mid-job (trade handbook S5): written, told the same day, the batch stopped, all counted.

Played here through the shop's own verbs, with the handbook's money to the cent. What takes the place of the
piece (a composite of its right half, an embroidered filler, a reprint, a credit as a line of its own), the
new picture with its new yes, and the day reckoned again belong to the making-up of damaged pieces: the
piece stays held until then.
"""

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest

from orders import papers, planning
from orders.account import agreeing, money, quoting
from orders.bag import incidents
from orders.bag.bad_news import words_for
from orders.bench import work
from orders.bench.bench import bench_of
from orders.bench.pressing import as_record, pressing_of
from orders.demo.clock import standing_at
from orders.models import Cut, Design, Event, HeatTool, Incident, Order, Photo, Piece
from orders.papers.tags import stop_facts
from planner.units import INCH
from tests.cast import add_shirt
from tests.orders.workbench import let_help, say_yes_to_cut

pytestmark = pytest.mark.django_db
TUESDAY = datetime(2027, 6, 1, 18, 20, tzinfo=UTC)  # 2:20 pm in New York


@pytest.fixture
def job(order, shop, taxed, shelf, ada, bo):
    """Sixteen shirts in a bag, the layout agreed, the deposit paid, everything cut, nine fused."""
    bag = order.bags.get()
    bag.count_again(16, by=ada)
    for number in range(1, 17):
        add_shirt(bag, number)
    Piece.objects.filter(shirt__number=9).update(
        print_kind="foil", print_width=12 * INCH, print_height=10 * INCH
    )
    order.width = order.height = 66 * INCH
    order.wish = {"blocks": [[14 * INCH, 14 * INCH]], "sashings": [{"width": 2 * INCH}]}
    order.cloth = {"sashing": "Forest", "cornerstone": "Gold", "binding": "Forest"}
    order.save()
    offer = planning.plan_order(order, taxed).options[0]
    Design.objects.create(order=order).draw(offer.layout.quilt, "Even grid", by=ada)
    planning.keep_blocks(order, offer.layout.quilt)
    return order


@pytest.fixture
def fusing(job, shop, ada, bo):
    quote = quoting.issue(job, shop, by=ada)
    agreeing.accept(quote, said_by="An aunt of Ferncliff", how="person", by=ada)
    payer = job.payers.get().customer
    money.take_payment(job, minor=quote.deposit, payer=payer, method="card", key="the deposit", by=ada)
    say_yes_to_cut(job, ada)
    job.refresh_from_db()
    work.do_pile(job, "cut", job.blocks.values_list("pk", flat=True), by=ada)
    done = job.blocks.exclude(piece__shirt__number=9).order_by("cell").values_list("pk", flat=True)[:9]
    work.do_pile(job, "fuse", done, by=ada)
    let_help(bo, "cut", "fuse")
    return Order.objects.get(pk=job.pk)


@pytest.fixture
def melted(fusing, bo):
    """The helper, alone, has pressed 09 at the cotton setting and says so with one word and a photo."""
    lies = bench_of(fusing, rough=2 * INCH)
    batch = next(each for each in lies.batches() if each.heat == 250)
    at = pressing_of(batch, HeatTool.objects.in_use())
    photo = Photo.objects.create(
        sha256="9" * 64, sent_sha256="9" * 64, width=3000, height=2250, received_by=bo
    )
    blocks = tuple(item.block for item in batch.items)
    setting = as_record(batch.items[0], batch.items[0].cuttings[0], at)
    said = incidents.Report("melted", "fuse", blocks[0], blocks, setting)
    with standing_at(TUESDAY):
        made = incidents.report(fusing, said, by=bo, photo=photo)
        incidents.add(
            made, by=bo, words="A hole of 3 by 5 inches in the print.", turned_to="three dots, cotton"
        )
    return Incident.objects.get(pk=made.pk)


def test_the_job_is_the_handbooks(job, shop, ada):
    """4×4 of 14 in, sashed, 66 × 66; $624, total $667.68, deposit $333.84."""
    quilt = job.design.quilt
    assert (len(quilt.cells), quilt.size.width, quilt.size.height) == (16, 66 * INCH, 66 * INCH)
    quote = quoting.issue(job, shop, by=ada)
    assert (quote.net, quote.total, quote.deposit) == (62400, 66768, 33384)


def test_the_deposit_is_paid_and_the_rest_is_still_open(fusing):
    assert money.owing_of(fusing).balance == 66768 - 33384


def test_the_page_would_have_stopped_the_helper(fusing, bo):
    block = fusing.blocks.get(piece__shirt__number=9)
    with pytest.raises(work.NotYet, match="Stop: the owner presses it"):
        work.do_pile(fusing, "fuse", [block.pk], by=bo)
    assert stop_facts(fusing)["tags"][0]["heat"] == "250 °F"


def test_picture_time_setting_and_hands_are_kept(melted, bo):
    assert melted.name == f"{melted.order.number}-09F"
    assert (melted.at, melted.by) == (TUESDAY, bo)
    assert melted.photos.get().width == 3000
    assert (melted.setting["heat"], melted.setting["words"]) == (250, "Turn to one dot")
    assert melted.turned_to == "three dots, cotton"


def test_nobody_is_blamed_on_any_paper(melted, ada, bo):
    melted.show_on_papers(True, by=ada)
    assert bo.name not in str(papers.damage(melted, by=ada).made_of)


def test_the_customer_is_told_the_same_day_in_decent_words(melted, shop, ada):
    words = words_for(melted, shop)
    assert words.startswith("I am sorry")
    assert "2:20 pm" in words
    with standing_at(TUESDAY.replace(hour=21)):
        melted.tell(how="phone", words=words, by=ada)
    zone = ZoneInfo(shop.time_zone)
    assert melted.told_at.astimezone(zone).date() == melted.at.astimezone(zone).date()
    assert Event.objects.filter(what="told of an incident").count() == 1


def test_the_count_of_the_bag_holds_with_the_damaged_shirt_in_it(melted, ada):
    incidents.settle(melted, "kept", by=ada)
    tally = melted.order.bags.get().tally()
    assert tally.came_in == tally.in_work + tally.used + tally.returned + tally.discarded == 16
    assert melted.order.bags.get().shirts.get(number=9).damaged
    assert Cut.objects.count() == 16  # what is cut stays cut


def test_the_damaged_piece_goes_no_further_and_the_others_do(melted, ada):
    order = melted.order
    incidents.settle(melted, "kept", by=ada)
    rest = [block for block in order.blocks.filter(progress="cut") if not block.held]
    assert len(rest) == 6
    work.do_pile(order, "fuse", [block.pk for block in rest], by=ada)
    held = order.blocks.get(piece__shirt__number=9)
    assert held.held.startswith("damaged and kept")
    with pytest.raises(work.NotYet, match="damaged and kept"):
        work.do_pile(order, "fuse", [held.pk], by=ada)


def test_the_price_that_was_agreed_does_not_move_by_itself(melted, ada):
    incidents.settle(melted, "kept", by=ada)
    assert money.owing_of(melted.order).balance == 66768 - 33384

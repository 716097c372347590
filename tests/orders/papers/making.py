"""Every paper of a shop at once, and how a PDF is read back by a reader that did not make it."""

from __future__ import annotations

import io
from datetime import timedelta
from typing import Any

from pypdf import PdfReader

from orders import papers
from orders.account import adding, giving_back, money
from orders.models import Consent, Enquiry, Incident, Message, Order, Paper, Shirt, cut
from orders.papers import press
from orders.yes import yes_to_picture
from planner.units import INCH
from tests.shop_days import noon_of

SIZES = {"letter": (612, 792), "a4": (595, 842)}


def an_enquiry(shop: Any, **more: Any) -> Enquiry:
    """Return an enquiry with its band, as it was told."""
    return Enquiry.objects.create(
        name="A coach of Cinder Cross", reach="555 0160", shirts=12, low=43000, high=61000,
        laid_width=50 * INCH, laid_height=66 * INCH, fits_by=shop.today() + timedelta(days=60),
        needed_by=shop.today() + timedelta(days=90), here_by=shop.today() + timedelta(days=9), **more,
    )  # fmt: skip


def cut_all(order: Order, shirts: list[Any], by: Any) -> None:
    """Cut every shirt, after a yes."""
    pieces = [shirt.pieces.get() for shirt in shirts]
    Consent.objects.to_cut(order, pieces, said_by="the mother", how="phone", by=by)
    cut(pieces, by=by)


def finish(order: Order, shop: Any, *, days_ago: int) -> None:
    """Let every stage be done so many days of the shop ago."""
    order.stages.update(done_at=noon_of(shop, days_ago=days_ago))


def every_paper(shop: Any, order: Order, shirts: list[Any], by: Any) -> dict[str, Paper]:
    """Make one of each kind of an agreed order whose shirts are cut; none is printed yet."""
    paid = money.take_payment(order, minor=25038, payer=order.customer, method="card", key="p", by=by)
    version = yes_to_picture.ask(order, shop, by=by)
    cut_all(order, shirts, by)
    Shirt.objects.filter(pk=shirts[0].pk).update(
        story="Worn on the lake, every summer.", leftovers="returned"
    )
    hurt = Incident.objects.create(
        what="melted",
        order=order,
        shirt=shirts[1],
        words="The foil lifted at one edge.",
        by=by,
        on_papers=True,
    )
    Message.objects.note(order, "Your quilt is ready.", to=order.customer.name, on=shop.today(), by=by)
    finish(order, shop, days_ago=40)
    bag, until = order.bags.get(), shop.today() + timedelta(days=30)
    return {
        "estimate": papers.estimate(an_enquiry(shop), by=by),
        "intake": papers.intake(bag, by=by),
        "quote": papers.quote(order.quotes.get(), by=by),
        "picture": papers.picture(version, by=by),
        "deposit": papers.deposit(paid, by=by),
        "receipt": papers.receipt(order, by=by),
        "cut list": papers.cut_list(order, by=by),
        "cloth cuts": papers.cloth_cuts(order, by=by),
        "quilter": papers.quilter_sheet(order, by=by),
        "materials": papers.materials(order, by=by),
        "damage": papers.damage(hurt, by=by),
        "care": papers.care(order, by=by),
        "hand over": papers.hand_over(order, by=by),
        "unclaimed": papers.unclaimed(order, collect_by=until, sent_how="registered letter", by=by),
        "booklet": papers.booklet(order, by=by),
        "party card": papers.party_card(order, by=by),
        "in care": papers.in_care(by=by),
    }


def other_papers(order: Order, by: Any) -> dict[str, Paper]:
    """Make one of each kind that `every_paper` lacks, of an order with a payment."""
    paid = order.entries.of_payments().get()
    tip = adding.take_tip(order, minor=500, payer=order.customer, method="cash", key="t", by=by)
    back = giving_back.give_back(paid, minor=1000, method="card", key="g", by=by)
    sold = giving_back.sell_certificate(
        minor=900, bought_by="A partner", given_to="a nephew", method="card", key="s", by=by
    )
    second = money.take_payment(order, minor=700, payer=order.customer, method="check", key="q", by=by)
    third = money.take_payment(order, minor=600, payer=order.customer, method="card", key="r", by=by)
    money_papers = (tip, back, sold, giving_back.bounced(second, by=by), giving_back.take_back(third, by=by))
    made = [papers.deposit(each, by=by) for each in money_papers]
    made += [papers.tags(order.bags.get(), sheet="plain", panels=True, skipped=0, by=by)]
    return {each.kind: each for each in (*made, papers.stop_tags(order, by=by))}


def pdf_of(paper: Paper, *, size: str = "letter") -> bytes:
    """Print a paper on a size of sheet."""
    about = {"number": paper.number, "kind": paper.get_kind_display(), "maker": "The workroom, Alder Steps"}
    drawing = press._picture_of(paper)
    return press.set_paper(paper.kind, paper.made_of, about, size=size, picture=drawing)


def read(pdf: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(pdf))


def words_of(reader: PdfReader) -> str:
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())

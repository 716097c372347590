"""The whole job in a browser: an empty shop, twenty shirts, a quilt, the money, the door."""

from __future__ import annotations

import io
import re
from datetime import date, timedelta

import pytest
from playwright.sync_api import expect
from pypdf import PdfReader

from orders.background import errands
from tests.cast import PASSWORD
from tests.journeys.conftest import TALL
from tests.journeys.hands import PATIENCE

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.slow]
SHIRTS = 20
SHELF = [
    ("Forest", "Quilting cotton", "40", "12", "6"),
    ("Wide black", "Wide backing", "106", "18", "5"),
    ("Batting 80/20", "Batting", "96", "11.06", "11"),
    ("Light non-woven", "Interfacing, light non-woven", "20", "2.20", "20"),
]


@pytest.mark.parametrize("width", [390, 1280])
def test_a_maker_takes_a_commission_from_the_first_message_to_the_receipt(hands, photos_of_shirts, width):
    hands.page.set_viewport_size({"width": width, "height": TALL[width]})
    hands.photos = photos_of_shirts
    for step in WALK:
        step(hands)
        print(f"\n{step.__name__.replace('_', ' ')}: {hands.figures()}", end="")
    assert hands.said == []
    print(f"\nAt {width} px: {hands.figures()}")


def opens_an_empty_shop(hands):
    hands.open("/")
    hands.heading("Whose shop is this?")
    hands.type("Your name", "Wren")
    hands.type("Password", PASSWORD)
    hands.tap("Open the door")
    hands.heading("Where is the shop?")
    hands.pick("Country and clock", "United States, New York time")
    hands.tap("Go on")
    hands.type("What is the shop called?", "The workroom, Alder Steps")
    hands.type("How many hours a week at the bench?", "25")
    hands.type("What does one block cost, all in?", "36")
    hands.tap("Open the shop")
    hands.sees("No quilt is in the workroom. The first begins with an enquiry.")


def fills_the_shelf(hands):
    hands.follow("Shelf")
    for name, kind, wide, price, long in SHELF:
        hands.follow(re.compile("Add a cloth|Put the first cloth on the shelf"))
        hands.type("What you call it", name)
        hands.pick("Kind", kind)
        hands.type("Usable width", wide)
        hands.type("Price a yard", price)
        hands.tap("Add it")
        hands.heading(name)
        hands.type("Length", long)
        hands.tap("Put it there")
        hands.follow("Shelf")


def answers_an_enquiry(hands):
    hands.follow("Quilts")
    hands.follow("New enquiry")
    hands.type("Who asks", "An aunt of Ferncliff")
    hands.type("Text, phone or mail", "555 0131")
    hands.type("Shirts, roughly", str(SHIRTS))
    hands.type("Needed by", (date.today() + timedelta(days=100)).isoformat())
    hands.pick("Size", "Twin, 66 × 82 in")
    hands.tap("See what to answer")
    hands.sees("You may say")
    hands.tap("Pencil in for 7 days")
    hands.sees("Penciled in")
    hands.type("What you call it", "The aunt’s surprise")
    hands.type("Place", "Ferncliff")
    hands.tap("Turn into an order")
    hands.heading("The aunt’s surprise, Ferncliff")


def takes_the_bag_in(hands):
    hands.type("How many, counted together", str(SHIRTS))
    hands.type("Who brought it", "the aunt")
    hands.tap("Take the bag in")
    hands.heading("Twenty garments")
    hands.tap("Both have signed")
    hands.heading("True of the whole bag")
    hands.tap("Log the first shirt")
    for number in range(SHIRTS):
        hands.heading(f"{number} logged")
        hands.photograph(f"Photo of shirt {number + 1:02d}", hands.photos[number % len(hands.photos)])
        hands.choose("How does the print feel?", "Rubbery")
        hands.tap("Next shirt" if number < SHIRTS - 1 else "That was all")
    hands.sees("The count adds up", within=60_000)
    expect(hands.page.locator("#phone-queue")).to_be_hidden(timeout=60_000)
    errands.run_due()
    hands.tap("Make the receipt")
    hands.heading("The paper is being made")
    paper = hands.page.url
    hands.go_back()  # before it is made, since the page turns to it by itself then
    hands.heading("The aunt’s surprise, Ferncliff")
    errands.run_due()
    assert "Twenty garments (20)" in read_paper(hands, paper)


def paper_behind(hands, link):
    """Tap a paper and return its text."""
    hands.taps += 1
    place = hands.page.get_by_role("link", name=link)
    expect(place).to_have_count(1)
    return read_paper(hands, hands.site + place.get_attribute("href"))


def read_paper(hands, address):
    answer = hands.page.request.get(address)
    assert answer.headers["content-type"] == "application/pdf"
    pages = PdfReader(io.BytesIO(answer.body())).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def draws_the_quilt(hands):
    room(hands, "Quilt")
    hands.tap(re.compile("66 × 82"))
    hands.sees("66 across, 82 down, before the first wash.")
    for part in ("Sashing", "Binding"):
        opens_the_part(hands, part)
        hands.tap(re.compile("Try it Forest"))
        hands.sees("In the picture")
    hands.tap("Set it all aside")
    hands.sees("All set aside")


def opens_the_part(hands, part):
    """Tap a part and wait until it lies there: no hand presses within the moment in which it is exchanged."""
    with hands.page.expect_response(re.compile(r"\?role=")):
        hands.follow(re.compile(f"^{part}"))
    at_work = hands.page.locator(".htmx-request, .htmx-swapping, .htmx-settling")
    expect(at_work).to_have_count(0, timeout=PATIENCE)


def room(hands, name):
    rooms = hands.page.get_by_role("navigation", name="Rooms of this order")
    hands.follow(re.compile(f"^{name}"), within=rooms)


def agrees_the_price(hands):
    room(hands, "Account")
    hands.tap("Issue the quote")
    hands.sees(re.compile("^Quote 1 waits for her yes"))
    errands.run_due()
    words = paper_behind(hands, re.compile("^Quote, version 1"))
    assert "An aunt of Ferncliff" in words
    hands.choose("How", "in person", within=hands.part(re.compile("waits for her yes")))
    hands.tap("She said yes to the price")
    hands.follow("Take the deposit")
    takes_money(hands, "card", receipt=1)


def takes_money(hands, how, *, receipt):
    hands.choose("How", how, within=hands.part("Take a payment"))
    hands.tap("Write the receipt")
    hands.sees(re.compile(f"receipt {receipt}$"))
    errands.run_due()
    assert f"Receipt {receipt}" in paper_behind(hands, re.compile(f", receipt {receipt}$"))


def hears_yes_to_cut(hands):
    room(hands, "Quilt")
    hands.unfold("She said yes to the cut")
    hands.choose("How it was said", "in person")
    hands.tap("Write it down")


def cuts_fuses_and_trims(hands):
    room(hands, "Bench")
    for stage in ("Log the shirts", "Wash the shirts", "Draw the layout"):
        finishes(hands, stage)
    hands.follow("Cut")
    hands.tap("All 20 cut")
    hands.follow("Fuse")
    while hands.page.get_by_role("heading", name="At the iron", level=1).is_visible():
        with hands.page.expect_navigation():
            hands.tap(re.compile("of this batch done$"))
    hands.follow("Trim")
    hands.tap("All 20 trimmed")
    hands.sees("Nothing to trim.")


def finishes(hands, stage):
    """Tick a stage off that nobody timed."""
    line = hands.page.get_by_role("listitem").filter(has=hands.page.get_by_role("heading", name=stage))
    hands.tap("Done already", within=line)
    expect(line).to_have_count(0)  # it is called by what was done from now on


def hears_yes_to_the_picture(hands):
    room(hands, "Quilt")
    hands.tap("Ask for her yes")
    hands.unfold("She said yes to the picture")
    hands.choose("How it was said", "in a message")
    hands.tap("Write it down")
    hands.sees("The arrangement and the cloth are settled; the rows may be joined.")


def sews(hands):
    room(hands, "Bench")
    hands.follow("Join")
    for row in range(1, 6):
        hands.tap(f"Row {row} sewn")
    hands.sees("All sewn in.")
    room(hands, "Bench")
    for stage in ("Piece the back", "Quilt it", "Sew on the binding"):
        finishes(hands, stage)
    room(hands, "Bench")
    for what, count in (("Needles", "3"), ("Pins", "40")):
        hands.type(f"{what} out", count)
        hands.type(f"{what} back", count)
    hands.tap("Write the count")
    finishes(hands, "Finish and label it")


def hands_it_over(hands):
    room(hands, "Account")
    takes_money(hands, "cash", receipt=2)
    hands.follow("Hand it over", within=hands.page.locator("header"))
    hands.choose("The leftovers", "All in their bag, with tags and buttons")
    hands.tick("Pins and needles are counted, none is left in it")
    hands.choose("Taken by", "An aunt of Ferncliff")
    hands.tap("Hand it over")
    hands.sees(re.compile("Handed to An aunt of Ferncliff"))
    errands.run_due()
    assert "Paid in full" in paper_behind(hands, re.compile("^Receipt$"))


WALK = (
    opens_an_empty_shop,
    fills_the_shelf,
    answers_an_enquiry,
    takes_the_bag_in,
    draws_the_quilt,
    agrees_the_price,
    hears_yes_to_cut,
    cuts_fuses_and_trims,
    hears_yes_to_the_picture,
    sews,
    hands_it_over,
)

"""The Account room, the hand-over and the books in a real browser, in both lights."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from orders.models import Entry

pytestmark = pytest.mark.django_db(transaction=True)
# WCAG 2.2 AA target size is off in axe unless asked for.
RULES = {"rules": {"target-size": {"enabled": True}}}


@pytest.fixture(params=["light", "dark"])
def hers(request, page, live_server, client, ada):
    client.force_login(ada)
    page.emulate_media(color_scheme=request.param)
    page.context.add_cookies(
        [{"name": "session", "value": client.cookies["session"].value, "url": live_server.url}]
    )
    page.said = []
    page.on("console", lambda message: page.said.append(message.text))
    return page


def faults(page):
    found = Axe().run(page, options=RULES).response["violations"]
    return [(fault["id"], [node["html"] for node in fault["nodes"]]) for fault in found]


def look(page, live_server, address):
    page.goto(f"{live_server.url}{address}")
    for summary in page.locator("summary").all():
        if summary.is_visible() and not summary.evaluate("each => each.parentElement.open"):
            summary.click()
    for width in (390, 820, 1280):
        page.set_viewport_size({"width": width, "height": 800})
        assert page.evaluate("document.documentElement.scrollWidth") == width, (address, width)
    assert faults(page) == [], address
    assert page.said == []


def test_a_quote_to_be_issued_and_one_that_waits(hers, live_server, drawn, shop, ada):
    from orders.account import quoting

    look(hers, live_server, f"/quilts/{drawn.number}/account/")
    quoting.issue(drawn, shop, by=ada)
    look(hers, live_server, f"/quilts/{drawn.number}/account/")


def test_an_account_with_money_on_it_its_hand_over_and_the_books(hers, live_server, agreed):
    hers.goto(f"{live_server.url}/quilts/{agreed.number}/account/")
    hers.locator("#id_pay-method_1").check()
    hers.get_by_role("button", name="Write the receipt").click()
    expect(hers.get_by_text("Receipt 1 is written.")).to_be_visible()
    assert Entry.objects.of_payments().get().method == "card"
    for address in (f"/quilts/{agreed.number}/account/", f"/quilts/{agreed.number}/hand-over/", "/books/"):
        look(hers, live_server, address)

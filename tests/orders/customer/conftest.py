"""A customer whose every record names her."""

import pytest

from orders.background import errands
from orders.models import (
    Account,
    AskedSingly,
    Bag,
    Certificate,
    Consent,
    Customer,
    Enquiry,
    Entry,
    Event,
    ExtraLine,
    Incident,
    Link,
    Mail,
    Message,
    Order,
    Paper,
    Photo,
    Shirt,
)
from tests.orders.pictures import drawing, receive, saved


@pytest.fixture
def hers(shop, ada, order):
    """Return a customer whose quilt was made, paid and collected; every field that can name her does."""
    name = "Mrs Quillon"
    her = Customer.objects.create(
        name=name, phone="555 0177", email="quillon@example.invalid", address="7 Sorrel Row", notes="marrow",
        may_show_pictures=True,
    )  # fmt: skip
    made = Order.objects.open(title="Quillon’s marrow quilt", customer=her, by=ada, place="Sorrel Row")
    Order.objects.filter(pk=made.pk).update(
        recipient="Pim", collector="Great-aunt", label_words="For Pim", discreet="marrow", occasion="marrow"
    )
    made.refresh_from_db()
    bag = Bag.objects.create(
        customer=her, brought_by="Great-aunt", count=1, received_by=ada, notes="marrow", allergies="marrow"
    )
    made.bags.add(bag)
    shirt = Shirt.objects.create(bag=bag, number=1, story="Pim wore it", found="Pim’s pin", team="marrow")
    receive(saved(drawing(400, 300)), of=shirt, by=ada)
    receive(saved(drawing(300, 200)), of=made, by=ada)
    bag.sign("handed in", "Great-aunt", [[1, 2]], by=ada)
    ExtraLine.objects.create(
        order=made, words="A pocket for Great-aunt", kind="labour", minor=5, added_by=ada
    )
    ask(her, ada)
    Consent.objects.create(
        order=made, kind="wish", said_by=name, how="phone", words="marrow", written_by=ada,
        photo=Photo.objects.get(order=made),
    )  # fmt: skip
    AskedSingly.objects.create(shirt=shirt, names=[name, "Pim"], why="marrow")
    Incident.objects.create(what="stained", order=made, by=ada, words="marrow", told_words="marrow")
    Message.objects.note(made, "Dear Mrs Quillon", to=name, on=shop.today(), by=ada)
    Link.objects.give_out(made, until=shop.today(), by=ada, to=name)
    Event.objects.note("approver named", by=ada, order=made, name="Pim", before=name)
    Event.objects.note("sized", by=ada, order=made, width=7)
    pay(made, her, ada, shop)
    made.hand_over("Great-aunt", by=ada)
    Shirt.objects.filter(pk=shirt.pk).update(state=Shirt.State.RETURNED)
    errands.run_due()
    return her


def ask(her, ada):
    """Write a first message of hers that became no order, its estimate and its answer."""
    asked = Enquiry.objects.write_down(by=ada, name=her.name, reach="555 0177", what="marrow")
    estimate = {"enquiry": asked.pk, "for": her.name, "reach": "555 0177"}
    Paper.objects.create(kind=Paper.Kind.ESTIMATE, number=801, made_of=estimate, made_by=ada)
    said = {"kind": "answer", "subject": "Your quilt", "words": her.name, "key": "answer"}
    Mail.objects.create(enquiry=asked, to=her.name, address=her.email, **said)


def pay(made, her, ada, shop):
    """Write a charge, its payment and a gift certificate."""
    for key, legs in (
        ("charge", [(Account.SALES, Account.OWED, 9000)]),
        ("payment", [(Account.OWED, Account.CASH, 9000)]),
    ):
        Entry.objects.record(
            key=f"her {key}", kind=key, legs=legs, by=ada, order=made, payer=her, words=key, currency="USD",
            day=shop.today(),
        )  # fmt: skip
    given = Certificate.objects.create(number=1, bought_by=her.name, given_to="Pim", sold_on=shop.today())
    Entry.objects.record(
        key="her gift", kind="certificate", legs=[(Account.CERTIFICATES, Account.CASH, 500)], by=ada,
        payer=her, words="gift", currency="USD", day=shop.today(), certificate=given,
    )  # fmt: skip

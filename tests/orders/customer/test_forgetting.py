"""A customer is forgotten: no word that names her is left but in sealed money, and money is untouched."""

import json

import pytest
from django.db import DatabaseError, connection, transaction
from django.test.utils import CaptureQueriesContext

from orders.account.sealing import last_seal, verify_ledger
from orders.background import errands
from orders.customer import forgetting
from orders.customer.hers import Hers
from orders.customer.names_left import looked_for, places_of
from orders.guards import FORGOTTEN
from orders.keep.rows import all_rows, kinds, name_of
from orders.models import (
    Account,
    Customer,
    Enquiry,
    Entry,
    Errand,
    Event,
    Mail,
    Order,
    Paper,
    Payer,
    Photo,
    Shirt,
)
from tests.orders.pictures import drawing, receive, saved

pytestmark = pytest.mark.django_db
HERS = ("Quillon", "555 0177", "quillon@example.invalid", "7 Sorrel Row", "Pim", "Great-aunt", "marrow")


@pytest.fixture(autouse=True)
def shop_folder(settings, tmp_path):
    settings.DATA_DIR = tmp_path / "shop"
    settings.DATA_DIR.mkdir()


def forget(customer, ada):
    forgetting.forget(customer, seen=Customer.objects.get(pk=customer.pk).version, by=ada)
    errands.run_due()
    errands.run_due()  # her papers of money come after her files are gone


def everything_written():
    return {name_of(kind): json.dumps(list(all_rows(kind)), ensure_ascii=False) for kind in kinds()}


def test_no_word_of_hers_is_left_in_any_record(hers, ada):
    assert all(any(word in text for text in everything_written().values()) for word in HERS)
    forget(hers, ada)
    left = [(name, word) for name, text in everything_written().items() for word in HERS if word in text]
    assert left == []


def test_money_is_untouched_to_the_byte(hers, ada):
    before = [list(all_rows(kind)) for kind in kinds() if name_of(kind) in ("entry", "posting", "seal")]
    seal = last_seal()
    forget(hers, ada)
    after = [list(all_rows(kind)) for kind in kinds() if name_of(kind) in ("entry", "posting", "seal")]
    assert after == before
    assert len(before[0]) == 3
    assert (last_seal(), verify_ledger()) == (seal, ())
    assert str(Entry.objects.get(key="her payment").payer) == f"{FORGOTTEN} {hers.pk}"


def test_her_photographs_are_gone_from_records_and_disk_and_those_of_others_stay(
    hers, ada, twelve_shirts, settings
):
    others = receive(saved(drawing(500, 300)), of=twelve_shirts[0], by=ada)
    shared = receive(saved(drawing(300, 200)), of=twelve_shirts[1], by=ada)  # the very picture she has too
    errands.run_due()
    assert len(list((settings.DATA_DIR / "photos").rglob("*.jpg"))) == 3 * 4
    forget(hers, ada)
    assert set(Photo.objects.all()) == {others, shared}
    assert len(list((settings.DATA_DIR / "photos").rglob("*.jpg"))) == 2 * 4
    assert others.file.is_file()
    assert shared.file.is_file()


def test_her_papers_are_gone_but_for_those_of_money_which_have_no_name(hers, ada, settings, monkeypatch):
    from orders.papers import press

    order = hers.orders.get()
    for number, kind in ((901, "receipt"), (902, "care")):
        facts = {"customer": "Mrs Quillon", "lines": ["555 0177"], "photo": 5}
        paper = Paper.objects.create(kind=kind, number=number, order=order, made_of=facts, made_by=ada)
        press.file_of(paper).parent.mkdir(exist_ok=True)
        press.file_of(paper).write_bytes(b"%PDF Mrs Quillon")
    set_anew = []
    monkeypatch.setattr(press, "is_ready", lambda: True)
    monkeypatch.setattr(press, "keep", lambda paper: set_anew.append(paper.made_of) or "0" * 64)
    forget(hers, ada)
    assert [paper.number for paper in Paper.objects.filter(order=order)] == [901]
    assert set_anew == [{"customer": FORGOTTEN, "lines": [FORGOTTEN]}]
    assert list((settings.DATA_DIR / "papers").glob("*.pdf")) == []


def test_what_happened_stays_written_but_for_who(hers, ada):
    order = hers.orders.get()
    before = list(Event.objects.filter(order=order).order_by("pk").values_list("pk", "what", "at", "by"))
    forget(hers, ada)
    assert (
        list(Event.objects.filter(order=order).order_by("pk").values_list("pk", "what", "at", "by")) == before
    )
    assert Event.objects.get(order=order, what="approver named").facts == {}
    assert Event.objects.get(order=order, what="sized").facts == {"width": 7}
    assert Event.objects.get(what="customer forgotten").facts == {"customer": hers.pk}


def test_others_keep_their_names(hers, ada, order, aunt):
    Payer.objects.create(order=order, customer=hers, share=1)
    Order.objects.filter(pk=order.pk).update(approver="Mrs Quillon", collector="The neighbor")
    order.cancel(by=ada)
    forget(hers, ada)
    order.refresh_from_db()
    assert (order.title, order.approver, order.collector) == (
        "The aunt’s surprise",
        FORGOTTEN,
        "The neighbor",
    )
    assert Customer.objects.get(pk=aunt.pk).phone == "555 0131"


def test_twice_is_once(hers, ada):
    forget(hers, ada)
    forget(hers, ada)
    assert Event.objects.filter(what="customer forgotten").count() == 1


def test_an_order_in_the_workroom_an_open_account_and_garments_here_are_in_the_way(order, aunt, ada, shop):
    Entry.objects.record(
        key="c", kind="charge", legs=[(Account.SALES, Account.OWED, 100)], by=ada, order=order, payer=aunt,
        words="charge", currency="USD", day=shop.today(),
    )  # fmt: skip
    Shirt.objects.create(bag=order.bags.get(), number=1)
    told = forgetting.standing_of(aunt).in_the_way
    assert [each.split(":")[1] for each in told] == [
        " hand it over or call it off first.",
        " settle it or write it off first.",
        " give them back first.",
    ]
    with pytest.raises(forgetting.CannotForget, match="still in the workroom"):
        forget(aunt, ada)
    assert Customer.objects.get(pk=aunt.pk).name == "An aunt of Ferncliff"


def test_where_her_name_would_still_stand_is_told_before_and_nothing_is_changed_by_looking(hers, ada, shop):
    before = everything_written()
    assert forgetting.standing_of(hers).places == ()
    assert everything_written() == before
    assert not Errand.objects.filter(kind="let go").exists()


def test_looking_writes_nothing_and_begins_no_transaction(hers, monkeypatch):
    """A page that is only looked at must not keep the shop from writing."""
    began = []
    monkeypatch.setattr(transaction.Atomic, "__enter__", lambda self: began.append(self))
    with CaptureQueriesContext(connection) as asked:
        assert forgetting.standing_of(hers).places == ()
    assert began == []
    written = [each["sql"] for each in asked if not each["sql"].lstrip("( ").startswith("SELECT")]
    assert written == []


def test_what_is_foreseen_is_what_is_left(hers, ada, shop, order):
    """Her words in every kind of place, hers and others': told before as they are found after."""
    made = hers.orders.get()
    Order.objects.filter(pk=made.pk).update(wish={"theme": "for Mrs Quillon"}, cloth={"sashing": "Pim"})
    Order.objects.filter(pk=order.pk).update(occasion="For Mrs Quillon", approver="Mrs Quillon")
    Payer.objects.create(order=order, customer=hers, share=1)
    order.cancel(by=ada)
    Event.objects.note("said", by=ada, order=order, words="Mrs Quillon rang")
    Event.objects.note("said", by=ada, words="Ask Mrs Quillon")
    Customer.objects.create(name="Zoë", notes="Knows Mrs Quillon; 555 0177 is hers")
    facts = {"customer": "Mrs Quillon", "lines": ["555 0177"], "photo": 5}
    Paper.objects.create(kind="receipt", number=903, order=made, made_of=facts, made_by=ada)
    Entry.objects.record(
        key="w", kind="payment", legs=[(Account.OWED, Account.CASH, 1)], by=ada, payer=hers, currency="USD",
        words="for Mrs Quillon", day=shop.today(),
    )  # fmt: skip
    words = looked_for(hers.name, Hers(hers).names())
    told = forgetting.standing_of(hers).places
    forget(hers, ada)
    assert told == tuple(places_of(words))
    assert {each.where for each in told} == {
        *("Ledger, sealed", "Order, occasion", "Notes about another customer", "What happened")
    }


def test_words_of_the_ledger_and_of_others_that_name_her_are_told_before(hers, ada, shop, order):
    Order.objects.filter(pk=order.pk).update(occasion="For the Quillons, Zoë’s friends")
    Customer.objects.create(name="Zoë", notes="Knows Mrs Quillon")
    Entry.objects.record(
        key="w", kind="payment", legs=[(Account.OWED, Account.CASH, 1)], by=ada, payer=hers, currency="USD",
        words="for Mrs Quillon", day=shop.today(),
    )  # fmt: skip
    told = {(each.where, each.times, each.words) for each in forgetting.standing_of(hers).places}
    assert told == {
        ("Ledger, sealed", 1, ("for Mrs Quillon",)),
        ("Order, occasion", 1, ("For the Quillons, Zoë’s friends",)),
        ("Notes about another customer", 1, ("Knows Mrs Quillon",)),
    }


def test_a_name_is_found_however_its_letters_are_kept(hers, ada, order):
    Event.objects.note("said", by=ada, order=order, words="Ask Zoë Ångström")
    Event.objects.note("said", by=ada, order=order, words="Ångströmberg is no part of it")
    found = list(places_of(looked_for("Zoë Ångström", ())))
    assert [(each.where, each.words) for each in found] == [
        ("What happened", ("Ask Zoë Ångström",)),
    ]


def test_who_signed_for_the_bag_is_no_name_in_what_happened(hers, ada):
    assert Event.objects.get(what="signed").facts["name"] == "Great-aunt"
    forget(hers, ada)
    assert Event.objects.get(what="signed").facts == {}


def test_an_enquiry_of_hers_that_became_no_order_goes_with_its_mails_and_estimates(hers, ada):
    forget(hers, ada)
    asked = Enquiry.objects.get()
    assert (asked.name, asked.reach, asked.what) == (FORGOTTEN, FORGOTTEN, "")
    assert asked.forgotten_at is not None
    assert not Mail.objects.exists()
    assert not Paper.objects.filter(number=801).exists()


REFUSED = [
    ("UPDATE orders_event SET facts = '{\"a\": 1}' WHERE order_id = {order}", "What happened"),
    ("UPDATE orders_event SET facts = '{}', what = 'other' WHERE order_id = {order}", "What happened"),
    ("UPDATE orders_event SET facts = '{}', by_id = NULL WHERE order_id = {order}", "What happened"),
    ("UPDATE orders_event SET facts = '{}' WHERE order_id IS NULL", "What happened"),
    ("DELETE FROM orders_event WHERE order_id = {order}", "What happened"),
    ("UPDATE orders_signature SET name = 'Somebody'", "signed"),
    (f"UPDATE orders_signature SET name = '{FORGOTTEN}', count = 9", "signed"),
    (f"UPDATE orders_certificate SET bought_by = '{FORGOTTEN}', number = 7", "certificate"),
    ("UPDATE orders_certificate SET given_to = 'Me'", "certificate"),
    ("DELETE FROM orders_certificate", "certificate"),
    ("UPDATE orders_entry SET words = 'x'", "Money"),
    ("UPDATE orders_entry SET payer_id = NULL", "Money"),
]
OF_NOBODY = [
    ("UPDATE orders_event SET facts = '{}'", "What happened"),
    (f"UPDATE orders_signature SET name = '{FORGOTTEN}', strokes = '[]'", "signed"),
    (f"UPDATE orders_certificate SET bought_by = '{FORGOTTEN}'", "certificate"),
]


def test_guards_refuse_all_else_even_of_a_forgotten_customer(hers, ada):
    forget(hers, ada)
    for statement, words in REFUSED:
        refused(statement.replace("{order}", str(hers.orders.get().pk)), words)


def test_guards_refuse_it_of_everybody_who_is_not_forgotten(hers):
    for statement, words in OF_NOBODY:
        refused(statement, words)


def refused(statement, words):
    with pytest.raises(DatabaseError, match=words), transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(statement)


def test_a_forgotten_customer_cannot_be_given_a_way_to_reach_again(hers, ada):
    forget(hers, ada)
    with pytest.raises(DatabaseError), transaction.atomic():
        Customer.objects.filter(pk=hers.pk).update(phone="555 0177")

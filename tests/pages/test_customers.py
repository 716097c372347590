"""Customers: found, written, asked about in one file, forgotten; the owner's alone."""

import io
import zipfile
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from orders.background import errands
from orders.keep import taken
from orders.models import Customer, Errand, Event

pytestmark = pytest.mark.django_db
NEW_YORK = ZoneInfo("America/New_York")
PAGES = ("/customers/", "/customers/{pk}/", "/customers/{pk}/forgetting/", "/take-along/")


@pytest.fixture(autouse=True)
def shop_folder(settings, tmp_path):
    settings.DATA_DIR = tmp_path / "shop"
    settings.DATA_DIR.mkdir()


@pytest.fixture
def signed_in(client, ada, shop):
    client.force_login(ada)
    return client


@pytest.fixture
def apart(shop):
    """Return a customer with nothing in the way of being forgotten."""
    return Customer.objects.create(name="Ursel of Elm", phone="555 0188", email="ursel@example.invalid")


def words(answer):
    return " ".join(answer.content.decode().split())


def sent(customer, **change):
    fields = ("name", "phone", "email", "address", "notes")
    return {name: getattr(customer, name) for name in fields} | {"seen": customer.version} | change


def test_a_customer_is_found_by_a_part_of_the_name_or_the_phone(signed_in, aunt, apart):
    assert {"An aunt of Ferncliff", "Ursel of Elm"} <= {
        each.name for each in signed_in.get("/customers/").context["customers"]
    }
    assert list(signed_in.get("/customers/?name=urs").context["customers"]) == [apart]
    assert list(signed_in.get("/customers/?name=0131").context["customers"]) == [aunt]
    assert "Nobody of that name" in words(signed_in.get("/customers/?name=%00zz"))


def test_the_list_asks_as_many_questions_for_thirty_as_for_one(signed_in, aunt):
    signed_in.get("/customers/")
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    with CaptureQueriesContext(connection) as few:
        signed_in.get("/customers/")
    Customer.objects.bulk_create(Customer(name=f"Customer {number}") for number in range(30))
    with CaptureQueriesContext(connection) as many:
        signed_in.get("/customers/")
    assert len(many) == len(few)


def test_the_page_shows_no_leave_until_it_is_given(signed_in, aunt, order):
    page = signed_in.get(f"/customers/{aunt.pk}/")
    assert "Nothing is shown or posted" in words(page)
    assert not page.context["form"]["may_show_pictures"].value()
    answer = signed_in.post(f"/customers/{aunt.pk}/", sent(aunt, may_show_pictures="on", address="Elm 1"))
    assert answer.status_code == 302
    aunt.refresh_from_db()
    assert (aunt.may_show_pictures, aunt.may_show_names, aunt.address) == (True, False, "Elm 1")
    assert "Cover names, faces, schools and team numbers" in words(signed_in.get(f"/customers/{aunt.pk}/"))
    told = Event.objects.get(what="customer written").facts
    assert told["may_show_pictures"] is True
    assert "Elm" not in str(told)


def test_not_before_keeps_everything_back_until_its_day(signed_in, aunt, order, shop):
    day = shop.today() + timedelta(days=12)
    signed_in.post(
        f"/customers/{aunt.pk}/", sent(aunt, may_show_pictures="on", keep_quiet_until=day.isoformat())
    )
    assert "Nothing is shown before" in words(signed_in.get(f"/customers/{aunt.pk}/"))
    assert Customer.objects.get(pk=aunt.pk).is_quiet(on=day - timedelta(days=1))
    assert not Customer.objects.get(pk=aunt.pk).is_quiet(on=day)


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"name": ""}, "name"),
        ({"name": "x" * 121}, "name"),
        ({"email": "no mail"}, "email"),
        ({"keep_quiet_until": "soon"}, "keep_quiet_until"),
        ({"may_show_names": "on"}, "may_show_names"),
        ({"notes": "x" * 2001}, "notes"),
        ({"phone": "5\x005"}, "phone"),
    ],
)
def test_bad_input_comes_back_filled_with_the_fault_at_its_field(signed_in, aunt, change, field):
    answer = signed_in.post(f"/customers/{aunt.pk}/", sent(aunt, **change))
    assert answer.status_code == 422
    assert field in answer.context["form"].errors
    assert Customer.objects.get(pk=aunt.pk).version == aunt.version


def test_two_phones_do_not_overwrite_each_other(signed_in, aunt):
    signed_in.post(f"/customers/{aunt.pk}/", sent(aunt, phone="555 0001"))
    answer = signed_in.post(f"/customers/{aunt.pk}/", sent(aunt, phone="555 0002"))
    assert answer.status_code == 409
    assert Customer.objects.get(pk=aunt.pk).phone == "555 0001"


def test_everything_of_one_customer_is_made_and_fetched(signed_in, aunt, order):
    assert signed_in.post(f"/customers/{aunt.pk}/file/").status_code == 302
    assert signed_in.post(f"/customers/{aunt.pk}/file/").status_code == 302
    made = Errand.objects.get(kind=taken.ONE)
    assert "Being made" in words(signed_in.get(f"/customers/{aunt.pk}/"))
    assert signed_in.get(f"/taken/{made.pk}.zip").status_code == 404
    errands.run_due()
    assert f"/taken/{made.pk}.zip" in words(signed_in.get(f"/customers/{aunt.pk}/"))
    answer = signed_in.get(f"/taken/{made.pk}.zip")
    assert answer.headers["Cache-Control"] == "no-store"
    assert answer.headers["Content-Disposition"].startswith("attachment")
    with zipfile.ZipFile(io.BytesIO(b"".join(answer.streaming_content))) as zipped:
        assert "everything.json" in zipped.namelist()


def test_the_shop_in_one_file_is_made_and_fetched(signed_in, order):
    assert signed_in.post("/take-along/").status_code == 302
    errands.run_due()
    made = Errand.objects.get(kind=taken.SHOP)
    page = words(signed_in.get("/take-along/"))
    assert f"/taken/{made.pk}.zip" in page
    answer = signed_in.get(f"/taken/{made.pk}.zip")
    with zipfile.ZipFile(io.BytesIO(b"".join(answer.streaming_content))) as zipped:
        assert {"about.json", "customers.vcf", "dates.ics", "books.csv"} <= set(zipped.namelist())


def test_a_file_made_in_the_evening_is_named_by_the_day_it_was_in_the_shop(signed_in, order, ada):
    evening = datetime(2027, 7, 4, 21, tzinfo=NEW_YORK)  # past midnight in UTC
    made = taken.ask_for_shop(by=ada)
    errands.run_due()
    Errand.objects.filter(pk=made.pk).update(ended_at=evening)
    answer = signed_in.get(f"/taken/{made.pk}.zip")
    assert answer.headers["Content-Disposition"] == 'attachment; filename="shop-2027-07-04.zip"'


def test_a_file_that_was_taken_away_is_not_found(signed_in, order, ada):
    made = taken.ask_for_shop(by=ada)
    errands.run_due()
    taken.file_for(made).unlink()
    assert signed_in.get(f"/taken/{made.pk}.zip").status_code == 404


def test_no_other_errand_is_fetched_under_its_number(signed_in, order):
    other = errands.send("paper", key="9", payload={"name": "../shop"})
    Errand.objects.filter(pk=other.pk).update(state="done")
    assert signed_in.get(f"/taken/{other.pk}.zip").status_code == 404


def test_forgetting_tells_first_what_goes_and_takes_the_name_as_a_second_thought(signed_in, apart):
    page = f"/customers/{apart.pk}/forgetting/"
    assert "What goes" in words(signed_in.get(page))
    wrong = signed_in.post(page, {"name": "Somebody", "seen": apart.version})
    assert wrong.status_code == 422
    assert "Nothing was forgotten" in words(wrong)
    answer = signed_in.post(page, {"name": " ursel OF elm ", "seen": apart.version})
    assert answer.status_code == 302
    assert Customer.objects.get(pk=apart.pk).name == f"Forgotten customer {apart.pk}"
    assert signed_in.get(f"/customers/{apart.pk}/").status_code == 404
    assert "Forgotten customer" not in words(signed_in.get("/customers/?name=Forgotten"))


def test_what_is_in_the_way_is_told_and_nothing_is_forgotten(signed_in, aunt, order):
    page = f"/customers/{aunt.pk}/forgetting/"
    assert "still in the workroom" in words(signed_in.get(page))
    answer = signed_in.post(page, {"name": aunt.name, "seen": aunt.version})
    assert answer.status_code == 409
    assert Customer.objects.get(pk=aunt.pk).name == aunt.name


@pytest.mark.parametrize("page", PAGES)
def test_signed_out_leads_to_the_door(client, aunt, page):
    answer = client.get(page.format(pk=aunt.pk))
    assert (answer.status_code, answer.url.split("?")[0]) == (302, "/sign-in/")


@pytest.mark.parametrize("page", PAGES)
def test_a_helper_is_turned_away(client, bo, aunt, page):
    client.force_login(bo)
    answer = client.get(page.format(pk=aunt.pk))
    assert answer.status_code == 403
    assert "555 0131" not in words(answer)


def test_a_helper_fetches_nothing(client, bo, ada, order):
    made = taken.ask_for_shop(by=ada)
    errands.run_due()
    assert client.get(f"/taken/{made.pk}.zip").status_code == 302
    client.force_login(bo)
    assert client.get(f"/taken/{made.pk}.zip").status_code == 403


def test_looking_changes_nothing(signed_in, aunt):
    assert signed_in.get(f"/customers/{aunt.pk}/file/").status_code == 405
    before = (Event.objects.count(), Errand.objects.count())
    for page in PAGES:
        assert signed_in.get(page.format(pk=aunt.pk)).status_code == 200
    assert (Event.objects.count(), Errand.objects.count()) == before


@pytest.mark.parametrize("page", ["/customers/{pk}/", "/customers/{pk}/file/", "/customers/{pk}/forgetting/"])
def test_nobody_is_found_under_another_number(signed_in, aunt, page):
    assert signed_in.post(page.format(pk=99_999)).status_code == 404

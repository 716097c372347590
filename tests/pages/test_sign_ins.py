"""Where somebody is signed in: each device is seen, ends by a tap, by itself, and with its person."""

from __future__ import annotations

import re
from datetime import timedelta
from math import log2

import pytest
from django.contrib.sessions.backends.base import VALID_KEY_CHARS
from django.test import Client
from django.utils import timezone

from orders.background import errands
from orders.door import device_of
from orders.models import Event, SignIn
from tests.cast import PASSWORD

pytestmark = pytest.mark.django_db
TABLET = "Mozilla/5.0 (Linux; Android 14) AppleWebKit/537.36 Chrome/140.0 Safari/537.36"
PHONE = "Mozilla/5.0 (iPhone; CPU iPhone OS 18_0 like Mac OS X) Version/18.0 Mobile Safari/604.1"


def signed_in(name, agent=PHONE):
    client = Client(headers={"User-Agent": agent})
    assert client.post("/sign-in/", {"name": name, "password": PASSWORD}).status_code == 302
    return client


@pytest.fixture
def her_phone(shop, ada):
    return signed_in("Ada")


@pytest.fixture
def bench_tablet(shop, bo):
    return signed_in("Bo", TABLET)


def is_in(client):
    return client.get("/signed-in/").status_code == 200


def later(row, **gone):
    """Let time pass for a sign-in: as if all of it had been so much earlier."""
    by = timedelta(**gone)
    row.refresh_from_db()
    was = {name: getattr(row, name) - by for name in ("seen_at", "began_at", "expire_date")}
    SignIn.objects.filter(pk=row.pk).update(**was)


def test_each_device_says_in_words_what_it_is_and_when_it_was_seen(her_phone, bench_tablet):
    page = her_phone.get("/signed-in/").content.decode()
    assert "Safari on an iPhone" in page
    assert "this one" in page
    assert "Bo: Chrome on an Android tablet" in page
    assert page.count("Last seen today") == 2


def test_no_page_holds_the_key_of_a_session(her_phone, bench_tablet):
    page = her_phone.get("/signed-in/").content.decode()
    assert [row.session_key for row in SignIn.objects.all() if row.session_key in page] == []


def test_a_helper_sees_only_devices_of_their_own(her_phone, bench_tablet):
    page = bench_tablet.get("/signed-in/").content.decode()
    assert "Chrome on an Android tablet" in page
    assert "iPhone" not in page


def test_signing_out_there_ends_that_one_and_leaves_the_others(her_phone, ada):
    old = signed_in("Ada", TABLET)
    row = SignIn.objects.get(device="Chrome on an Android tablet")
    answer = her_phone.post(f"/signed-in/{row.mark}/ending/", follow=True)
    assert "Chrome on an Android tablet is signed out." in answer.content.decode()
    assert not is_in(old)
    assert is_in(her_phone)
    assert Event.objects.filter(what="signed out there", by=ada).count() == 1
    assert her_phone.post(f"/signed-in/{row.mark}/ending/").status_code == 302
    assert Event.objects.filter(what="signed out there").count() == 1


def test_the_owner_ends_a_helpers_device_and_a_helper_never_hers(her_phone, bench_tablet, ada, bo):
    hers, theirs = SignIn.objects.of(ada).get(), SignIn.objects.of(bo).get()
    bench_tablet.post(f"/signed-in/{hers.mark}/ending/")
    assert is_in(her_phone)
    her_phone.post(f"/signed-in/{theirs.mark}/ending/")
    assert not is_in(bench_tablet)


def test_ending_this_very_device_leads_to_the_door(her_phone, ada):
    answer = her_phone.post(f"/signed-in/{SignIn.objects.of(ada).get().mark}/ending/")
    assert answer.url == "/sign-in/"
    assert not is_in(her_phone)


def test_signing_out_everywhere_ends_all_of_hers_and_nobody_elses(her_phone, bench_tablet, ada):
    other = signed_in("Ada", TABLET)
    her_phone.post("/signed-in/everywhere/ending/")
    assert not is_in(her_phone)
    assert not is_in(other)
    assert is_in(bench_tablet)


def test_signing_out_leaves_nothing_to_come_back_with(her_phone):
    key = her_phone.cookies["session"].value
    her_phone.post("/sign-out/")
    her_phone.cookies["session"] = key
    assert not is_in(her_phone)


@pytest.mark.parametrize(("gone", "still"), [({"days": 6, "hours": 23}, True), ({"days": 7}, False)])
def test_a_device_of_hers_that_nobody_uses_asks_again_after_a_week(her_phone, ada, gone, still):
    later(SignIn.objects.of(ada).get(), **gone)
    assert is_in(her_phone) is still


def test_using_it_puts_the_week_off_but_never_past_thirty_days(her_phone, ada):
    row = SignIn.objects.of(ada).get()
    for _ in range(5):
        later(row, days=6)
        assert is_in(her_phone) is (
            timezone.now() - SignIn.objects.get(pk=row.pk).began_at < timedelta(days=30)
        )
    assert not is_in(her_phone)


def test_the_bench_tablet_stays_signed_in_for_as_long_as_the_shop_has_set(her_phone, bench_tablet, bo):
    row = SignIn.objects.of(bo).get()
    later(row, days=59)
    assert is_in(bench_tablet)
    her_phone.post("/workroom/signing-in/", {"owner": "2", "helper": "90"})
    later(row, days=89)
    assert is_in(bench_tablet)
    later(row, days=90)
    assert not is_in(bench_tablet)


def test_a_shorter_time_counts_at_once(her_phone, bench_tablet, bo):
    later(SignIn.objects.of(bo).get(), days=20)
    her_phone.post("/workroom/signing-in/", {"owner": "7", "helper": "10"})
    assert not is_in(bench_tablet)


@pytest.mark.parametrize("days", ["", "0", "31", "-1", "a week"])
def test_days_that_make_no_sense_come_back_with_what_fits(her_phone, shop, days):
    answer = her_phone.post("/workroom/signing-in/", {"owner": days, "helper": "60"})
    assert answer.status_code == 422
    shop.refresh_from_db()
    assert shop.owner_stays_days == 7


def test_who_leaves_the_shop_is_signed_out_and_stays_so_when_let_in_again(her_phone, bench_tablet, bo):
    her_phone.post(f"/workroom/people/{bo.pk}/leave/")
    her_phone.post(f"/workroom/people/{bo.pk}/comeback/")
    assert not is_in(bench_tablet)
    assert is_in(signed_in("Bo"))


def test_reading_pages_writes_when_it_was_seen_at_most_every_ten_minutes(her_phone, ada, settings):
    seen = SignIn.objects.of(ada).get().seen_at
    her_phone.get("/signed-in/")
    assert SignIn.objects.of(ada).get().seen_at == seen
    later(SignIn.objects.of(ada).get(), minutes=11)
    her_phone.get("/signed-in/")
    assert timezone.now() - SignIn.objects.of(ada).get().seen_at < timedelta(minutes=1)


def test_a_new_password_needs_the_old_one_and_ends_every_other_device(her_phone, ada):
    other = signed_in("Ada", TABLET)
    sent = {"password": "not hers at all", "new": "seven quilts of batting"}
    refused = her_phone.post("/signed-in/password/", sent)
    assert refused.status_code == 422
    assert "not your password" in refused.content.decode()
    assert is_in(other)
    her_phone.post("/signed-in/password/", sent | {"password": PASSWORD})
    assert is_in(her_phone)
    assert not is_in(other)
    ada.refresh_from_db()
    assert ada.check_password("seven quilts of batting")


@pytest.mark.parametrize("weak", ["", "short", "1234567890", "password123", "Ada"])
def test_a_weak_new_password_is_refused_beside_its_field(her_phone, ada, weak):
    answer = her_phone.post("/signed-in/password/", {"password": PASSWORD, "new": weak})
    assert answer.status_code == 422
    ada.refresh_from_db()
    assert ada.check_password(PASSWORD)


def test_guessing_the_old_password_is_throttled_like_the_door(her_phone):
    for _ in range(10):
        her_phone.post("/signed-in/password/", {"password": "a guess", "new": "seven quilts of batting"})
    answer = her_phone.post("/signed-in/password/", {"password": PASSWORD, "new": "seven quilts of batting"})
    assert "Wait 15 minutes" in answer.content.decode()


def test_sign_ins_whose_time_is_over_are_swept(her_phone, bench_tablet, ada, bo):
    later(SignIn.objects.of(ada).get(), days=8)
    errands.send("sign-ins that are over", key="now")
    errands.run_due()
    assert [row.person for row in SignIn.objects.all()] == [bo]


@pytest.mark.parametrize(
    ("agent", "words"),
    [
        ("Mozilla/5.0 (Windows NT 10.0; Win64; x64; rv:140.0) Gecko/20100101 Firefox/140.0",
         "Firefox on a Windows computer"),
        ("(Macintosh; Intel Mac OS X 10_15_7) Version/18.0 Safari/605.1.15", "Safari on a Mac or iPad"),
        ("Mozilla/5.0 (Windows NT 10.0) AppleWebKit/537.36 Chrome/140.0 Safari/537.36 Edg/140.0",
         "Edge on a Windows computer"),
        ("curl/8.0", "A device that does not say what it is"),
        ("", "A device that does not say what it is"),
        ("<script>" * 500, "A device that does not say what it is"),
    ],
)  # fmt: skip
def test_a_device_is_told_in_words(agent, words):
    assert device_of(agent) == words


def test_signing_out_clears_what_the_browser_kept(her_phone):
    assert her_phone.post("/sign-out/")["Clear-Site-Data"] == '"cache"'


def test_a_key_has_more_than_128_bits(her_phone, bench_tablet):
    keys = [row.session_key for row in SignIn.objects.all()]
    assert all(len(key) == 32 and len(set(key)) > 8 for key in keys)
    assert 32 * log2(len(VALID_KEY_CHARS)) > 128
    assert len(set(keys)) == 2


@pytest.mark.parametrize(
    "said", ["käse und brot 🧵", "        spaces", "all lower case words", "ALL UPPER CASE", "80271946350482"]
)
def test_any_characters_make_a_password_and_each_counts(her_phone, said):
    her_phone.post("/signed-in/password/", {"password": PASSWORD, "new": said})
    for wrong in {said.swapcase(), said[:-1], said.strip() + "."} - {said}:
        assert Client().post("/sign-in/", {"name": "Ada", "password": wrong}).status_code == 422
    assert Client().post("/sign-in/", {"name": "Ada", "password": said}).status_code == 302


def test_a_password_manager_is_told_whose_password_is_changed(her_phone):
    page = her_phone.get("/signed-in/password/").content.decode()
    assert re.search(r'<input[^>]*value="Ada" autocomplete="username" hidden>', page)


def test_a_password_is_hidden_and_may_be_pasted_and_filled_in(her_phone):
    for page in (
        Client().get("/sign-in/"),
        her_phone.get("/signed-in/password/"),
        her_phone.get("/workroom/helper/"),
    ):
        fields = re.findall(r"<input[^>]*password[^>]*>", page.content.decode())
        assert fields
        for field in fields:
            assert 'type="password"' in field
            assert re.search(r'autocomplete="(current|new)-password"', field)
            assert "onpaste" not in field

"""The door."""

from datetime import timedelta

import pytest
from django.utils import timezone

from orders.models import Person, SignInFailure

pytestmark = pytest.mark.django_db


def sign_in(client, name, password, to="/sign-in/"):
    return client.post(to, {"name": name, "password": password})


def test_the_right_password_opens_the_first_page(client, ada, password):
    answer = sign_in(client, "Ada", password)
    assert (answer.status_code, answer.url) == (302, "/")
    assert client.get("/").url == "/set-up/"


def test_capitals_and_stray_blanks_in_the_name_do_not_count(client, ada, password):
    assert sign_in(client, " aDA ", password).status_code == 302


def test_a_wrong_password_keeps_the_name_and_says_what_to_do_beside_the_field(client, ada):
    answer = sign_in(client, "Ada", "not this one")
    page = answer.content.decode()
    assert answer.status_code == 422
    assert 'value="Ada"' in page
    assert 'aria-describedby="password-fault"' in page
    assert "type the password again" in page
    assert "not this one" not in page
    assert "_auth_user_id" not in client.session


def test_an_unknown_name_gets_the_same_answer_as_a_wrong_password(client, ada):
    known, unknown = (sign_in(client, name, "not this one") for name in ("Ada", "Eve"))
    assert (known.status_code, known.context["form"].errors) == (
        unknown.status_code,
        unknown.context["form"].errors,
    )


@pytest.mark.parametrize(
    ("name", "password", "fault"), [("", "x", "Type your name."), ("Ada", "", "Type your password.")]
)
def test_an_empty_field_is_named(client, ada, name, password, fault):
    answer = sign_in(client, name, password)
    assert answer.status_code == 422
    assert fault in answer.content.decode()


def test_who_has_left_the_shop_stays_out(client, ada, bo, password):
    sign_in(client, "Bo", password)
    Person.objects.filter(name="Bo").update(is_active=False)
    assert client.get("/").status_code == 302
    assert sign_in(client, "Bo", password).status_code == 422


def test_the_page_that_was_asked_for_comes_after_the_door(client, ada, password):
    assert client.get("/").url == "/sign-in/?next=/"
    assert sign_in(client, "Ada", password, to="/sign-in/?next=/healthz").url == "/healthz"


@pytest.mark.parametrize(
    "elsewhere", ["https://a.example/", "//a.example", "/\\a.example", "javascript:alert(1)", "a-word", ""]
)
def test_the_door_never_leads_to_another_site(client, ada, password, elsewhere):
    assert sign_in(client, "Ada", password, to=f"/sign-in/?next={elsewhere}").url == "/"


def test_the_session_gets_a_new_key_at_the_door(client, ada, password):
    before = client.session.session_key
    sign_in(client, "Ada", password)
    assert client.session.session_key != before


def test_an_empty_shop_leads_to_its_first_owner(client):
    assert client.get("/sign-in/").url == "/set-up/owner/"
    assert sign_in(client, "Ada", "anything at all").url == "/set-up/owner/"


def test_who_is_signed_in_is_not_asked_again(client, ada):
    client.force_login(ada)
    assert client.get("/sign-in/").url == "/"


def test_after_ten_wrong_tries_even_the_right_password_has_to_wait(client, ada, password):
    for _ in range(10):
        assert "Too many" not in sign_in(client, "Ada", "not this one").content.decode()
    answer = sign_in(client, "ADA", password)
    assert answer.status_code == 422
    assert "Wait 15 minutes" in answer.content.decode()


def test_wrong_tries_for_one_name_do_not_shut_out_another(client, ada, bo, password):
    for _ in range(10):
        sign_in(client, "Ada", "not this one")
    assert sign_in(client, "Bo", password).status_code == 302


def test_the_wait_is_over_after_a_quarter_of_an_hour_and_old_tries_are_swept(client, ada, password):
    for _ in range(10):
        sign_in(client, "Ada", "not this one")
    SignInFailure.objects.update(at=timezone.now() - timedelta(minutes=15))
    assert sign_in(client, "Bo", "nobody yet").status_code == 422
    assert SignInFailure.objects.count() == 1
    assert sign_in(client, "Ada", password).status_code == 302


def test_coming_in_forgets_the_wrong_tries_before(client, ada, password):
    for _ in range(9):
        sign_in(client, "Ada", "not this one")
    sign_in(client, "Ada", password)
    assert not SignInFailure.objects.exists()


def test_a_new_password_ends_older_sign_ins(client, ada, password):
    sign_in(client, "Ada", password)
    ada.set_password("another one entirely")
    ada.save()
    assert client.get("/").status_code == 302

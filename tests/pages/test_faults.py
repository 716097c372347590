"""Pages that went wrong say what happened and what to do next."""

import pytest
from django.core.exceptions import PermissionDenied
from django.test import Client
from django.urls import path

from orders.views.callers import OWNER, open_to

pytestmark = pytest.mark.django_db


def failing(request):
    raise ZeroDivisionError


def forbidden(request):
    raise PermissionDenied


@open_to(OWNER)
def owners_page(request):
    raise AssertionError("a helper got in")


urlpatterns = [path("failing", failing), path("forbidden", forbidden), path("owners", owners_page)]


def words(answer):
    return answer.content.decode()


def test_a_page_that_is_not_here_leads_back(client):
    answer = client.get("/no-such-page")
    assert answer.status_code == 404
    assert "This page is not here" in words(answer)
    assert 'href="/"' in words(answer)


@pytest.mark.urls(__name__)
def test_a_fault_of_ours_says_to_look_whether_it_was_kept(client):
    client.raise_request_exception = False
    answer = client.get("/failing")
    assert answer.status_code == 500
    assert "may not have been kept" in words(answer)
    assert "ZeroDivisionError" not in words(answer)


@pytest.mark.urls(__name__)
@pytest.mark.parametrize("address", ["/forbidden", "/owners"])
def test_a_page_for_the_owner_sends_a_helper_back_in_words(client, bo, address):
    client.force_login(bo)
    answer = client.get(address)
    assert answer.status_code == 403
    assert "This page is for the owner" in words(answer)


def test_a_form_from_elsewhere_changes_nothing(ada, password):
    strict = Client(enforce_csrf_checks=True)
    answer = strict.post("/sign-in/", {"name": "Ada", "password": password})
    assert answer.status_code == 403
    assert "Nothing was changed" in words(answer)
    assert strict.get("/").status_code == 302


def test_a_host_that_is_not_ours_is_refused_in_words(client):
    answer = client.get("/sign-in/", headers={"host": "elsewhere.example"})
    assert answer.status_code == 400
    assert "ADDRESS" in words(answer)

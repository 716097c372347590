"""On PostgreSQL and Redis only those tests run again that meet records."""

import pytest

from tests.conftest import is_the_same_on_a_server


def test_a_test_without_records_is_the_same_everywhere(request):
    assert is_the_same_on_a_server(request.node)


@pytest.mark.django_db
def test_one_with_records_is_not(request):
    assert not is_the_same_on_a_server(request.node)


def test_one_whose_people_are_records_is_not(request, shop):
    assert not is_the_same_on_a_server(request.node)

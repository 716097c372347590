"""Who works in the shop."""

import pytest
from django.db import IntegrityError

from orders.models import Person

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("same", ["ada", "ADA", "  Ada ", "ａda"])
def test_two_people_cannot_share_a_name_however_it_is_typed(ada, same):
    with pytest.raises(IntegrityError):
        Person.objects.create_person(same, role="helper", password="a good long one")


def test_an_accent_counts_and_its_capital_does_not(db):
    Person.objects.create_person("Élise", role="owner", password="a good long one")
    assert Person.objects.named("élise") is not None
    assert Person.objects.named("Elise") is None


@pytest.mark.parametrize(("name", "role"), [("", "owner"), ("   ", "owner"), ("Cy", "boss"), ("Cy", "")])
def test_a_person_without_a_name_or_a_role_cannot_be_kept(db, name, role):
    with pytest.raises(IntegrityError):
        Person.objects.create_person(name, role=role, password="a good long one")


def test_a_password_is_never_kept_as_it_was_typed(ada, password):
    assert password not in Person.objects.get().password

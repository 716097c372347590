"""Who works in the shop, and who tried to come in."""

from __future__ import annotations

import unicodedata
from datetime import datetime, timedelta
from typing import Any

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models
from django.utils import timezone


def fold_name(name: str) -> str:
    """Return the name as it is compared: capitals, stray blanks and how an accent is typed do not count."""
    return " ".join(unicodedata.normalize("NFKC", name).casefold().split())


class PersonManager(BaseUserManager["Person"]):
    def create_person(self, name: str, *, role: str, password: str) -> Person:
        person = self.model(name=" ".join(name.split()), role=role)
        person.set_password(password)
        person.save(using=self._db)
        return person

    def get_by_natural_key(self, name: str | None) -> Person:
        return self.get(name_key=fold_name(name or ""))

    def named(self, name: str) -> Person | None:
        return self.filter(name_key=fold_name(name)).first()


class Person(AbstractBaseUser):
    """The owner sees everything; a helper sees work, pictures and limits, never money or contacts."""

    class Role(models.TextChoices):
        OWNER = "owner"
        HELPER = "helper"

    name = models.CharField(max_length=80)
    name_key = models.CharField(max_length=160, unique=True, editable=False)
    role = models.CharField(max_length=10, choices=Role.choices)
    is_active = models.BooleanField(default=True)
    joined = models.DateTimeField(default=timezone.now)

    objects = PersonManager()

    USERNAME_FIELD = "name_key"

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=models.Q(role__in=["owner", "helper"]), name="person_role_known"
            ),
            models.CheckConstraint(condition=~models.Q(name_key=""), name="person_has_a_name"),
        ]

    def __str__(self) -> str:
        return self.name

    def save(self, *args: Any, **kwargs: Any) -> None:
        self.name_key = fold_name(self.name)
        super().save(*args, **kwargs)


class SignInFailureQuerySet(models.QuerySet["SignInFailure"]):
    def of(self, name: str) -> SignInFailureQuerySet:
        return self.filter(name_key=fold_name(name))

    def since(self, moment: datetime) -> SignInFailureQuerySet:
        return self.filter(at__gt=moment)

    def note(self, name: str, *, came_from: str, now: datetime) -> SignInFailure:
        """Write a try down before it is looked at, so that a hundred sent at once are counted too."""
        self.filter(at__lte=now - SignInFailure.WINDOW).delete()
        return self.create(name_key=fold_name(name), came_from=came_from, at=now)

    def for_this_name(self, one: SignInFailure, *, known: bool) -> int:
        """Count the tries for a name; who is known from there is only counted there.

        So a stranger who types wrong passwords on purpose does not shut the owner out of her own shop.
        """
        tries = self.since(one.at - SignInFailure.WINDOW).filter(name_key=one.name_key)
        return tries.filter(came_from=one.came_from).count() if known else tries.count()

    def from_there(self, one: SignInFailure) -> int:
        """Count the tries from one address, whatever the names."""
        return self.since(one.at - SignInFailure.WINDOW).filter(came_from=one.came_from).count()


class SignInFailure(models.Model):
    """One wrong password; kept by name whether or not somebody has that name, so the answer tells nothing."""

    MOST = 10  # for one name
    MOST_FROM_ONE_PLACE = 30  # for any names
    WINDOW = timedelta(minutes=15)

    name_key = models.CharField(max_length=160, db_index=True)
    came_from = models.CharField(max_length=45, db_index=True, default="", blank=True)
    at = models.DateTimeField()

    objects = SignInFailureQuerySet.as_manager()

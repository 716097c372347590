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

    def too_many_for(self, name: str, *, now: datetime) -> bool:
        """Say whether this name must wait, so that nobody can guess on through a list of passwords."""
        recent = self.of(name).filter(at__gt=now - SignInFailure.WINDOW)
        return recent.count() >= SignInFailure.MOST

    def note(self, name: str, *, now: datetime) -> None:
        self.filter(at__lte=now - SignInFailure.WINDOW).delete()
        self.create(name_key=fold_name(name), at=now)


class SignInFailure(models.Model):
    """One wrong password; kept by name whether or not somebody has that name, so the answer tells nothing."""

    MOST = 10
    WINDOW = timedelta(minutes=15)

    name_key = models.CharField(max_length=160, db_index=True)
    at = models.DateTimeField()

    objects = SignInFailureQuerySet.as_manager()

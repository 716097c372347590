"""The sessions of the site: kept in the shop's own table, where each says whose it is and what it is on."""

from __future__ import annotations

from contextlib import suppress
from datetime import timedelta
from typing import Any

from django.contrib.auth import SESSION_KEY
from django.contrib.sessions.backends import db
from django.db import DatabaseError
from django.utils import timezone
from django.utils.dateparse import parse_datetime

SEEN_EVERY = timedelta(minutes=10)  # "last seen" need not be truer, and reading is then no writing
FACTS = "signed in"


class SessionStore(db.SessionStore):
    """Reads a session with the one query that it always took; limits of time are in its row."""

    @classmethod
    def get_model_class(cls) -> Any:
        from orders.models import SignIn

        return SignIn

    def _get_session_from_db(self) -> Any:
        found = super()._get_session_from_db()  # type: ignore[misc]  # those whose time is over are none
        if found is not None and found.person_id and timezone.now() - found.seen_at > SEEN_EVERY:
            self._see(found)
        return found

    def _see(self, found: Any) -> None:
        """Write that it was used; where the disk is full, pages can still be read."""
        found.hold(now=timezone.now())
        with suppress(DatabaseError):
            kept = {"seen_at": found.seen_at, "expire_date": found.expire_date}
            self.model.objects.filter(pk=found.pk).update(**kept)

    def create_model_instance(self, data: dict[str, Any]) -> Any:
        from orders.models import Person

        facts, now = data.get(FACTS, {}), timezone.now()
        key = self._get_or_create_session_key()  # type: ignore[attr-defined]
        row = self.get_model_class()(session_key=key, session_data=self.encode(data))
        row.person = Person.objects.filter(pk=data[SESSION_KEY]).first() if SESSION_KEY in data else None
        row.device, row.came_from = facts.get("device", ""), facts.get("came from", "")
        row.began_at = parse_datetime(facts.get("at", "")) or now
        row.hold(now=now)
        return row

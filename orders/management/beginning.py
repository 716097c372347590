"""How a command begins, and what it says when settings or database do not let it."""

from __future__ import annotations

import sys

from django.core.exceptions import ImproperlyConfigured
from django.core.management import execute_from_command_line
from django.db import OperationalError, connection

from orders.connections import said_in_one_line

UNFOLDED = "--traceback"  # Django's own word for all of it, for whoever works on the program


def run(words: list[str]) -> None:
    """Run a command; what stops it before it has begun is said in a sentence."""
    try:
        execute_from_command_line(words)
    except ImproperlyConfigured as fault:
        if UNFOLDED in words:
            raise
        sys.exit(str(fault))
    except OperationalError as fault:
        if UNFOLDED in words or connection.connection is not None:
            raise
        why = said_in_one_line(fault)
        sys.exit(f"The records cannot be opened: {why}. Look at DATABASE_URL and at its server.")

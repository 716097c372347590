"""Wake the workers of a site on a server, send what is done daily, pick up what was left behind."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand

from orders.background.carried import tick_until
from orders.management.closing import closing_by_signal, refuse_without_carrier


class Command(BaseCommand):
    help = "Wake the workers every few seconds, and do the errands itself while no worker does."

    def handle(self, *args: Any, **options: Any) -> None:
        refuse_without_carrier()
        tick_until(closing_by_signal())

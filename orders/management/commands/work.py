"""Keep a worker that does the errands of a site on a server."""

from __future__ import annotations

import sys
from typing import Any

from django.core.management.base import BaseCommand

from orders.background.watch import Watch
from orders.management.closing import closing_by_signal, refuse_without_carrier

WORKER = [sys.executable, "-m", "celery", "--app=config.celery", "--quiet", "worker", "--loglevel=WARNING"]
WORKER += ["--without-gossip", "--without-mingle", "--without-heartbeat"]


class Command(BaseCommand):
    help = "Do the errands that are carried by the Redis of REDIS_URL; a stuck worker is started anew."

    def handle(self, *args: Any, **options: Any) -> None:
        refuse_without_carrier()
        Watch(WORKER).keep_until(closing_by_signal())

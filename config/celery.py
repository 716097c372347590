"""Celery, the carrier of errands: it only brings word that there is work; the records say what work.

Nothing else knows of it but the commands that start it. A word that is lost is brought again by the tick.
"""

import os
import threading
from typing import Any

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings")

from celery import Celery, signals
from django.conf import settings

app = Celery("batting-order", broker=settings.REDIS_URL, set_as_current=False)
app.conf.update(
    task_acks_late=True,
    task_ignore_result=True,
    worker_pool="solo",
    worker_prefetch_multiplier=1,
    worker_enable_remote_control=False,
    worker_hijack_root_logger=False,
    broker_connection_retry_on_startup=True,
    broker_connection_max_retries=None,
    broker_transport_options={"socket_connect_timeout": 2, "socket_timeout": 5},
)
closing = threading.Event()


@signals.worker_shutting_down.connect
def close(**kwargs: Any) -> None:
    closing.set()


@app.task
def wake_up() -> None:
    """Take one errand after the other until none is due."""
    from orders.background import carried

    carried.work_off(closing)


def bring_word() -> None:
    """Wake a worker. Words not yet fetched are dropped for this one, so that they never pile up."""
    with app.connection_for_write() as connection:
        connection.default_channel.queue_purge(app.conf.task_default_queue)
        wake_up.apply_async(connection=connection, retry=False)

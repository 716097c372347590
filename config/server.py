"""What the web server does beside answering: it runs the errands, or brings word of them to a worker."""

from typing import Any


def post_worker_init(worker: Any) -> None:
    from django.conf import settings

    from orders.background import carried, runner

    runner.start(carried.Messenger() if settings.REDIS_URL else runner.Runner())


def worker_exit(server: Any, worker: Any) -> None:
    from orders.background import runner

    runner.close()

"""What the web server does beside answering: its one process also runs the errands."""

from typing import Any


def post_worker_init(worker: Any) -> None:
    from orders.background import runner

    runner.start()


def worker_exit(server: Any, worker: Any) -> None:
    from orders.background import runner

    runner.close()

"""What the web server does beside answering: it runs the errands, or brings word of them to a worker."""

import gc
from typing import Any

SELDOM = (50_000, 20, 50)  # objects made between two looks for rubbish; a page makes some ten thousand


def post_worker_init(worker: Any) -> None:
    gc.collect()
    gc.freeze()  # the program itself is no rubbish, and going through it takes longer than most pages
    gc.set_threshold(*SELDOM)
    from django.conf import settings

    from orders.background import carried, runner

    runner.start(carried.Messenger() if settings.REDIS_URL else runner.Runner())


def worker_exit(server: Any, worker: Any) -> None:
    from orders.background import runner

    runner.close()

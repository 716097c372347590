"""A process that sends errands as the site does, and says which it was told are kept.

One whose commit was not confirmed is sent again under the same key, as a form is that was sent twice.
"""

import itertools
import sys
import time

import django

EVERY = 0.2  # seconds
MOST = 2  # that wait for a worker, so that there is always work, and an end to it
KIND = "press a piece"


def main() -> None:
    django.setup()
    from django.db import Error, connections, transaction
    from django.utils import timezone

    from orders.background import carried, errands, runner
    from orders.models import Errand

    runner.start(carried.Messenger())
    for number in itertools.count(1):
        while True:
            try:
                while Errand.objects.due(timezone.now()).filter(kind=KIND).count() >= MOST:
                    time.sleep(EVERY)
                with transaction.atomic():
                    errands.send(KIND, key=f"{number} of {sys.argv[1]}")
                break
            except Error:
                connections.close_all()
                time.sleep(0.2)
        print(number, flush=True)
        time.sleep(EVERY)


if __name__ == "__main__":
    main()

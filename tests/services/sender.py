"""A process that sends errands as the site does, and says which it was told are kept.

One whose commit was not confirmed is sent again under the same key, as a form is that was sent twice.
"""

import itertools
import time

import django

EVERY = 1.2  # seconds


def main() -> None:
    django.setup()
    from django.db import Error, connections, transaction

    from orders.background import carried, errands, runner

    runner.start(carried.Messenger())
    for number in itertools.count(1):
        while True:
            try:
                with transaction.atomic():
                    errands.send("press a piece", key=f"{number} of a fault")
                break
            except Error:
                connections.close_all()
                time.sleep(0.2)
        print(number, flush=True)
        time.sleep(EVERY)


if __name__ == "__main__":
    main()

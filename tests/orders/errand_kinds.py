"""Kinds of errands that only tests send; child processes load them by this name."""

import os
import signal
import time
from pathlib import Path

from django.db import transaction

from orders.background.errands import errand
from orders.models import Event


@errand("press", seconds=20, megabytes=300)
def press(errand):
    with transaction.atomic():
        Event.objects.note("pressed", by=None)
        errand.finish("Pressed.")
    return "Pressed."


@errand("press, killed in the middle once", seconds=20, megabytes=300)
def press_killed_once(errand):
    with transaction.atomic():
        Event.objects.note("pressed", by=None)
        if errand.attempts == 1:
            os.kill(os.getpid(), signal.SIGKILL)
        errand.finish("Pressed.")
    return "Pressed."


@errand("nap", seconds=60, megabytes=300)
def nap(errand):
    Path(errand.payload["note"]).write_text(str(os.getpid()))
    time.sleep(60)
    return "Slept."


@errand("nap too long", seconds=1, megabytes=300)
def nap_too_long(errand):
    time.sleep(60)
    return "Slept."


@errand("take all the room", seconds=20, megabytes=200)
def take_all_the_room(errand):
    return f"Took {len(bytearray(400 * 1024 * 1024))}."

"""A small errand whose effect carries the number of the errand, so that one done twice would show."""

import time

from django.db import transaction

from orders.background.errands import errand
from orders.models import Event


@errand("press a piece", seconds=5, megabytes=300)
def press_a_piece(errand):
    began = int(time.time() * 1000)
    time.sleep(0.1)
    with transaction.atomic():
        Event.objects.note("pressed", by=None, errand=errand.pk, began=began)
        errand.finish("Pressed.")
    return "Pressed."

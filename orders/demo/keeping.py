"""The demo’s care of things: where shirts are, one that was not right, and a press beside the iron."""

from __future__ import annotations

import io
from typing import Any

from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image, ImageDraw, ImageFilter

from orders.background import errands, photos
from orders.bag import incidents, leftovers, places
from orders.demo.clock import days_ago
from orders.demo.making import Maker
from orders.models import HeatTool, Incident, Order, Person, Piece, Shirt
from planner.units import INCH

PRESS = {"kind": "press", "unit": "F", "hotter": 5, "least": 150, "most": 430, "step": 5}


def keep(maker: Maker) -> None:
    """Put shirts in their places, melt one print, and count the leftovers of the finished quilt."""
    helper = Person.objects.get(role=Person.Role.HELPER)
    HeatTool.objects.create(name="heat press", **PRESS)
    shirts_in_their_places(maker, helper)
    a_print_that_melted(maker, helper)
    leftovers_counted(maker, helper)


def shirts_in_their_places(maker: Maker, helper: Person) -> None:
    aunt = list(_shirts("The aunt’s surprise"))
    with days_ago(13):
        places.put(aunt, "shelf", by=helper, words="bin 3")
    with days_ago(11):
        places.put(aunt[:9], "washer", by=helper)
    with days_ago(10):
        places.put(aunt[:9], "airing", by=helper)
    with days_ago(2):
        places.put(aunt, "table", by=maker.owner)
    with days_ago(4):
        places.put(_shirts("The running club’s jubilee"), "frame", by=maker.owner)
        places.put(_shirts("His father’s shirts"), "shelf", by=maker.owner, words="the closed shelf")
    sister = list(_shirts("A sister’s fortieth"))
    with days_ago(5):
        places.put(sister, "shelf", by=helper, words="bin 9")
    with days_ago(1):
        places.put(sister[1:3], "cleaner", by=maker.owner, words="Tollgate Cleaners")


def a_print_that_melted(maker: Maker, helper: Person) -> None:
    order = Order.objects.get(title="From her grandpa")
    block = order.blocks.filter(progress="fused").select_related("piece__shirt").order_by("cell")[0]
    shown = {"tool": "iron", "words": "Turn to just short of two dots", "heat": 300, "seconds": 12,
             "cover": "non-stick sheet"}  # fmt: skip
    with days_ago(2, hour=14):
        made = incidents.report(order, incidents.Report("melted", "fuse", block, (block,), shown), by=helper)
        incidents.add(
            made, by=helper, words="The ink ran at one corner, about as large as a coin.",
            turned_to="three dots",
        )  # fmt: skip
    errands.send("demo mishap", key=str(made.pk), payload={"incident": made.pk}, cause="demo")


def leftovers_counted(maker: Maker, helper: Person) -> None:
    order = Order.objects.get(title="The bus crew’s send-off")
    with days_ago(1):
        backs_measured(order, 1, 3, 6)
        here = [shirt.pk for shirt in leftovers.due(order)]
        leftovers.count(order, here, by=helper)


def backs_measured(order: Order, *numbers: int) -> None:
    """Measure the backs that were not cut, 19 by 29 in, so that it can be told what they still give."""
    free = {"free_top": 5, "free_right": 9, "free_bottom": 20, "free_left": 9}
    for shirt in Shirt.objects.filter(bag__orders=order, number__in=numbers):
        Piece.objects.create(
            shirt=shirt, side="back", print_kind="none", print_width=INCH, print_height=4 * INCH,
            wanted="may", **{side: inches * INCH for side, inches in free.items()},
        )  # fmt: skip


def _shirts(title: str) -> Any:
    return Shirt.objects.filter(bag__orders__title=title).order_by("number")


@errands.errand("demo mishap", seconds=60, megabytes=600)
def draw_mishap(errand: Any) -> str:
    """Draw the picture that came with the incident: its panel, with a corner of its ink run."""
    incident = Incident.objects.select_related("piece__photo").get(pk=errand.payload["incident"])
    if incident.piece is None or incident.piece.photo is None or incident.photos.exists():
        return "Nothing to draw."
    with Image.open(incident.piece.photo.file) as whole:
        picture = _melted(whole.convert("RGB"), incident.piece.window)
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=85)
    upload = SimpleUploadedFile("mishap.jpg", out.getvalue(), content_type="image/jpeg")
    photos.receive(upload, of=incident)
    return "Drawn."


def _melted(whole: Image.Image, window: tuple[float, float, float, float]) -> Image.Image:
    left, top, width, height = window
    wide, high = whole.size
    print_ = whole.crop(
        (int(left * wide), int(top * high), int((left + width) * wide), int((top + height) * high))
    )
    across, down = print_.size
    mark = Image.new("L", print_.size, 0)
    blot = ImageDraw.Draw(mark)
    for x, y, r in ((0.70, 0.62, 0.12), (0.78, 0.55, 0.08), (0.64, 0.70, 0.07), (0.76, 0.70, 0.06)):
        blot.ellipse([(x - r) * across, y * down - r * across, (x + r) * across, y * down + r * across], 210)
    mark = mark.filter(ImageFilter.GaussianBlur(across / 60))
    return Image.composite(Image.new("RGB", print_.size, "#6f5443"), print_, mark)

"""What a cloth looks like: described from its swatch in the background, and read back for the advice."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from django.db import transaction
from PIL import Image

from orders.background import errands
from orders.colors.looks import palette_of_color
from orders.models import Cloth, Photo
from orders.models.errand import Errand
from orders.templatetags.shop import _unbroken as unbroken
from planner.colour import FabricLook, Palette, Swatch, family
from planner.units import INCH, show_length

SEEN = 1200  # pixels of the longer side of a swatch that are looked at


def send_look(cloth: Cloth) -> Errand | None:
    """Ask for the look of a cloth, in the transaction that gave it its swatch; nothing without a photo."""
    if cloth.swatch_id is None:
        return None
    payload = {"cloth": cloth.pk, "photo": cloth.swatch_id, "shows": cloth.shows}
    key = f"{cloth.pk} {cloth.swatch_id} {cloth.shows or ''}"
    return errands.send("cloth look", key=key, payload=payload, cause=f"cloth {cloth.pk}")


@errands.errand("cloth look", seconds=60, megabytes=900)
def describe(errand: Errand) -> str:
    """Describe the swatch of a cloth; one that got another photo meanwhile has an errand of its own."""
    cloth = Cloth.objects.filter(pk=errand.payload["cloth"]).select_related("swatch").first()
    if cloth is None or cloth.swatch is None or cloth.swatch_id != errand.payload["photo"]:
        return "It shows another photo by now."
    if not cloth.swatch.file.exists():
        raise errands.CannotBeDone("The file of this photo is gone from the disk.")
    look = look_in(cloth.swatch, shows=errand.payload["shows"])
    with transaction.atomic():
        Cloth.objects.filter(pk=cloth.pk, swatch=cloth.swatch_id).update(look=as_record(look))
        errand.finish(f"{look.kind.capitalize()}.")
    return errand.outcome


def look_in(photo: Photo, *, shows: int | None) -> FabricLook:
    """Return what the cloth on a photo looks like; `shows` is how far the photo reaches across, in ticks."""
    import numpy as np

    from planner.colour import describe_fabric

    with Image.open(photo.file, formats=["JPEG"]) as image:
        image.draft("RGB", (SEEN, SEEN))
        small = image.convert("RGB")
    small.thumbnail((SEEN, SEEN))
    per_inch = small.width * INCH / shows if shows else None
    return describe_fabric(np.asarray(small), px_per_inch=per_inch)


def look_of(cloth: Cloth) -> FabricLook | None:
    """Return the look of a cloth: as its swatch shows it, else a solid of its main color, else nothing."""
    if cloth.look:
        return from_record(cloth.look)
    if not cloth.ground:
        return None
    palette = palette_of_color(cloth.ground)
    value = min(1.0, max(0.0, palette.ground.lab[0] / 100))
    return FabricLook(palette, value, 0.0, 1, "solid")


KINDS = {
    "solid": "A solid",
    "mottled": "Mottled, in shades of one color",
    "blender": "A print of few colors",
    "multi": "A print of many colors",
}


def in_words(cloth: Cloth, *, unit: str) -> str:
    """Say what is known of a cloth's colors and where it is known from; nothing before it is known."""
    if cloth.look:
        look = from_record(cloth.look)
        names = [family(each.lab).name for each in (look.palette.ground, *look.palette.prints)]
        colors = ", ".join(dict.fromkeys("gray" if name == "grey" else name for name in names))
        apart = show_length(round(look.scale * INCH), unit=unit, rounding="nearest") if look.scale else ""
        scale = f", about {unbroken(apart.removeprefix('about '))} from motif to motif" if apart else ""
        return f"{KINDS[look.kind]}: {colors}{scale}. Colors are approximate."
    return "Main color alone, until it has a photo." if cloth.ground and not cloth.swatch_id else ""


def as_record(look: FabricLook) -> dict[str, Any]:
    """Return a look as it is kept."""
    return asdict(look)


def from_record(kept: dict[str, Any]) -> FabricLook:
    """Return a look that was kept."""
    palette = kept["palette"]
    return FabricLook(
        **kept
        | {
            "palette": Palette(
                _swatch(palette["ground"]),
                tuple(_swatch(each) for each in palette["prints"]),
                palette["confidence"],
                tuple(palette["notes"]),
            )
        }
    )


def _swatch(kept: dict[str, Any]) -> Swatch:
    lightness, a, b = kept["lab"]
    return Swatch((lightness, a, b), kept["share"])

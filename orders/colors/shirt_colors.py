"""The colors of a shirt, read from its photo in the background; a tap of a person corrects what was found."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from django.db import transaction
from django.db.models import Q
from PIL import Image

from orders.background import errands
from orders.models import Event, Person, Photo, Piece, Shirt
from orders.models.errand import Errand
from planner.problems import BadInput

KIND = "shirt colors"
SEEN = 1600  # pixels of the longer side that are looked at
WHOLE = 10_000  # taps and outlines are in ten-thousandths of the picture, so that any rendition fits
NEUTRALS = {"paper": 0.85, "card": 0.18}  # reflectance of white paper (usual), and of a photographer's card
SPOT = 0.012  # radius of a tapped neutral, in longer sides of the picture
MOST_TAPS = 12


def send_colors(photo: Photo) -> Errand | None:
    """Ask for the colors of a shirt's photo, in the transaction that changed it; nothing for other photos."""
    if photo.shirt_id is None:
        return None
    payload = {"photo": photo.pk, "taps": photo.taps}
    key = f"{photo.pk} {photo.taps.get('count', 0)}"
    return errands.send(KIND, key=key, payload=payload, cause=f"photo {photo.pk}")


@errands.errand(KIND, seconds=60, megabytes=900)
def read(errand: Errand) -> str:
    """Read the colors; a photo that was tapped on meanwhile has an errand of its own."""
    photo = Photo.objects.filter(pk=errand.payload["photo"]).first()
    if photo is None:
        return "The photo was taken away before."
    if photo.taps != errand.payload["taps"]:
        return "It was tapped on since."
    if not photo.file.exists():
        raise errands.CannotBeDone("The file of this photo is gone from the disk.")
    colors = colors_in(photo)
    with transaction.atomic():
        locked = Photo.objects.select_for_update().get(pk=photo.pk)
        if locked.taps != photo.taps:
            return "It was tapped on since."
        locked.colors = colors
        locked.save(update_fields=["colors"])
        _give_to_panels(locked, colors["palette"])
        errand.finish("The shirt’s colors are read.")
    return errand.outcome


def _give_to_panels(photo: Photo, palette: dict[str, Any]) -> None:
    """Let the panels on this photo have its colors, but for a main color that a person picked."""
    color = hex_of(palette["ground"]["lab"])
    shown = Piece.objects.filter(photo=photo)
    shown.update(palette=palette)
    shown.filter(Q(ground="") | Q(ground_is_about=True)).update(ground=color, ground_is_about=True)


def hex_of(lab: tuple[float, float, float]) -> str:
    """Return a CIELAB color as #rrggbb, the nearest that a screen shows."""
    from planner.colour import lab_to_srgb

    return "#" + "".join(f"{int(channel):02x}" for channel in lab_to_srgb(tuple(lab)))


def colors_in(photo: Photo) -> dict[str, Any]:
    """Return outline and palette of the shirt on a photo, as they are kept, with the taps they rest on."""
    import numpy as np

    from planner.colour import find_shirt, read_palette

    with Image.open(photo.file, formats=["JPEG"]) as image:
        image.draft("RGB", (SEEN, SEEN))
        small = image.convert("RGB")
    small.thumbnail((SEEN, SEEN))
    pixels = np.asarray(small)
    taps = {name: [_spot(at, small.size) for at in photo.taps.get(name, [])] for name in ("shirt", "other")}
    outline = find_shirt(pixels, **taps)
    notes: tuple[str, ...] = ()
    try:
        palette = read_palette(pixels, outline=outline, neutral=_neutral(photo, small.size))
    except BadInput as fault:
        if fault.field != "neutral":
            raise
        notes = (f"The white or gray that was tapped {fault.message}",)
        palette = read_palette(pixels, outline=outline)
    return {
        "taps": photo.taps,
        "polygon": [[_share(x, small.width), _share(y, small.height)] for x, y in outline.polygon],
        "outline": round(outline.confidence, 3),
        "palette": asdict(palette) | {"notes": [*notes, *palette.notes]},
    }


def _spot(at: list[int], size: tuple[int, int]) -> tuple[float, float]:
    return (at[0] + 0.5) * size[0] / WHOLE, (at[1] + 0.5) * size[1] / WHOLE


def _share(pixel: float, side: int) -> int:
    return min(WHOLE, max(0, round(pixel * WHOLE / side)))


def _neutral(photo: Photo, size: tuple[int, int]) -> Any:
    from planner.colour import Neutral

    tapped = photo.taps.get("neutral")
    if not tapped:
        return None
    x, y = _spot(tapped["at"], size)
    return Neutral(x, y, max(3.0, SPOT * max(size)), NEUTRALS[tapped["kind"]])


@transaction.atomic
def tap(photo: Photo, what: str, at: tuple[int, int], *, by: Person) -> None:
    """Keep what a person pointed at: shirt, other, paper or card; the colors are then read anew.

    Raises ValueError in words when there are more taps than can help.
    """
    locked = Photo.objects.select_for_update().get(pk=photo.pk)
    before = locked.taps.get(what, [])
    if list(at) in before:
        return
    if len(before) >= MOST_TAPS:
        raise ValueError(
            "So many taps help no more. Start again, or lay it on another color and take a photo."
        )
    said = {"neutral": {"kind": what, "at": list(at)}} if what in NEUTRALS else {what: [*before, list(at)]}
    _keep(locked, locked.taps | said, "tapped on a photo", by)


@transaction.atomic
def forget_taps(photo: Photo, *, by: Person) -> None:
    """Take all taps back, as if nobody had pointed at anything."""
    locked = Photo.objects.select_for_update().get(pk=photo.pk)
    if is_tapped(locked):
        _keep(locked, {}, "taps taken back", by)


def is_tapped(photo: Photo) -> bool:
    """Say whether a person has pointed at anything on the photo."""
    return any(photo.taps.get(what) for what in ("shirt", "other", "neutral"))


def _keep(photo: Photo, taps: dict[str, Any], what: str, by: Person) -> None:
    photo.taps = taps | {
        "count": photo.taps.get("count", 0) + 1
    }  # what is read next has an errand of its own
    photo.save(update_fields=["taps"])
    send_colors(photo)
    shirt = Shirt.objects.get(photos=photo)
    Event.objects.note(what, by=by, bag=shirt.bag_id, shirt=shirt.number, photo=photo.pk)

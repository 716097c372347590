"""The demo's photographs: drawn and received as errands, so that the shop is open at once."""

from __future__ import annotations

import io
from typing import Any

import numpy as np
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from orders.background import errands, photos
from orders.bag import measuring
from orders.cloth import cloth_looks
from orders.colors import shirt_colors
from orders.demo import asked, cloths, drawing
from orders.demo.looks import Drawn, ShirtLook, SwatchLook
from orders.demo.table import SIZE
from orders.models import Bag, Cloth, Person, Photo, Piece, Shirt


def send_bag(bag: Bag, looks: list[dict[str, Any]]) -> None:
    """Ask for the photographs of a bag's shirts: one process draws them all, as each start takes a second."""
    errands.send("demo bag", key=str(bag.pk), payload={"bag": bag.pk, "shirts": looks}, cause="demo")


def send_swatch(cloth: Cloth, look: dict[str, Any], *, seed: int) -> None:
    """Ask for the swatch of a cloth."""
    payload = {"cloth": cloth.pk, "look": look, "seed": seed}
    errands.send("demo swatch", key=str(cloth.pk), payload=payload, cause="demo")


@errands.errand("demo bag", seconds=120, megabytes=1500)
def draw_bag(errand: Any) -> str:
    """Draw every shirt of a bag, take the pictures in as uploads, and mark the panel on each."""
    for said in errand.payload["shirts"]:
        look = ShirtLook(**_tuples(said["look"]))
        shirt = Shirt.objects.get(pk=said["shirt"])
        if not shirt.pieces.filter(side=look.side, photo__isnull=False).exists():
            _draw(shirt, look, seed=said["seed"])
    bag = errand.payload["bag"]
    errands.send("demo asked pictures", key=str(bag), payload={"bag": bag}, cause="demo")
    return "Drawn."


@errands.errand("demo asked pictures", seconds=60, megabytes=900)
def show_in_asked(errand: Any) -> str:
    """Show the shirts of a bag in the pictures that were asked about before they were photographed."""
    asked.photograph(Bag.objects.get(pk=errand.payload["bag"]))
    return "Shown."


def _draw(shirt: Shirt, look: ShirtLook, *, seed: int) -> None:
    drawn = drawing.shirt_photo(look, seed=seed)
    photo = _received(drawn.image, name=f"shirt-{shirt.number:02d}-{look.side}.jpg", of=shirt)
    Piece.objects.filter(shirt=shirt, side=look.side).update(photo=photo)
    shirt_colors.send_colors(photo)
    if drawn.known and drawn.print_box:
        _measure(shirt, look, drawn, seed=seed)


def _measure(shirt: Shirt, look: ShirtLook, drawn: Drawn, *, seed: int) -> None:
    """Tap the corners as a finger would, and keep the size that comes of it."""
    piece = shirt.pieces.select_related("photo", "shirt", "order").get(side=look.side)
    left, top, right, bottom = drawn.print_box or (0, 0, 0, 0)
    rng = np.random.default_rng([seed, 11])
    quads = (drawn.known, ((left, top), (right, top), (right, bottom), (left, bottom)))
    known, kept = (_tapped(np.array(quad, dtype=float) + rng.normal(0, 1.2, (4, 2))) for quad in quads)
    taps = measuring.Taps(look.beside, known, kept)
    owner = Person.objects.filter(role=Person.Role.OWNER).first()
    assert piece.photo is not None
    assert owner is not None
    reading = measuring.read(piece.photo, taps, unit="in")
    measuring.write_reading(piece, reading, taps, seen=piece.version, by=owner)


def _tapped(pixels: np.ndarray) -> measuring.Corners:
    whole = np.array(SIZE, dtype=float)
    return tuple((round(x), round(y)) for x, y in (pixels / whole * measuring.WHOLE).tolist())


@errands.errand("demo swatch", seconds=60, megabytes=1000)
def draw_swatch(errand: Any) -> str:
    """Draw a swatch and take it in."""
    cloth = Cloth.objects.get(pk=errand.payload["cloth"])
    image = cloths.swatch(SwatchLook(**errand.payload["look"]), seed=errand.payload["seed"])
    cloth.swatch = _received(image, name="swatch.jpg", of=cloth)
    Cloth.objects.filter(pk=cloth.pk).update(swatch=cloth.swatch)
    cloth_looks.send_look(cloth)
    asked.dress(cloth)
    return "Drawn."


def _received(image: Image.Image, *, name: str, of: Shirt | Cloth) -> Photo:
    out = io.BytesIO()
    image.save(out, "JPEG", quality=85)
    return photos.receive(SimpleUploadedFile(name, out.getvalue(), content_type="image/jpeg"), of=of)


def _tuples(look: dict[str, Any]) -> dict[str, Any]:
    return {name: tuple(value) if isinstance(value, list) else value for name, value in look.items()}


def panel_on(look: dict[str, Any], *, seed: int) -> dict[str, int]:
    """Return the panel's place on the photograph in per cent, as a maker would mark it."""
    wide, high = SIZE
    left, top, right, bottom = drawing.panel_of(ShirtLook(**_tuples(look)), seed=seed)
    return {
        "x": left * 100 // wide,
        "y": top * 100 // high,
        "width": (right - left) * 100 // wide,
        "height": (bottom - top) * 100 // high,
    }

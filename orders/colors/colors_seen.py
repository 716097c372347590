"""What a page shows of a shirt's colors: names and shares, how sure they are, the outline they lie in."""

from __future__ import annotations

from dataclasses import dataclass

from orders.bag.panels import label_of
from orders.cloth.cloth_groups import IN_WORDS
from orders.colors.looks import from_record
from orders.colors.shirt_colors import KIND, hex_of, is_tapped
from orders.models import Photo, Piece, Shirt
from orders.models.errand import Errand
from planner.colour import Swatch, family

SURE, FAIRLY_SURE = 0.9, 0.55  # without a white or gray that somebody tapped none is sure


@dataclass(frozen=True)
class Color:
    """One color with the name a person would say and its share of the shirt in per cent."""

    hex: str
    name: str
    percent: int


@dataclass(frozen=True)
class Seen:
    """What was read from one photo; `state` is read, waiting or failed."""

    photo: Photo
    piece: Piece
    label: str
    state: str
    colors: tuple[Color, ...] = ()
    sureness: str = ""
    notes: tuple[str, ...] = ()
    polygon: str = ""

    @property
    def is_picked(self) -> bool:
        """Say whether a person picked the main color of the panel, which then stands."""
        return bool(self.piece.ground) and not self.piece.ground_is_about

    @property
    def is_tapped(self) -> bool:
        """Say whether a person pointed at anything on the photo."""
        return is_tapped(self.photo)


def of_shirt(shirt: Shirt) -> list[Seen]:
    """Return what was read from each photo that a panel of the shirt shows, once each."""
    photos = {photo.pk: photo for photo in shirt.photos.all()}
    first: dict[int, Piece] = {}
    for piece in shirt.pieces.all():
        if piece.photo_id in photos:
            first.setdefault(piece.photo_id, piece)
    return [of_panel(piece, photos[pk]) for pk, piece in first.items()]


def of_panel(piece: Piece, photo: Photo) -> Seen:
    """Return what was read from the photo of a panel, as far as it is read."""
    label, kept = label_of(piece.side), photo.colors
    state = "read" if kept and kept["taps"] == photo.taps else _state_of(photo)
    if not kept:
        return Seen(photo, piece, label, state)
    palette = from_record(kept["palette"])
    return Seen(
        photo,
        piece,
        label,
        state,
        colors=_colors((palette.ground, *palette.prints)),
        sureness=sureness_of(palette.confidence),
        notes=palette.notes,
        polygon=" ".join(f"{x},{y}" for x, y in kept["polygon"]),
    )


def _state_of(photo: Photo) -> str:
    last = Errand.objects.about(KIND, str(photo.pk)).first()
    return "waiting" if last and last.is_open else "failed"


def _colors(swatches: tuple[Swatch, ...]) -> tuple[Color, ...]:
    names = [family(each.lab).name for each in swatches]
    percents = in_hundredths([each.share for each in swatches])
    return tuple(
        Color(hex_of(each.lab), IN_WORDS.get(name, name), percent)
        for each, name, percent in zip(swatches, names, percents, strict=True)
    )


def in_hundredths(shares: list[float]) -> list[int]:
    """Return shares of a whole in per cent that add up to 100; the largest rests are rounded up."""
    percents = [int(100 * share) for share in shares]
    by_rest = sorted(range(len(shares)), key=lambda at: percents[at] - 100 * shares[at])
    for at in by_rest[: 100 - sum(percents)]:
        percents[at] += 1
    return percents


def sureness_of(confidence: float) -> str:
    """Say how sure a palette is."""
    if confidence >= SURE:
        return "Sure"
    return "Fairly sure" if confidence >= FAIRLY_SURE else "A guess"

"""Pictures spoiled on purpose, the same each time: bits turned, sizes that lie, bombs, endless scans."""

from __future__ import annotations

import struct
import zlib
from collections.abc import Callable
from functools import cache

import numpy as np
from PIL import Image, ImageCms

from tests.orders.pictures import SIDEWAYS, drawing, saved

Chance = np.random.Generator
Sound = list[bytes]


def sound_pictures() -> Sound:
    """Return good pictures of every kind that is taken, with what they may carry."""
    exif = Image.Exif()
    exif[0x0112], exif[0x010F] = 6, "Invented"
    exif.get_ifd(0x8825)[1] = "N"
    srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    small, clear = drawing(160, 120), drawing(96, 72).convert("RGBA")
    clear.putalpha(128)
    return [
        saved(small, exif=exif, icc_profile=srgb, comment=b"Alder Steps"),
        saved(small, progressive=True),
        saved(small.convert("CMYK")),
        saved(small.convert("L")),
        saved(small, "PNG", icc_profile=srgb),
        saved(small.convert("P"), "PNG", transparency=0),
        saved(clear, "PNG"),
        saved(small.convert("I;16"), "PNG"),
        saved(small, "PNG", save_all=True, append_images=[drawing(160, 120)] * 3),
        saved(small, "WEBP", exif=exif),
        saved(clear, "WEBP", lossless=True),
        saved(small, "WEBP", save_all=True, append_images=[drawing(160, 120)] * 3),
        SIDEWAYS.read_bytes(),
        saved(small, "MPO", save_all=True, append_images=[small]),
    ]


def spoil(sound: Sound, number: int, chance: Chance) -> bytes:
    """Return the so-many-th mutant; the way of spoiling goes round, what is spoiled is by chance."""
    ways: tuple[Callable[[Sound, Chance], bytes], ...] = (
        turned_bits,
        cut_short,
        with_more_between,
        repeated,
        spliced,
        zeroed,
        lying_size,
        another_number,
        endless_scans,
        bomb,
    )
    return ways[number % len(ways)](sound, chance)


def _one(sound: Sound, chance: Chance) -> bytearray:
    return bytearray(sound[int(chance.integers(len(sound)))])


def _place(picture: bytes | bytearray, chance: Chance) -> int:
    return int(chance.integers(1, len(picture)))


def turned_bits(sound: Sound, chance: Chance) -> bytes:
    """Turn one to some dozens of bytes into others."""
    picture = _one(sound, chance)
    for at in chance.integers(0, len(picture), int(chance.integers(1, 48))):
        picture[at] ^= int(chance.integers(1, 256))
    return bytes(picture)


def cut_short(sound: Sound, chance: Chance) -> bytes:
    """Leave the end out."""
    picture = _one(sound, chance)
    return bytes(picture[: _place(picture, chance)])


def with_more_between(sound: Sound, chance: Chance) -> bytes:
    """Put bytes without sense in the middle."""
    picture = _one(sound, chance)
    at = _place(picture, chance)
    return bytes(picture[:at]) + chance.bytes(int(chance.integers(1, 4000))) + bytes(picture[at:])


def repeated(sound: Sound, chance: Chance) -> bytes:
    """Say a part of it up to two hundred times."""
    picture = _one(sound, chance)
    start, end = sorted((_place(picture, chance), _place(picture, chance)))
    return (
        bytes(picture[:end]) + bytes(picture[start:end]) * int(chance.integers(1, 200)) + bytes(picture[end:])
    )


def spliced(sound: Sound, chance: Chance) -> bytes:
    """Begin as one picture and end as another."""
    head, tail = _one(sound, chance), _one(sound, chance)
    return bytes(head[: _place(head, chance)]) + bytes(tail[_place(tail, chance) :])


def zeroed(sound: Sound, chance: Chance) -> bytes:
    """Wipe a stretch out."""
    picture = _one(sound, chance)
    at, many = _place(picture, chance), int(chance.integers(1, 400))
    picture[at : at + many] = bytes(len(picture[at : at + many]))
    return bytes(picture)


def lying_size(sound: Sound, chance: Chance) -> bytes:
    """Claim another width and height, with a sum that is right, so that nothing else gives it away."""
    wide, high = (int(chance.choice([0, 1, 7, 300, 900, 9000, 16383, 65535])) for _ in range(2))
    if chance.integers(2):
        return _png_of(wide, high, chance.bytes(200))
    picture = bytearray(sound[int(chance.integers(4))])
    at = next(i for i in range(len(picture)) if picture[i] == 0xFF and picture[i + 1] in (0xC0, 0xC2))
    picture[at + 5 : at + 9] = struct.pack(">HH", high, wide)
    return bytes(picture) + chance.bytes(9)


def another_number(sound: Sound, chance: Chance) -> bytes:
    """Write the largest or the least number where a length or a place may stand."""
    picture = _one(sound, chance)
    for _ in range(int(chance.integers(1, 6))):
        at = int(chance.integers(0, max(1, min(len(picture) - 4, 700))))
        width = int(chance.choice([1, 2, 4]))
        picture[at : at + width] = (b"\xff" if chance.integers(2) else b"\x00") * width
    return bytes(picture)


def endless_scans(sound: Sound, chance: Chance) -> bytes:
    """A large progressive JPEG whose last scan is said over and over: little to send, much to do."""
    picture = bytearray(sound[1])
    side = int(chance.choice([300, 900, 7000], p=[0.6, 0.35, 0.05]))
    at = next(i for i in range(len(picture)) if picture[i] == 0xFF and picture[i + 1] == 0xC2)
    picture[at + 5 : at + 9] = struct.pack(">HH", side, side)
    last = picture.rindex(b"\xff\xda")
    scan = bytes(picture[last:-2])
    return bytes(picture[:-2]) + scan * int(chance.integers(1, 1000)) + b"\xff\xd9"


def bomb(sound: Sound, chance: Chance) -> bytes:
    """A PNG with a part that unfolds to a hundred megabytes and more."""
    rows = _nothing(int(chance.choice([1, 60, 120])) << 20)
    kind = int(chance.choice(4, p=[0.3, 0.3, 0.3, 0.1]))
    if kind == 0:
        return _png_of(8, 8, zlib.compress(chance.bytes(8 * 9)), (b"zTXt", b"Comment\x00\x00" + rows))
    if kind == 1:
        return _png_of(8, 8, zlib.compress(chance.bytes(8 * 9)), (b"iCCP", b"profile\x00\x00" + rows))
    if kind == 2:
        return _png_of(8, int(chance.integers(1, 9999)), rows)
    side = int(chance.choice([6000, 7071]))
    return _png_of(side, side, _nothing((side + 1) * side), (b"tEXt", b"Comment\x00" + chance.bytes(9)))


@cache
def _nothing(many: int) -> bytes:
    return zlib.compress(bytes(many), 6)


def _png_of(wide: int, high: int, rows: bytes, *more: tuple[bytes, bytes]) -> bytes:
    header = struct.pack(">IIBBBBB", wide, high, 8, 0, 0, 0, 0)
    chunks = [(b"IHDR", header), *more, (b"IDAT", rows), (b"IEND", b"")]
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(*each) for each in chunks)


def _chunk(kind: bytes, content: bytes) -> bytes:
    return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", zlib.crc32(kind + content))

"""Pictures from outside, opened in a process of their own, as `darkroom SIZES TARGET < picture`.

Nothing of Django is here, so that the process starts quickly and a picture made to do harm meets little.
"""

from __future__ import annotations

import io
import json
import os
import resource
import signal
import sys
import warnings
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import IO

from PIL import Image, ImageCms, ImageOps

try:
    import pi_heif
except ImportError:  # not made for every Python
    pi_heif = None
else:
    pi_heif.register_heif_opener()

FORMATS = ("JPEG", "PNG", "WEBP", *(("HEIF",) if pi_heif else ()))
MOST_PIXELS = 50_000_000
MOST_SECONDS = 10  # of the processor; three times that by the clock, for a machine that is busy
MOST_MEGABYTES = 512
QUALITY_WHOLE, QUALITY_RENDITION = 90, 80
DEVELOPED, UNREADABLE, DISK_FULL = 0, 3, 4

NAMES = "JPEG, PNG, WebP and HEIC" if pi_heif else "JPEG, PNG and WebP"
NOT_A_PHOTO = f"This is no photo that can be read here; {NAMES} can. Take it again, or choose another file."
CUT_SHORT = "This photo is cut short: part of it did not arrive. Send it once more, or take it again."
TOO_MANY_PIXELS = "This photo has more than 50 million pixels. Send a smaller one."
TOO_MUCH_MEMORY = "This photo takes more room to open than it may. Send a smaller one, or one as JPEG."


class Unreadable(Exception):
    """A picture that cannot be used; the text says why and what to do."""


def main(target: Path, sizes: Sequence[int] = ()) -> int:
    """Develop the picture on standard input, and say its size or what is wrong with it as JSON.

    Beside it lie its renditions of these sizes, as far as they came about.
    """
    keep_within_limits()
    try:
        width, height = develop(io.BytesIO(sys.stdin.buffer.read()), target)
        shrink_beside(target, sizes)
    except Unreadable as fault:
        print(json.dumps({"fault": str(fault)}))
        return UNREADABLE
    except OSError as fault:
        print(json.dumps({"errno": fault.errno}))
        return DISK_FULL
    print(json.dumps({"width": width, "height": height}))
    return DEVELOPED


def read_sizes(words: str) -> list[int]:
    return [int(size) for size in words.split(",")]


def keep_within_limits() -> None:
    signal.alarm(3 * MOST_SECONDS)
    most = MOST_MEGABYTES * 1024 * 1024
    with suppress(ValueError, OSError):  # not every system limits these
        resource.setrlimit(resource.RLIMIT_CPU, (MOST_SECONDS, MOST_SECONDS))
        resource.setrlimit(resource.RLIMIT_DATA, (most, most))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


def develop(picture: io.BytesIO, target: Path) -> tuple[int, int]:
    """Write the picture upright, in sRGB and without metadata as JPEG; return width and height."""
    image = read(picture)
    with open(target, "wb") as file:
        write_jpeg(image, file, quality=QUALITY_WHOLE)
    return image.size


def shrink_beside(target: Path, sizes: Sequence[int]) -> None:
    """Make the renditions while the picture is at hand; what does not come about is an errand for later."""
    with suppress(OSError, MemoryError):
        if sizes:
            shrink(target, {size: beside(target, size) for size in sizes})


def beside(target: Path, size: int) -> Path:
    """Return where the rendition of a picture lies until it has its name."""
    return target.with_suffix(f".{size}.part")


def read(picture: io.BytesIO) -> Image.Image:
    """Return the pixels of a picture from outside; whatever is wrong with it is Unreadable."""
    Image.MAX_IMAGE_PIXELS = MOST_PIXELS
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            image = Image.open(picture, formats=FORMATS)
            if image.width * image.height > MOST_PIXELS:
                raise Unreadable(TOO_MANY_PIXELS)
            ImageOps.exif_transpose(image, in_place=True)
            return in_srgb(image)
    except Unreadable:
        raise
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as fault:
        raise Unreadable(TOO_MANY_PIXELS) from fault
    except MemoryError as fault:
        raise Unreadable(TOO_MUCH_MEMORY) from fault
    except Exception as fault:  # a broken file meets any error its reader has
        raise Unreadable(CUT_SHORT if "truncated" in str(fault).lower() else NOT_A_PHOTO) from fault


def in_srgb(image: Image.Image) -> Image.Image:
    """Return the picture in the colors a browser takes for granted, without its see-through parts."""
    profile = image.info.get("icc_profile")
    plain = on_white(in_eight_bits(image))
    if profile:
        with suppress(ImageCms.PyCMSError, OSError):  # a broken profile is as none
            given = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            # A profile speaks of the inks that it was made for; those of gray and print have their own.
            source = image if image.mode in ("L", "CMYK") else plain
            srgb = ImageCms.createProfile("sRGB")
            return ImageCms.profileToProfile(source, given, srgb, outputMode="RGB") or plain
    return plain


def in_eight_bits(image: Image.Image) -> Image.Image:
    """Return a gray picture of 16 bits with its tones kept; the reader turns all but the darkest white."""
    if not image.mode.startswith("I;16"):
        return image
    return image.convert("I").point(lambda tone: tone * (1 / 257)).convert("L")


def on_white(image: Image.Image) -> Image.Image:
    if image.has_transparency_data:
        clear = image if image.mode == "RGBA" else image.convert("RGBA")
        ground = Image.new("RGB", clear.size, "white")
        ground.paste(clear, mask=clear.getchannel("A"))
        return ground
    return image if image.mode == "RGB" else image.convert("RGB")


def write_jpeg(image: Image.Image, file: IO[bytes], *, quality: int) -> None:
    """Write the pixels and nothing else, down to the disk."""
    image.info.clear()  # or what came with the picture would be written again
    image.save(file, "JPEG", quality=quality, optimize=True)
    file.flush()
    os.fsync(file.fileno())


def shrink(whole: Path, targets: dict[int, Path]) -> None:
    """Write a rendition for each longer side in pixels, largest first, from one reading of the picture."""
    with Image.open(whole, formats=["JPEG"]) as image:
        scale = max(targets) / max(image.size)
        # The reader shrinks by the smaller ratio of the two sides, so both are given in true proportion.
        image.draft("RGB", (round(image.width * scale), round(image.height * scale)))
        shrunk = image.convert("RGB")
    for size in sorted(targets, reverse=True):
        # Whole halvings are averaged, which is quick; only the rest is interpolated.
        shrunk.thumbnail((size, size), Image.Resampling.BICUBIC, reducing_gap=1.0)
        write_whole(shrunk, targets[size])


def write_whole(image: Image.Image, target: Path) -> None:
    """Put a rendition in its place in one step, so that nobody sees half of it."""
    draft = target.with_suffix(f".{os.getpid()}.part")
    try:
        with open(draft, "wb") as file:
            write_jpeg(image, file, quality=QUALITY_RENDITION)
        os.replace(draft, target)
    finally:
        draft.unlink(missing_ok=True)


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[2]), read_sizes(sys.argv[1])))

"""Pictures in other inks, depths and color spaces keep their colors when they are taken in."""

import io
import struct

import numpy as np
import pytest
from coloraide import Color
from PIL import Image, ImageCms

from orders.background import darkroom
from planner.colour.picture import vision

# Display P3 (SMPTE EG 432-1 primaries) adapted to the D50 of a profile, as ICC's published profile has them.
P3 = {
    b"rXYZ": (0.51512, 0.24120, -0.00105),
    b"gXYZ": (0.29198, 0.69225, 0.04189),
    b"bXYZ": (0.15710, 0.06657, 0.78407),
}


def read(file: bytes) -> np.ndarray:
    return np.asarray(darkroom.read(io.BytesIO(file)))


def saved(picture: Image.Image, form: str, **more) -> bytes:
    file = io.BytesIO()
    picture.save(file, form, **more)
    return file.getvalue()


def deep(pixels: np.ndarray) -> bytes:
    """A PNG of 16 bits a channel; OpenCV takes blue first."""
    return vision().imencode(".png", pixels)[1].tobytes()


def wide_gamut() -> bytes:
    """The profile of a phone's screen: that of sRGB with its three primaries moved out."""
    profile = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    for tag in range(struct.unpack(">I", profile[128:132])[0]):
        name, at, _ = struct.unpack(">4sII", profile[132 + 12 * tag : 144 + 12 * tag])
        if name in P3:
            values = (round(each * 65536) for each in P3[name])
            profile[at + 8 : at + 20] = struct.pack(">3i", *values)
    return bytes(profile)


@pytest.mark.parametrize("seen", [(0.5, 0.4, 0.3), (0.7, 0.25, 0.3), (0.2, 0.45, 0.6), (0.9, 0.9, 0.85)])
def test_a_wide_gamut_picture_has_the_colors_an_independent_library_gives_it(seen):
    # coloraide: CSS Color 4, display-p3 to srgb.
    picture = Image.new("RGB", (16, 16), tuple(round(255 * each) for each in seen))
    wanted = [255 * each for each in Color("display-p3", seen).convert("srgb").coords()]
    found = read(saved(picture, "PNG", icc_profile=wide_gamut()))[8, 8]
    np.testing.assert_allclose(found, wanted, atol=2.5)
    assert np.abs(found - np.asarray(picture)[8, 8].astype(float)).max() >= (3 if seen[0] < 0.9 else 0)


def test_gray_of_16_bits_keeps_its_tones():
    tones = np.linspace(0, 65535, 64 * 64).reshape(64, 64).astype(np.uint16)
    found = read(deep(tones))
    np.testing.assert_allclose(found, np.repeat((tones / 257)[..., None], 3, axis=2), atol=1)


@pytest.mark.parametrize("alpha", [(), (65535,)], ids=["plain", "with alpha"])
def test_color_of_16_bits_keeps_its_tones(alpha):
    pixels = np.full((20, 20, 3 + len(alpha)), (12000, 30000, 60000, *alpha), np.uint16)
    np.testing.assert_allclose(read(deep(pixels))[10, 10], (233, 117, 47), atol=1)


def test_a_picture_for_print_is_turned_into_light():
    inks = Image.new("CMYK", (32, 32), (0, 200, 180, 20))
    red, green, blue = read(saved(inks, "JPEG", quality=95))[16, 16]
    assert red > 200
    assert max(green, blue) < 90


def test_a_gray_picture_is_gray():
    found = read(saved(Image.new("L", (32, 32), 120), "JPEG"))
    assert found.shape == (32, 32, 3)
    np.testing.assert_allclose(found[16, 16], 120, atol=2)


def test_a_picture_with_few_colors_keeps_them():
    few = Image.new("P", (32, 32), 1)
    few.putpalette([0, 0, 0, 200, 30, 40])
    np.testing.assert_array_equal(read(saved(few, "PNG"))[16, 16], (200, 30, 40))


def test_half_clear_is_half_white():
    clear = Image.new("RGBA", (32, 32), (200, 0, 0, 128))
    np.testing.assert_allclose(read(saved(clear, "PNG"))[16, 16], (227, 127, 127), atol=2)


def test_a_profile_that_does_not_fit_the_picture_is_as_none():
    gray = Image.new("L", (32, 32), 120)
    np.testing.assert_allclose(read(saved(gray, "JPEG", icc_profile=wide_gamut()))[16, 16], 120, atol=2)

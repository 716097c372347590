"""Files that others made are as they were made, each with its licence beside it."""

import hashlib
import io
import json

from fontTools.ttLib import TTFont
from fontTools.varLib.instancer import instantiateVariableFont

from tests.conftest import ROOT

FONTS = ROOT / "static" / "fonts"
MADE_BY_OTHERS = json.loads((FONTS / "VENDOR.json").read_text())


def test_each_file_is_the_one_that_was_taken():
    assert MADE_BY_OTHERS
    for row in MADE_BY_OTHERS:
        assert hashlib.sha256((FONTS / row["file"]).read_bytes()).hexdigest() == row["sha256"], row["file"]


def test_each_file_has_its_licence_text():
    for row in MADE_BY_OTHERS:
        assert row["licence"] == "OFL-1.1"
        assert "SIL Open Font License, Version 1.1" in (FONTS / row["licence_text"]).read_text()


def test_no_font_is_missing_from_the_list():
    assert {row["file"] for row in MADE_BY_OTHERS} == {path.name for path in FONTS.glob("*.woff2")}


def written(font):
    """Return a font as it is read again: in its file, places are whole numbers."""
    file = io.BytesIO()
    font.save(file)
    file.seek(0)
    return TTFont(file)


def test_a_font_held_at_fewer_weights_is_drawn_as_the_one_it_was_made_of():
    made = [row for row in MADE_BY_OTHERS if "made_of" in row]
    assert made
    for row in made:
        held_at = {axis: tuple(at) if isinstance(at, list) else at for axis, at in row["held_at"].items()}
        held = written(instantiateVariableFont(TTFont(FONTS / row["made_of"]), held_at))
        kept = TTFont(FONTS / row["file"])
        assert kept.getBestCmap() == held.getBestCmap()
        for name in held.getGlyphOrder():
            assert kept["hmtx"][name] == held["hmtx"][name], name
            assert kept["glyf"][name] == held["glyf"][name], name

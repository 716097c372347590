"""A brief in a file answered on the command line."""

from __future__ import annotations

import io
import json
import os
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from django.core.management import CommandError, call_command

from tests.conftest import ROOT

BRIEFS = ROOT / "docs" / "briefs"
FERNCLIFF, CINDER_CROSS = BRIEFS / "ferncliff-throw.json", BRIEFS / "cinder-cross-two-sided.json"
NAMES = sorted(path.name for path in BRIEFS.glob("*.json"))
TODAY = {
    "ferncliff-throw.json": "2027-03-15",
    "harrow-bay-three-in-a-week.json": "2027-04-24",
    "cinder-cross-two-sided.json": "2027-05-28",
    "lower-pentland-christmas.json": "2027-11-22",
}


def answered(*words: str | Path) -> tuple[str, int]:
    """What the command prints, and how it exits."""
    out = io.StringIO()
    try:
        call_command("plan_brief", *map(str, words), "--effort", "20", stdout=out)
    except SystemExit as leaving:
        return out.getvalue(), int(leaving.code or 0)
    return out.getvalue(), 0


def refused(*words: str | Path) -> CommandError:
    with pytest.raises(CommandError) as fault:
        call_command("plan_brief", *map(str, words), stdout=io.StringIO())
    return fault.value


@pytest.fixture
def run(tmp_path: Path) -> Callable[..., subprocess.CompletedProcess[str]]:
    """Run the command as a person would, in a place without a database."""

    def typed(*words: str | Path, given: str = "") -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, "manage.py", "plan_brief", *map(str, words)],
            cwd=ROOT,
            env=os.environ | {"DATA_DIR": str(tmp_path), "DJANGO_SETTINGS_MODULE": "config.settings"},
            input=given,
            capture_output=True,
            text=True,
            check=False,
        )

    return typed


def spoiled(tmp_path: Path, change: Callable[[Any], None]) -> Path:
    brief = json.loads(FERNCLIFF.read_text())
    change(brief)
    path = tmp_path / "spoiled.json"
    path.write_text(json.dumps(brief))
    return path


# Exit codes, out and err


def test_a_plan_without_problems_exits_0(run, tmp_path):
    done = run(CINDER_CROSS, "--today", "2027-05-28")
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith("15 garments, needed by Sat 21 Aug 2027")
    assert not list(tmp_path.rglob("*.sqlite3*"))  # it asks no database, and makes none


def test_a_plan_with_something_to_settle_exits_1(run):
    done = run(FERNCLIFF, "--today", "2027-03-15", "--effort", "20")
    assert (done.returncode, done.stderr) == (1, "")
    assert "To settle" in done.stdout


def test_a_bad_brief_exits_2_and_says_why_on_the_other_channel(run, tmp_path):
    bad = spoiled(tmp_path, lambda brief: brief["bag"]["garments"][0]["fibres"].update(cotton=95))
    done = run(bad)
    assert (done.returncode, done.stdout) == (2, "")
    assert "bag.garments[0].fibres: they add up to 95 %" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_brief_is_read_from_standard_input(run):
    done = run("-", "--today", "2027-05-28", given=CINDER_CROSS.read_text())
    assert done.returncode == 0
    assert "90 × 96 in" in done.stdout


# What cannot be read


def test_a_file_that_is_not_there_is_named(tmp_path):
    fault = refused(tmp_path / "nowhere.json")
    assert fault.returncode == 2
    assert "nowhere.json" in str(fault)


def test_a_folder_is_no_brief(tmp_path):
    assert "cannot be read" in str(refused(tmp_path))


@pytest.mark.parametrize("text", ["", "{", "nothing", "[" * 100_000, "1" * 5000, '{"unit": "in",}'])
def test_what_is_not_json_is_said_to_be_so(tmp_path, text):
    path = tmp_path / "brief.json"
    path.write_text(text)
    fault = refused(path)
    assert fault.returncode == 2
    assert str(fault).startswith("file: is not JSON")


def test_bytes_that_are_no_text_are_said_to_be_so(tmp_path):
    path = tmp_path / "brief.json"
    path.write_bytes(b"\xff\xfe\x00")
    assert "file: cannot be read" in str(refused(path))


def test_a_field_named_twice_is_not_lost_in_silence(tmp_path):
    path = tmp_path / "brief.json"
    path.write_text(FERNCLIFF.read_text().replace('"unit": "in",', '"unit": "in", "unit": "cm",', 1))
    assert "“unit” twice" in str(refused(path))


def test_a_mark_of_the_byte_order_is_no_fault(tmp_path):
    path = tmp_path / "brief.json"
    path.write_bytes(b"\xef\xbb\xbf" + FERNCLIFF.read_bytes())
    assert answered(path, "--today", "2027-03-15")[1] == 1


@pytest.mark.parametrize("day", ["tomorrow", "2027-02-30", "03/15/2027", ""])
def test_a_day_that_is_none_is_refused(day):
    assert str(refused(FERNCLIFF, "--today", day)).startswith("today: ")


def test_no_effort_at_all_is_refused():
    assert str(refused(FERNCLIFF, "--today", "2027-03-15", "--effort", "0")).startswith("effort: ")


def test_a_day_already_past_is_refused():
    assert str(refused(FERNCLIFF, "--today", "2027-05-23")) == "due: 2027-05-22 is already past."


# The sheet


def test_the_sheet_tells_a_maker_what_she_needs():
    sheet, code = answered(FERNCLIFF, "--today", "2027-03-15")
    assert code == 1
    for line in (
        "12 garments, needed by Sat 22 May 2027, 2 days kept free before it.",
        "50 × 66 in, before the first wash: 12 blocks of 14 × 14 in, sashing 2 in with cornerstones",
        "  05F is left out. Not wanted in this quilt.",
        "  Fits by Tue 20 Apr 2027; cannot be before Tue 20 Apr 2027.",
        "  Total                                 507.18 USD",
        "  Deposit 253.59 USD, then 253.59 USD.",
        "Work: 14 h 36",
        "  gold (cornerstone): 2 strips, 5 in in all, nothing to buy",
        "  interfacing, non-woven: 8 panels of light non-woven, 130 in long, on the shelf",
        "    270 °F, non-stick sheet: 09",
        "  ! The block cuts into the print of 12.",
    ):
        assert line in sheet.splitlines(), line


def test_the_sheet_warns_of_what_can_hurt():
    sheet, _ = answered(FERNCLIFF, "--today", "2027-03-15")
    mind = sheet.split("\nMind\n")[1]
    assert "Rotary cutter: close the blade" in mind
    assert "09: Vinyl moves near 300 °F" in mind
    assert "03: White beside dark cloth: try the dark one for running dye" in mind
    assert "all but 09: Let the print cool" in mind
    assert "the care label comes first" in sheet


def test_the_sheet_says_when_a_quilt_comes_too_late_and_why():
    sheet, code = answered(BRIEFS / "harrow-bay-three-in-a-week.json", "--today", "2027-04-24")
    assert code == 1
    assert " days too late." in sheet
    assert "3,720 minutes (62 h)" in sheet
    assert "It fits by" in sheet.split("To settle")[1]


@pytest.mark.parametrize("name", NAMES)
def test_no_line_of_a_sheet_is_wider_than_the_table(name):
    sheet, _ = answered(BRIEFS / name, "--today", TODAY[name])
    assert len(sheet.splitlines()) > 25
    assert [line for line in sheet.splitlines() if len(line) > 96] == []


def test_an_empty_bag_still_gets_a_sheet(tmp_path):
    empty = spoiled(tmp_path, lambda brief: brief.update(bag={"garments": [], "pieces": []}))
    sheet, code = answered(empty, "--today", "2027-03-15")
    assert code == 1
    assert "0 garments" in sheet
    assert "! There is no piece to lay out." in sheet


# The answer in JSON


@pytest.mark.parametrize("name", NAMES)
def test_the_json_has_its_units_on_top_and_whole_numbers_below(name):
    text, code = answered(BRIEFS / name, "--today", TODAY[name], "--json")
    answer = json.loads(text)
    assert list(answer) == ["unit", "currency", "origin", "options", "chosen", "problems"]
    assert (answer["unit"], answer["currency"]) == ("in", "USD")
    assert code == (1 if answer["problems"] else 0)
    offer = answer["options"][answer["chosen"]]
    assert type(offer["pricing"]["total"]) is type(offer["layout"]["quilt"]["size"]["width"]) is int
    assert all(type(stage["minutes"]) is int for stage in offer["minutes"])


def test_the_json_has_the_day_as_days_from_the_first_of_the_calendar():
    answer = json.loads(answered(FERNCLIFF, "--today", "2027-03-15", "--json")[0])
    assert answer["origin"] == "2027-03-15"
    assert answer["options"][0]["promise"]["day"] == 36  # Tue 20 Apr


def test_the_json_of_an_empty_bag_chooses_nothing(tmp_path):
    empty = spoiled(tmp_path, lambda brief: brief.update(bag={"garments": [], "pieces": []}))
    text, code = answered(empty, "--today", "2027-03-15", "--json")
    assert code == 1
    assert (json.loads(text)["options"], json.loads(text)["chosen"]) == ([], None)


# The documents

PAGES = [ROOT / "README.md", ROOT / "docs" / "how-to" / "answer-a-brief-on-the-command-line.md"]


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_what_a_document_tells_to_type_is_answered(page):
    typed = re.findall(r"manage\.py plan_brief (.+)", page.read_text())
    assert typed
    for words in typed:
        path, *more = words.split()
        assert "--today" in more  # or the day needed by is past one day
        assert answered(ROOT / path, *more)[0]


def test_the_page_on_the_command_shows_what_the_command_prints():
    page = PAGES[1].read_text()
    path, *more = re.findall(r"manage\.py plan_brief (.+)", page)[0].split()
    sheet, _ = answered(ROOT / path, *more)
    shown = re.findall(r"```text\n(.*?)```", page, re.S)
    assert len(shown) == 2
    assert all(part in sheet for part in shown)

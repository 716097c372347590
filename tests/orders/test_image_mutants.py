"""A thousand spoiled pictures: each is taken or refused in words, and none takes long or much memory."""

from __future__ import annotations

import json
import subprocess
import sys

import numpy as np
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from orders.background import darkroom, photos
from orders.models import Photo
from tests.conftest import ROOT
from tests.orders.mutants import sound_pictures, spoil
from tests.orders.pictures import files, upload

pytestmark = [pytest.mark.django_db, pytest.mark.slow]
MUTANTS, SEED = 1_000, 20270608
MOST_SECONDS, MOST_MEGABYTES = 10, 512
WORDS = {
    darkroom.NOT_A_PHOTO,
    darkroom.CUT_SHORT,
    darkroom.TOO_MANY_PIXELS,
    darkroom.TOO_MUCH_MEMORY,
    photos.EMPTY,
    photos.NOT_OPENED,
}


class Door:
    """The darkroom as `photos` calls it, with a note of what each picture took."""

    def __init__(self, folder):
        self.folder, self.took = folder, []
        self.process = subprocess.Popen(
            [sys.executable, "-m", "tests.orders.darkroom_door"],
            cwd=ROOT,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )

    def run(self, command, *, input, **how):
        assert command[1:3] == ["-m", "orders.background.darkroom"]
        picture = self.folder / "mutant"
        picture.write_bytes(input)
        self.process.stdin.write(json.dumps([str(picture), *command[3:]]) + "\n")
        self.process.stdin.flush()
        done = json.loads(self.process.stdout.readline())
        self.took.append(done)
        return subprocess.CompletedProcess(command, done["code"], done["said"].encode())


@pytest.fixture
def door(settings, tmp_path, monkeypatch):
    settings.DATA_DIR = tmp_path
    opened = Door(tmp_path)
    monkeypatch.setattr(photos.subprocess, "run", opened.run)
    yield opened
    opened.process.stdin.close()
    opened.process.wait(20)


def test_a_thousand_mutants_are_taken_or_refused_in_words_within_ten_seconds_and_512_megabytes(door):
    chance, sound = np.random.default_rng(SEED), sound_pictures()
    taken, refused = 0, {}
    for number in range(MUTANTS):
        mutant = spoil(sound, number, chance)
        try:
            photos.receive(upload(mutant))
            taken += 1
        except photos.Refused as fault:
            refused[str(fault)] = refused.get(str(fault), 0) + 1
    assert taken + sum(refused.values()) == MUTANTS
    assert taken > MUTANTS // 10
    assert set(refused) <= WORDS
    assert darkroom.TOO_MANY_PIXELS in refused
    assert max(each["processor"] for each in door.took) <= MOST_SECONDS
    assert max(each["megabytes"] for each in door.took) <= MOST_MEGABYTES
    assert len(door.took) > MUTANTS * 9 // 10
    assert {file.suffix for file in files()} == {".jpg"}
    assert len(files()) == 4 * len(set(Photo.objects.values_list("sha256", flat=True)))


def test_a_page_that_gets_a_mutant_answers(door, client, ada, order, twelve_shirts):
    client.force_login(ada)
    chance, sound = np.random.default_rng(SEED + 1), sound_pictures()
    answers = set()
    for number in range(60):
        photo = SimpleUploadedFile("shirt.jpg", spoil(sound, number, chance), "image/jpeg")
        answer = client.post(f"/quilts/{order.number}/shirts/7/photos/", {"photo": photo})
        answers.add(answer.status_code)
    assert answers == {302, 422}


def test_the_limits_are_those_that_are_promised():
    assert darkroom.MOST_SECONDS <= MOST_SECONDS
    assert darkroom.MOST_MEGABYTES <= MOST_MEGABYTES


def test_a_picture_that_would_take_too_long_is_stopped_and_refused(door, monkeypatch):
    """The limits are the system's own: without them this one is only slow."""
    content = spoil(sound_pictures(), 8, np.random.default_rng(3))
    code = (
        "import sys; from pathlib import Path; from orders.background import darkroom;"
        "darkroom.MOST_SECONDS = 1; darkroom.in_srgb = lambda image: next(filter(None, iter(int, 1)));"
        "sys.exit(darkroom.main(Path(sys.argv[1])))"
    )
    monkeypatch.undo()
    done = subprocess.run(
        [sys.executable, "-c", code, str(door.folder / "out")], cwd=ROOT, input=content, capture_output=True
    )
    assert done.returncode < 0

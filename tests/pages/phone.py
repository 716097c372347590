"""A phone that logs shirts: a camera that gives a picture, a thumb that is counted, a network that fails."""

from __future__ import annotations

import io
from dataclasses import dataclass, field

import numpy as np
from PIL import Image
from playwright.sync_api import Error, Page, Route, expect

# Card, Moran and Newell, The Keystroke-Level Model for User Performance Time (1980): point 1.10 s, press
# 0.10 s, think 1.35 s, and their rules for where a thought stands (both from memory). Rule 0: one
# before each pointing that selects a command, none before one that selects an argument; one before each press
# that is no argument. Rule 1: a press that its own pointing foresees loses it. A shirt is one command, Next
# shirt, with up to three arguments, kind, side and feel, which she reads off the shirt in her hand: one
# thought, and for each tap a pointing and a press.
POINT, PRESS, THINK = 1.10, 0.10, 1.35
# The queue is hidden too while a page that has just opened has not looked at it yet.
NOTHING_LEFT = """async () => typeof phone !== "undefined"
  && (await phone.lines()).every((line) => line.state === "draft")"""


def photo_file(seed: int, size: tuple[int, int] = (800, 600)) -> dict[str, object]:
    """Return a picture as a phone's camera gives it; no two are alike."""
    grain = np.random.default_rng(seed).integers(0, 255, (size[1] // 8, size[0] // 8, 3), dtype=np.uint8)
    kept = io.BytesIO()
    Image.fromarray(grain).resize(size).save(kept, "JPEG", quality=85)
    return {"name": f"IMG_{seed:04d}.jpg", "mimeType": "image/jpeg", "buffer": kept.getvalue()}


@dataclass
class Cuts:
    """Fail the requests of these numbers: before they arrive, or after, when only the answer is lost."""

    before: frozenset[int] = frozenset()
    after: frozenset[int] = frozenset()
    seen: int = 0
    failed: list[int] = field(default_factory=list)

    def __call__(self, route: Route) -> None:
        self.seen += 1
        if self.seen in self.before:
            self.failed.append(self.seen)
            route.abort("internetdisconnected")
        elif self.seen in self.after:
            self.failed.append(self.seen)
            route.fetch()
            route.abort("connectionreset")
        else:
            route.continue_()


@dataclass
class Thumb:
    """Taps on the screen of the shop, shirt by shirt; the camera's own screen is the phone's."""

    page: Page
    taps: list[int] = field(default_factory=lambda: [0])

    def tap(self, group: str, word: str) -> None:
        """Tap a word of a group, where it is not chosen already: a look is enough for that."""
        choice = self.page.get_by_role("group", name=group).get_by_label(word, exact=True)
        if not choice.is_checked():
            self.taps[-1] += 1
            choice.tap(force=True)

    def photograph(self, picture: dict[str, object]) -> None:
        """Tap the field of the photo: the camera opens, and gives a picture."""
        self.taps[-1] += 1
        with self.page.expect_file_chooser() as camera:
            self.page.locator("#id_photo").tap()
        camera.value.set_files(picture)

    def next_shirt(self, picture: dict[str, object]) -> None:
        """Give this shirt: the camera opens for the next one at the same tap, counted as that one’s first."""
        self.taps.append(1)
        with self.page.expect_file_chooser() as camera:
            self.page.get_by_role("button", name="Next shirt").tap()
        camera.value.set_files(picture)

    def all_sent(self) -> None:
        """Wait until nothing is left on the phone."""
        for _ in range(900):
            if self._has_nothing_left():
                break
            self.page.wait_for_timeout(100)
        expect(self.page.locator("#phone-queue")).to_be_hidden()

    def _has_nothing_left(self) -> bool:
        try:
            return bool(self.page.evaluate(NOTHING_LEFT))
        except Error:  # the page was opening anew, to show what has arrived
            return False

    def seconds(self) -> list[float]:
        """Return the seconds of screen that each shirt took, by the model."""
        return [THINK + taps * (POINT + PRESS) for taps in self.taps]

    def seconds_with_a_thought_a_tap(self) -> list[float]:
        """Return the same for a stranger to the screen, who foresees no answer and thinks before each."""
        return [taps * (THINK + POINT + PRESS) for taps in self.taps]

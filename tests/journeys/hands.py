"""Two hands at a screen: they reach only what can be read, and what they do is counted."""

from __future__ import annotations

import re
import time

from playwright.sync_api import ConsoleMessage, Locator, Page, expect

Words = str | re.Pattern[str]
PATIENCE = 30_000  # milliseconds; long, because a busy machine is no fault of a page


class Hands:
    """A maker at a page of the shop. Taps, typed fields and pages seen are figures to read, not to judge."""

    def __init__(self, page: Page, site: str) -> None:
        self.page, self.site = page, site
        self.taps = self.typed = self.pages = 0
        self.photos: list[str] = []
        self.said: list[str] = []
        self.began = time.monotonic()
        page.set_default_timeout(PATIENCE)
        page.on("domcontentloaded", lambda _: self._turn_page())
        page.on("console", self._hear)
        page.on("pageerror", lambda fault: self.said.append(f"{page.url}: {fault}"))

    def _turn_page(self) -> None:
        self.pages += 1

    def _hear(self, message: ConsoleMessage) -> None:
        """Note what a page complains of; a PDF has no icon, a page that is left breaks off what it asked."""
        no_icon = message.location.get("url", "").endswith("/favicon.ico")
        if not no_icon and not message.text.startswith(("htmx:afterRequest", "htmx:sendAbort")):
            self.said.append(f"{self.page.url}: {message.text}")

    def open(self, path: str) -> None:
        self.page.goto(self.site + path)

    def go_back(self) -> None:
        self.taps += 1
        self.page.go_back()

    def tap(self, name: Words, *, role: str = "button", within: Locator | None = None) -> None:
        """Tap the one thing of this role and name; a name in plain words has to be the whole name."""
        place = (within or self.page).get_by_role(role, name=name, exact=isinstance(name, str))
        expect(place).to_have_count(1, timeout=PATIENCE)
        expect(place).to_be_visible(timeout=PATIENCE)
        self.taps += 1
        place.click()

    def follow(self, name: Words, *, within: Locator | None = None) -> None:
        """Tap a link."""
        self.tap(name, role="link", within=within)

    def unfold(self, words: str) -> None:
        """Open what is folded away under these words."""
        self.taps += 1
        self.page.locator("summary").filter(has_text=words).click()

    def part(self, heading: Words) -> Locator:
        """Return the part of the page under a heading."""
        title = self.page.get_by_role("heading", name=heading)
        return self.page.locator("section, form, .card").filter(has=title).last

    def type(self, label: str, text: str, *, within: Locator | None = None) -> None:
        """Fill a field."""
        place = (within or self.page).get_by_label(label)
        expect(place).to_have_count(1, timeout=PATIENCE)
        self.taps += 1
        self.typed += 1
        place.fill(text)

    def choose(self, group: str, word: str, *, within: Locator | None = None) -> None:
        """Tap one of a few words in a group."""
        self.taps += 1
        (within or self.page).get_by_role("group", name=group).get_by_label(word, exact=True).check()

    def tick(self, label: str) -> None:
        """Tick a box by its words."""
        self.taps += 1
        self.page.get_by_label(label).check()

    def pick(self, label: str, word: str) -> None:
        """Pick from a list that opens: a tap to open, a tap on the word."""
        self.taps += 2
        self.page.get_by_label(label).select_option(label=word)

    def photograph(self, words: str, file: str) -> None:
        """Take a picture: one tap opens the camera, one takes it."""
        self.taps += 2
        with self.page.expect_file_chooser() as camera:
            self.page.get_by_role("button", name=words).click()
        camera.value.set_files(file)

    def sees(self, words: Words, *, within: int = PATIENCE) -> None:
        """Wait until these words can be read, for so many milliseconds."""
        expect(self.page.get_by_text(words).first).to_be_visible(timeout=within)

    def heading(self, words: Words) -> None:
        """Wait for the page of this name."""
        expect(self.page.get_by_role("heading", level=1)).to_have_text(words, timeout=PATIENCE)

    def figures(self) -> str:
        """Say what it took."""
        spent = time.monotonic() - self.began
        return f"{self.taps} taps, {self.typed} of them to type, {self.pages} pages, {spent:.0f} s"

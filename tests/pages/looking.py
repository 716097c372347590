"""What can be seen wrong with a page in a browser, as sentences."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

# WCAG 2.2 AA target size is off in axe unless asked for.
RULES = {"rules": {"target-size": {"enabled": True}}}
COLORS = {"runOnly": ["color-contrast"]}
# A link inside a sentence is as high as its line; what stands alone is as high as a finger.
REACHED = "main button, main .button, .rail a, .rooms a, input:not([type=hidden]), select, textarea, summary"


def faults_of(page: Page, width: int) -> Iterator[str]:
    """Yield what is wrong with the page that is open, by day and by night."""
    page.emulate_media(color_scheme="light", reduced_motion="reduce")
    yield from axe_says(page, RULES)
    if (wide := page.evaluate("document.documentElement.scrollWidth")) > width:
        yield f"{wide - width} px too wide"
    yield from (f"only {high:.0f} px high: {html}" for html, high in too_small(page))
    if (count := page.get_by_role("heading", level=1).count()) != 1:
        yield f"{count} headings of level 1"
    yield from (f"out of proportion: {html}" for html in out_of_proportion(page))
    title = page.title().removesuffix(" · Batting Order")
    if not title.strip() or title == page.title():
        yield f"title {page.title()!r}"
    if len(main := main_buttons(page)) > 1:
        yield f"{len(main)} main buttons: {main}"
    page.emulate_media(color_scheme="dark", reduced_motion="reduce")
    yield from (f"in the dark: {fault}" for fault in axe_says(page, COLORS))


def axe_says(page: Page, options: dict[str, Any]) -> list[str]:
    found = Axe().run(page, options=options).response
    assert "color-contrast" in {rule["id"] for kind in ("passes", "violations") for rule in found[kind]}
    return [
        f"{fault['id']}: {node['html'][:160]}" for fault in found["violations"] for node in fault["nodes"]
    ]


def too_small(page: Page) -> list[tuple[str, float]]:
    """Return what a finger has to hit and is lower than 44 px; a tick box is hit by its whole label."""
    found: list[tuple[str, float]] = page.evaluate(
        """reached => [...document.querySelectorAll(reached)].flatMap(place => {
          if (!place.checkVisibility({ visibilityProperty: true })) return [];
          const hit = place.closest("label") ?? place;
          const high = hit.getBoundingClientRect().height;
          return high && high < 43.5 ? [[place.outerHTML.slice(0, 120), high]] : [];
        })""",
        REACHED,
    )
    return found


def out_of_proportion(page: Page) -> list[str]:
    """Return the pictures that are drawn wider or higher than they are by more than 3 in 100."""
    found: list[str] = page.evaluate(
        """() => [...document.images].flatMap(picture => {
          const { width, height } = picture.getBoundingClientRect();
          if (!width || !picture.naturalWidth || getComputedStyle(picture).objectFit !== "fill") return [];
          const pulled = width * picture.naturalHeight / (height * picture.naturalWidth);
          return Math.abs(pulled - 1) > 0.03 ? [picture.outerHTML.slice(0, 120)] : [];
        })"""
    )
    return found


def main_buttons(page: Page) -> list[str]:
    shown = page.locator(".button.main:not(.skip)").all()
    return [button.inner_text() for button in shown if button.is_visible()]

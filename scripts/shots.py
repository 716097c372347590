"""Photograph every screen of the demo shop, and every paper, into shots/ with one contact sheet.

Run by `make shots`. It opens a demo shop of its own in a folder that is thrown away afterwards.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path

from PIL import Image, ImageDraw

ROOT = Path(__file__).resolve().parent.parent
OUT = ROOT / "shots"
PORT = os.environ.get("SHOTS_PORT", "8917")
SITE = f"http://127.0.0.1:{PORT}"
LOOKS = [(390, "light"), (390, "dark"), (820, "light"), (1280, "light"), (1280, "dark")]
CHROMIUM = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]  # fmt: skip
TILE = 260


def main(wanted: list[str]) -> None:
    """Take all pictures, or those whose name holds one of the words given."""
    shutil.rmtree(OUT, ignore_errors=True)
    OUT.mkdir()
    with tempfile.TemporaryDirectory() as folder:
        env = {**os.environ, "DATA_DIR": folder, "PORT": PORT, "HOST": "127.0.0.1", "ADDRESS": ""}
        for command in (["migrate", "-v0"], ["demo", "--draw"], ["collectstatic", "--noinput", "-v0"]):
            subprocess.run([sys.executable, "manage.py", *command], cwd=ROOT, env=env, check=True)
        site = subprocess.Popen([sys.executable, "manage.py", "serve"], cwd=ROOT, env=env)
        try:
            _wait_until_open()
            taken = list(_screens(env, wanted)) + list(_papers(env, wanted))
        finally:
            site.terminate()
            site.wait(20)
    _contact_sheet(taken)
    print(f"{len(taken)} pictures in {OUT.name}/, all on {OUT.name}/contact.png")


def _wait_until_open() -> None:
    for _ in range(120):
        try:
            urllib.request.urlopen(f"{SITE}/healthz", timeout=2)
        except OSError:
            time.sleep(0.5)
        else:
            return
    raise SystemExit("The site did not open.")


def _django(env: dict[str, str]) -> None:
    os.environ.update(env)
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings")
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"  # the browser keeps a loop running in this thread
    sys.path.insert(0, str(ROOT))
    import django

    django.setup()


def _screens(env: dict[str, str], wanted: list[str]) -> Iterator[Path]:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=shutil.which("chromium"), args=CHROMIUM)
        _django(env)
        from orders.demo.shop import OWNER, PASSWORD
        from orders.demo.tour import owners_screens

        places = {"sign-in": "/sign-in/"} | owners_screens()
        for width, light in LOOKS:
            context = browser.new_context(
                viewport={"width": width, "height": 844 if width < 600 else 900}, color_scheme=light
            )
            page = context.new_page()
            for name, address in places.items():
                if wanted and not any(word in name for word in wanted):
                    continue
                page.goto(SITE + address)
                if name == "sign-in" or page.url.startswith(f"{SITE}/sign-in/"):
                    yield _shot(page, name, width, light) if name == "sign-in" else OUT
                    _sign_in(page, OWNER, PASSWORD)
                    page.goto(SITE + address) if name != "sign-in" else None
                if name != "sign-in":
                    yield _shot(page, name, width, light)
            context.close()
        browser.close()


def _sign_in(page: object, name: str, password: str) -> None:
    page.goto(f"{SITE}/sign-in/")  # type: ignore[attr-defined]
    page.get_by_label("Your name").fill(name)  # type: ignore[attr-defined]
    page.get_by_label("Password").fill(password)  # type: ignore[attr-defined]
    page.get_by_role("button", name="Sign in").click()  # type: ignore[attr-defined]


def _shot(page: object, name: str, width: int, light: str) -> Path:
    file = OUT / f"{name}-{width}{'-dark' if light == 'dark' else ''}.png"
    page.screenshot(path=str(file), full_page=True)  # type: ignore[attr-defined]
    return file


def _papers(env: dict[str, str], wanted: list[str]) -> Iterator[Path]:
    """Print each paper of the order that shows most; pdftoppm turns the pages into pictures."""
    if shutil.which("pdftoppm") is None:
        print("No pictures of papers: pdftoppm is missing (Debian: apt install poppler-utils).")
        return
    from orders import papers
    from orders.background import errands
    from orders.models import Entry, Order, Person, Quote

    aunt, by = Order.objects.get(title__contains="surprise"), Person.objects.first()
    made = [
        papers.intake(aunt.bags.get(), by=by),
        papers.quote(Quote.objects.filter(order=aunt).first(), by=by),
        papers.deposit(Entry.objects.filter(order=aunt, kind="payment").first(), by=by),
        papers.cut_list(aunt, by=by),
        papers.receipt(Order.objects.get(number=1), by=by),
        papers.care(aunt, by=by),
    ]
    while not all(papers.bytes_of(paper) for paper in made):  # the site's own thread takes some of them
        errands.run_due()
        time.sleep(0.2)
    for paper in made:
        name = f"paper-{paper.kind.replace(' ', '-')}"
        if wanted and not any(word in name for word in wanted):
            continue
        pdf = OUT / f"{name}.pdf"
        pdf.write_bytes(papers.bytes_of(paper) or b"")
        subprocess.run(["pdftoppm", "-r", "80", "-png", str(pdf), str(OUT / name)], check=True)
        yield from sorted(OUT.glob(f"{name}-*.png"))


def _contact_sheet(pictures: list[Path]) -> None:
    files = [file for file in pictures if file.suffix == ".png"]
    across = 8
    down = -(-len(files) // across)
    sheet = Image.new("RGB", (across * TILE, max(1, down) * (TILE + 22)), "#808080")
    pen = ImageDraw.Draw(sheet)
    for number, file in enumerate(files):
        with Image.open(file) as image:
            small = image.convert("RGB")
        small.thumbnail((TILE - 8, 4 * TILE))
        small = small.crop((0, 0, small.width, min(small.height, TILE - 4)))
        x, y = number % across * TILE, number // across * (TILE + 22)
        sheet.paste(small, (x + 4, y + 18))
        pen.text((x + 6, y + 4), file.stem, fill="white")
    sheet.save(OUT / "contact.png")


if __name__ == "__main__":
    main(sys.argv[1:])

"""Figures: what pages cost with few and with many orders put away.

Run: python tests/bench/bench_pages.py [--kept=START] [orders put away …]; without numbers 100 and 10,000.
With --kept=/tmp/bench the shops are filled into /tmp/bench-100, /tmp/bench-10k and so on, stay there, and are
taken again the next time, unless the records have other columns by then. The made-up shop is brought to 60
quilts in the workroom; what is put away is of customers of its own, three orders each.
The site is served as `manage.py serve` does it, and a view that says "ok" behind Django's seven stock
middlewares by another such process. CPU is that of the process which answers, as the kernel counts it, in
multiples of the bare view that is asked before and after; the median of five rounds.
Each page is measured twice: as it is looked at for the first time after a change of the records, when it is
drawn, and as it is looked at again while nothing has changed, when it comes from memory. Queries are counted
with the connection open; bytes are as they travel, squeezed.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path
from typing import Any

SIZES = (100, 10_000)
LIVE, SEED, ROUNDS = 60, 7, 5
MOST = {"quilts": 8.0, "order": 10.0, "customer": 6.0}
ROOT, TOLD = Path(__file__).resolve().parents[2], "bench.json"
FIRST_VIEW, SCRIPT = 150 * 1024, 25 * 1024


@dataclass
class Figures:
    """What one page costs: drawn after a change, and looked at again."""

    name: str
    times_bare: float
    milliseconds: float
    again_times_bare: float
    again_milliseconds: float
    queries: int
    again_queries: int
    bytes: int
    first_view: int
    script: int


def main(*sizes: int, kept: str = "") -> None:
    """Print a table for each size and what the largest costs more than the smallest."""
    found: dict[int, list[Figures]] = {}
    for size in sizes or SIZES:
        with folder_of(size, kept) as folder:
            env = os.environ | {"DATA_DIR": folder, "DJANGO_SETTINGS_MODULE": "config.settings"}
            asked = [sys.executable, __file__, "one", str(size)]
            done = subprocess.run(asked, env=env, capture_output=True, text=True, check=False)
        if done.returncode:
            raise SystemExit(done.stderr)
        *told, last = done.stdout.splitlines()
        print(f"-- {size:,} orders put away", *told, sep="\n")
        found[size] = [Figures(**each) for each in json.loads(last)]
        print(*map(line, found[size]), sep="\n", flush=True)
    few, many = found[min(found)], found[max(found)]
    for one, other in zip(few, many, strict=True):
        same = "the same" if one.queries == other.queries else f"{one.queries} and {other.queries}"
        drawn = other.times_bare / one.times_bare
        print(f"{one.name:16} {max(found):,} : {min(found):,} = {drawn:.2f} drawn, "
              f"{other.again_times_bare / one.again_times_bare:.2f} again (asked ≤ 1.10), "
              f"queries {same}")  # fmt: skip


@contextmanager
def folder_of(size: int, kept: str) -> Iterator[str]:
    """Give a place for a shop: one for now, or one that stays and may be filled already."""
    if not kept:
        with tempfile.TemporaryDirectory() as folder:
            yield folder
        return
    folder = Path(f"{kept}-{size // 1000}k" if size >= 1000 else f"{kept}-{size}")
    told = folder / TOLD
    if not (told.exists() and json.loads(told.read_text())["records"] == records_now()):
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir(parents=True)
    yield str(folder)


def records_now() -> str:
    """Return a mark that is another when a record has other columns."""
    return hashlib.sha256((ROOT / "orders/migrations/0002_shop.py").read_bytes()).hexdigest()


def line(page: Figures) -> str:
    most = next((most for start, most in MOST.items() if page.name.startswith(start)), None)
    heavy = " OVER" if page.first_view > FIRST_VIEW or page.script > SCRIPT else ""
    return (
        f"{page.name:16} first after a change {_cost(page.times_bare, page.milliseconds, most)}, "
        f"{page.queries:2} queries; again {_cost(page.again_times_bare, page.again_milliseconds, most)}, "
        f"{page.again_queries:2} queries; {page.bytes / 1024:.1f} KB, first view "
        f"{page.first_view / 1024:.1f} KB, script {page.script / 1024:.1f} KB{heavy}"
    )


def _cost(times: float, milliseconds: float, most: float | None) -> str:
    asked = "" if most is None else f" (asked ≤ {most:.0f}{'' if times <= most else ', OVER'})"
    return f"{times:6.1f} x bare{asked} {milliseconds:6.2f} ms"


def one(size: int) -> None:
    """Fill a shop, measure its pages, and print them as JSON in the last line."""
    told, begun = Path(os.environ["DATA_DIR"]) / TOLD, time.process_time()
    if told.exists():
        pages = opened(told)
    else:
        pages = filled(size)
        told.write_text(json.dumps(pages | {"records": records_now()}))
        print(f"filled with {time.process_time() - begun:.0f} s of CPU")
    from django.db import connection

    from tests.bench import measured

    connection.close()  # all that was written is in the file then
    as_it_was = shutil.copy(told.with_name("shop.sqlite3"), told.with_name("as-it-was"))
    found = measured.all_of(pages)
    connection.close()
    put_back(Path(as_it_was))
    print(json.dumps([vars(each) for each in found]))


def put_back(as_it_was: Path) -> None:
    """Let the payments that were measured not make the account longer for the next time."""
    for more in ("-wal", "-shm"):
        as_it_was.with_name(f"shop.sqlite3{more}").unlink(missing_ok=True)
    as_it_was.replace(as_it_was.with_name("shop.sqlite3"))


def opened(told: Path) -> dict[str, Any]:
    """Open a shop that was filled before, with the files and triggers of now; return where its pages are."""
    import django

    django.setup()
    from django.core.management import call_command
    from django.db import connection

    from orders import guards

    guards.remove(connection)
    guards.install(connection)
    call_command("collectstatic", interactive=False, verbosity=0)
    pages: dict[str, Any] = json.loads(told.read_text())
    return pages


def filled(size: int) -> dict[str, Any]:
    """Make the shop and return where its pages are."""
    import django

    django.setup()
    from django.core.management import call_command
    from django.db import connection

    call_command("migrate", verbosity=0)
    call_command("collectstatic", interactive=False, verbosity=0)
    from orders.models import Order, Person, Shop
    from orders.models.paper import Link
    from tests.bench.put_away import bring_to, link_photos, put_away_many
    from tests.pages.demo_tour import open_without_photos

    open_without_photos()
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA synchronous=OFF")  # while it is filled
    aunt = Order.objects.get(title__contains="surprise")
    until = Shop.objects.get().today() + timedelta(days=30)
    token = Link.objects.give_out(aunt, until=until, by=Person.objects.first())[1]
    bring_to(LIVE)
    put_away_many(Order.objects.exclude(handed_over_at=None).first(), size, seed=SEED)
    link_photos(b"\xff\xd8 a photograph")
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA synchronous=FULL")
    return {"order": aunt.number, "token": token}


if __name__ == "__main__":
    sys.path.insert(0, str(ROOT))
    if sys.argv[1:2] == ["one"]:
        one(int(sys.argv[2]))
    else:
        stays = [each.removeprefix("--kept=") for each in sys.argv[1:] if each.startswith("--kept=")]
        main(*(int(each) for each in sys.argv[1:] if each.isdecimal()), kept="".join(stays))

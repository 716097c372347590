"""Figures of the quote's paper: the whole way to its PDF against the bare setting of the same HTML.

Facts of an invented quote of 12 lines; the bare render is the same library with the same style and fonts
and no more than its defaults asked of it. Run: make bench, or this file with DJANGO_SETTINGS_MODULE set.
"""

from __future__ import annotations

import io
import os
import statistics
import time
from typing import Any

ROUNDS = 5
LINE = {"words": "Blocks, all in", "count": "12", "amount": "$432.00"}
FACTS: dict[str, Any] = {
    "order": 31, "version": 1, "title": "The aunt’s surprise", "for": "An aunt of Ferncliff",
    "approver": "The mother", "on": "Monday 15 March 2027", "until": "Monday 22 March 2027",
    "size": "50 × 66 in", "blocks": 12, "cloth": ["sashing Forest"], "lines": [LINE] * 12,
    "taxes": [{"words": "Tax, 7 %", "amount": "$34.02"}], "total": "$520.02", "deposit": "$260.01",
    "rest": ["$260.01"], "planned_for": "Saturday 15 May 2027", "needed_by": "Saturday 22 May 2027",
    "depends_on": "An answer by 19 April keeps the date.", "terms": ["What is cut is paid."] * 6, "cover": "",
}  # fmt: skip
ABOUT = {"number": 7, "kind": "Quote", "maker": "The workroom"}


def bare(html: str, press: Any) -> None:
    from weasyprint import CSS, HTML
    from weasyprint.text.fonts import FontConfiguration

    fonts, fetcher = FontConfiguration(), press.only_ours({})
    style = CSS(string=press._style("letter"), url_fetcher=fetcher, font_config=fonts, base_url=press.SCHEME)
    HTML(string=html, url_fetcher=fetcher, base_url=press.SCHEME).write_pdf(
        io.BytesIO(), stylesheets=[style], font_config=fonts
    )


def seconds(work: Any) -> float:
    """Return the median processor seconds of a few rounds, the first left out."""
    found = []
    for _ in range(ROUNDS + 1):
        start = time.process_time()
        work()
        found.append(time.process_time() - start)
    return statistics.median(found[1:])


def main() -> None:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings")
    import django

    django.setup()
    from django.template.loader import render_to_string

    from orders.papers import press

    html = render_to_string("papers/quote.html", {"facts": FACTS, "about": ABOUT})
    ours = seconds(lambda: press.set_paper("quote", FACTS, ABOUT, size="letter"))
    alone = seconds(lambda: bare(html, press))
    print(f"quote PDF: {ours:.2f} s, bare render {alone:.2f} s, ratio {ours / alone:.2f} (at most 1.5)")


if __name__ == "__main__":
    main()

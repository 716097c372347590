"""Whatever was typed anywhere stands on paper as words: no network, no file, no broken page."""

from __future__ import annotations

import itertools

import pytest

from orders.models import Paper
from orders.papers import press
from orders.papers.work import intake_facts
from tests.orders.papers.making import every_paper, other_papers, read, words_of

pytestmark = [pytest.mark.django_db, pytest.mark.slow]

HOSTILE = (
    "<img src='http://127.0.0.1:1/x.png'><script>x()</script>",
    "<link rel=attachment href='file:///etc/passwd'>",
    "<style>@import url(http://127.0.0.1:1/a.css);*{background:url(file:///etc/hostname)}</style>",
    "<iframe src=//127.0.0.1:1></iframe><object data='../config/settings.py'>",
    "http://127.0.0.1:1/a?b=c&d=e#f",
    "{% include '/etc/passwd' %}{{ settings.SECRET_KEY }}",
    "url(paper:../../settings.py) ../../../../etc/passwd C:\\boot.ini",
    "a\x00b\x07c\x1bd\x0be\x7ff\x85g\ud800h",
    "\u202ekcab ot tnorf\u2066 \u202d",
    "שלום עולם مرحبا بالعالم",
    "w" * 500,
    "a word " * 72,
    "'); DROP TABLE orders_order; --",
    "=cmd|' /C calc'!A0",
)
OURS = ("cover", "map", "picture")  # drawn by the shop itself
SIGNED = ("strokes",)


@pytest.fixture
def made(shop, agreed, twelve_shirts, ada, settings, tmp_path):
    settings.DATA_DIR = tmp_path
    most = every_paper(shop, agreed, twelve_shirts, ada)
    return most | other_papers(agreed, ada)


def with_words(facts, words):
    """Return the same facts with something hostile in the place of every string."""
    if isinstance(facts, str):
        return next(words) if facts else facts
    if isinstance(facts, list):
        return [with_words(each, words) for each in facts]
    if isinstance(facts, dict):
        return {
            name: each if name in (*OURS, *SIGNED) else with_words(each, words)
            for name, each in facts.items()
        }
    return facts


@pytest.fixture
def asked_for(monkeypatch):
    """Keep what the press was asked to fetch, whether it gave it or refused."""
    asked, refused = [], []
    plain = press.only_ours

    def watched(*args, **kwargs):
        fetcher = plain(*args, **kwargs)
        ours = fetcher.fetch

        def fetch(url, *more, **named):
            asked.append(url)
            try:
                return ours(url, *more, **named)
            except ValueError:
                refused.append(url)
                raise

        fetcher.fetch = fetch
        return fetcher

    monkeypatch.setattr(press, "only_ours", watched)
    return asked, refused


def test_hostile_words_in_every_field_reach_neither_network_nor_file(made, asked_for):
    assert set(made) == set(Paper.Kind.values)
    asked, refused = asked_for
    for number, (kind, paper) in enumerate(made.items()):
        first = number % len(HOSTILE)
        words = itertools.chain.from_iterable(itertools.repeat(HOSTILE[first:] + HOSTILE[:first]))
        facts = with_words(paper.made_of, words)
        about = {"number": paper.number, "kind": "Paper", "maker": HOSTILE[first]}
        pdf = press.set_paper(kind, facts, about, size="letter", picture=press._picture_of(paper))
        reader = read(pdf)
        assert reader.attachments == {}, kind
        assert not any("/Annots" in page for page in reader.pages), kind
        assert len(reader.pages) <= 60, (kind, len(reader.pages))
        text = words_of(reader)
        assert "root:" not in text, kind
        assert "SECRET" not in text.replace("settings.SECRET_KEY", ""), kind
    assert asked, "the fonts are fetched by the same way"
    assert {url for url in asked if not url.startswith("paper:")} == set()
    assert refused == []


@pytest.mark.parametrize(
    "address",
    [
        "http://127.0.0.1:1/", "https://example.org/x.css", "file:///etc/passwd", "ftp://127.0.0.1/x",
        "data:text/html,x", "//127.0.0.1/x", "paper:../config/settings.py", "paper:photo-1", "paper:photo-x",
        "/etc/passwd", "PAPER:quilt", "paper:", "",
    ],
)  # fmt: skip
def test_the_press_refuses_every_address_that_is_not_of_the_paper(address):
    with pytest.raises(ValueError, match="not part of this paper"):
        press.only_ours({}).fetch(address)


def test_long_words_break_and_stay_on_the_sheet(order, twelve_shirts):
    """A word of 500 letters is broken: nothing is set beyond the right edge."""
    facts = with_words(intake_facts(order.bags.get()), itertools.repeat("w" * 500))
    about = {"number": 1, "kind": "Paper", "maker": "w" * 120}
    reader = read(press.set_paper("intake", facts, about, size="letter"))
    edges = []
    for page in reader.pages:
        page.extract_text(visitor_text=lambda text, cm, tm, font, size: edges.append(tm[4] * cm[0] + cm[4]))
    assert max(edges) < 612


def test_a_line_that_would_turn_all_after_it_round_does_not(order):
    facts = intake_facts(order.bags.get()) | {"brought_by": "\u202ethe aunt", "how": "by hand"}
    reader = read(press.set_paper("intake", facts, {"number": 1, "kind": "x", "maker": "y"}, size="a4"))
    assert "Brought by the aunt, by hand" in words_of(reader)

"""A pillow is called a pillow on every paper, and what was never priced is not called paid."""

from __future__ import annotations

import re

import pytest
from django.template.loader import render_to_string

from orders import papers
from orders.models import Order
from orders.papers import press
from orders.papers.saying import thing_of

pytestmark = pytest.mark.django_db
TAG = re.compile(r"<[^>]+>")


@pytest.fixture
def pillow(aunt, ada):
    return Order.objects.open(title="The rest", customer=aunt, by=ada, kind="pillow")


def words_on(paper):
    """Return the words of a paper before they are set."""
    about = {"number": paper.number, "kind": paper.get_kind_display(), "maker": "The workroom"}
    html = render_to_string(press.TEMPLATES[paper.kind], {"facts": paper.made_of, "about": about})
    return " ".join(TAG.sub(" ", html.partition("<body")[2]).split())


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (papers.hand_over, "The pillow as it leaves"),
        (papers.hand_over, "No garments came in for it."),
        (papers.party_card, "Your pillow is being made"),
        (papers.care, "Take it off its form first"),
        (papers.booklet, "No shirt has a place in the pillow yet."),
        (papers.receipt, "No price was agreed for it."),
    ],
)
def test_a_pillow_is_called_a_pillow(make, words, pillow, ada):
    told = words_on(make(pillow, by=ada))
    assert words in told
    assert "quilt" not in told.lower()
    assert "Paid in full" not in told
    assert "none garments" not in told.lower()


@pytest.mark.parametrize(
    ("way", "words"),
    [("collection", "to A partner, "), ("parcel", "to A partner as a parcel,"), ("delivery", "at the door,")],
)
def test_the_hand_over_note_says_how_it_left(way, words, pillow, ada):
    Order.objects.filter(pk=pillow.pk).update(leaving=way)
    pillow.refresh_from_db()
    pillow.hand_over("A partner", by=ada)
    assert words in words_on(papers.hand_over(pillow, by=ada))


@pytest.mark.parametrize(
    ("kind", "thing"), [("quilt", "quilt"), ("pillow", "pillow"), ("wall", "wall piece"), ("repair", "quilt")]
)
def test_what_an_order_is_about_is_said_as_in_a_sentence(kind, thing):
    assert thing_of(Order(kind=kind)) == thing

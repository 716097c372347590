"""Not right with one piece of a block that several share: which one, and how it goes on."""

import pytest

from orders.bag import incidents
from orders.bench import work
from orders.models import Incident
from tests.orders.workbench import draw, say_yes_to_all, two_in_one

pytestmark = pytest.mark.django_db


@pytest.fixture
def melted(client, order, twelve_shirts, shop, shelf, ada):
    """Return what melted at the iron: one of two prints in a block, nobody said which."""
    client.force_login(ada)
    shared = two_in_one(draw(order, shop, ada), ada)
    say_yes_to_all(order, ada)
    work.do_pile(order, "cut", [shared.pk], by=ada)
    shared.refresh_from_db()
    return incidents.report(order, incidents.Report("melted", "fuse", shared, (shared,)), by=ada)


def test_it_is_asked_which_piece_and_the_answer_may_not_be_missing(client, melted):
    assert "Which piece of the block it was" in client.get(f"/incidents/{melted.pk}/").content.decode()
    answer = client.post(f"/incidents/{melted.pk}/settlement/", {"outcome": "recut"})
    assert answer.status_code == 422
    assert "Tap the one it was" in answer.content.decode()
    assert Incident.objects.get().settled_at is None


def test_a_piece_of_another_block_is_refused(client, melted, order):
    other = order.blocks.exclude(piece=None).last().piece
    said = {"outcome": "recut", "piece": other.pk}
    assert client.post(f"/incidents/{melted.pk}/settlement/", said).status_code == 422


def test_the_table_shows_the_piece_to_be_cut_again_and_not_its_neighbor(client, melted, order, ada):
    said = {"outcome": "recut", "piece": order.bags.get().shirts.get(number=2).pieces.get().pk}
    assert client.post(f"/incidents/{melted.pk}/settlement/", said).status_code == 302
    assert str(Incident.objects.get()) == "1-02F: melted"
    say_yes_to_all(order, ada)
    table = client.get(f"/quilts/{order.number}/bench/table/").content.decode()
    assert 'data-piece="1-02F"' in table
    assert 'data-piece="1-01F"' not in table


def test_what_was_damaged_and_kept_needs_no_piece(client, melted):
    assert client.post(f"/incidents/{melted.pk}/settlement/", {"outcome": "kept"}).status_code == 302

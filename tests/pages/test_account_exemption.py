"""A claim that no tax is due: asked for, and counted only once its proof is written down."""

import pytest

from orders.account import quoting
from orders.models import Exemption, Order

pytestmark = pytest.mark.django_db
CLAIM = {"exempt-words": "A school of the town", "exempt-proof": ""}


@pytest.fixture
def owner(client, ada):
    client.force_login(ada)
    return client


def place(order, rest=""):
    return f"/quilts/{order.number}/account/exemption/{rest}"


def test_a_claim_without_proof_leaves_the_tax_on_and_the_quote_says_so(owner, drawn, shop, ada):
    for _ in range(2):
        assert owner.post(place(drawn), CLAIM).status_code == 302
    assert Exemption.objects.count() == 1
    quote = quoting.issue(drawn, shop, by=ada)
    assert quote.tax == 3276
    assert "stays on the price until the proof is here" in quote.depends_on
    assert (
        "Proof of tax exemption is still wanted"
        in owner.get(f"/quilts/{drawn.number}/account/").content.decode()
    )


def test_with_the_proof_the_next_quote_has_no_tax_and_says_why(owner, drawn, shop, ada):
    owner.post(place(drawn), CLAIM | {"exempt-proof": "Certificate 12, in the red folder"})
    quote = quoting.issue(drawn, shop, by=ada)
    assert (quote.tax, quote.total) == (0, 46800)
    assert "Proof seen: Certificate 12, in the red folder." in quote.depends_on


def test_taken_away_the_tax_is_on_again(owner, drawn, shop, ada):
    owner.post(place(drawn), CLAIM | {"exempt-proof": "Certificate 12"})
    for _ in range(2):
        assert owner.post(place(drawn, "removal/")).status_code == 302
    assert quoting.issue(drawn, shop, by=ada).tax == 3276


def test_a_claim_without_words_comes_back(owner, drawn):
    answer = owner.post(place(drawn), {"exempt-words": "", "exempt-proof": "Paper 7"})
    assert answer.status_code == 422
    assert "Write what they say" in answer.content.decode()
    assert not Exemption.objects.exists()


def test_an_order_that_is_none_a_helper_and_a_stranger(client, drawn, bo, ada):
    assert client.post(place(drawn), CLAIM).status_code == 302
    client.force_login(bo)
    assert client.post(place(drawn), CLAIM).status_code == 403
    client.force_login(ada)
    assert client.get(place(drawn)).status_code == 405
    assert client.post(place(Order(number=999)), CLAIM).status_code == 404
    assert not Exemption.objects.exists()

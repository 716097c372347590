"""The yes to cut at the table: by the pile, by name, for the day, taken back."""

from __future__ import annotations

import io

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test.utils import CaptureQueriesContext

from orders.background import photos
from orders.models import ApprovedPiece, AskedSingly, Bag, Consent, Order, Piece, Shirt, cut
from orders.yes import yes_to_cut
from orders.yes.yes_to_cut import Said
from tests.cast import add_shirt
from tests.orders.pictures import drawing, saved
from tests.pages.quilt_room import words_of

pytestmark = pytest.mark.django_db
AUNT = "An aunt of Ferncliff"


class Table:
    """The page as somebody uses it."""

    def __init__(self, client, order):
        self.client, self.url = client, f"/quilts/{order.number}/bag/yes/"

    def text(self):
        answer = self.client.get(self.url)
        assert answer.status_code == 200
        return words_of(answer.content.decode())

    def send(self, place="", **said):
        return self.client.post(self.url + place, {"how": "person", **said})

    def all_but(self, *out, **said):
        asked = [piece.pk for piece in Piece.objects.filter(shirt__bag__orders=Order.objects.first())]
        return self.send(piece=asked, but=[piece_of(number).pk for number in out], **said)


def piece_of(number):
    return Piece.objects.get(shirt__number=number)


@pytest.fixture(autouse=True)
def _folder(settings, tmp_path):
    settings.DATA_DIR = tmp_path


@pytest.fixture
def table(client, ada, order, twelve_shirts):
    client.force_login(ada)
    return Table(client, order)


def ask_singly(ada, number, *names, for_the_day=False):
    shirt = Shirt.objects.get(number=number)
    yes_to_cut.ask_singly(shirt, names, for_the_day=for_the_day, why="signed", by=ada)


def test_one_tap_is_a_yes_to_the_whole_pile(table):
    assert f"{AUNT} says yes to all 12" in table.text()
    answer = table.all_but()
    assert (answer.status_code, answer.url) == (302, table.url)
    assert ApprovedPiece.objects.standing().count() == 12
    assert "said yes to 12 pieces." in table.text()
    assert (Consent.objects.get().said_by, Consent.objects.get().how) == (AUNT, "person")


def test_what_is_crossed_out_has_no_yes(table):
    table.all_but(3, 9)
    assert ApprovedPiece.objects.standing().count() == 10
    text = table.text()
    assert "Yes to 10 of 12" in text
    assert "2 pieces to ask about." in text


def test_the_same_yes_sent_twice_is_one(table):
    for _ in range(2):
        assert table.all_but().status_code == 302
    assert Consent.objects.count() == 1


def test_everything_crossed_out_is_no_yes(table):
    answer = table.all_but(*range(1, 13))
    assert answer.status_code == 422
    assert "Every piece is left out" in answer.content.decode()
    assert not Consent.objects.exists()


def test_a_yes_says_how_it_was_said_and_keeps_what_was_crossed_out(table):
    answer = table.all_but(3, how="")
    assert answer.status_code == 422
    assert "Tap how it was said." in answer.content.decode()
    assert f'value="{piece_of(3).pk}" aria-label="Not 03F" checked' in answer.content.decode()


def test_a_yes_on_the_page_is_only_hers_to_send(table):
    assert table.all_but(how="page").status_code == 422


def test_a_yes_for_today_says_so(table):
    table.all_but(for_the_day="on")
    assert Consent.objects.get().until is not None
    text = table.text()
    assert "for today only" in text
    assert "Yes, today only" in text


def test_a_message_comes_with_its_picture_and_only_the_owner_sees_it(table, client, bo):
    shot = SimpleUploadedFile("message.jpg", saved(drawing()), "image/jpeg")
    table.all_but(how="message", photo=shot)
    photo = Consent.objects.get().photo
    assert "Its picture" in table.text()
    assert client.get(f"/photos/{photo.pk}/320.jpg").status_code == 200
    client.force_login(bo)
    assert client.get(f"/photos/{photo.pk}/320.jpg").status_code == 404
    assert client.get(f"/photos/{photo.pk}/320/").status_code == 404


def test_a_picture_that_cannot_be_read_is_refused_beside_its_field(table):
    answer = table.all_but(photo=SimpleUploadedFile("x.jpg", b"no picture", "image/jpeg"))
    assert answer.status_code == 422
    assert "This is no photo that can be read here" in answer.content.decode()
    assert not Consent.objects.exists()


def test_a_good_picture_is_not_sent_again_when_something_else_is_wrong(table):
    answer = table.all_but(how="", photo=SimpleUploadedFile("x.jpg", saved(drawing()), "image/jpeg"))
    kept = answer.context["pile_form"]["kept_photo"].value()
    table.all_but(how="message", kept_photo=kept)
    assert str(Consent.objects.get().photo_id) == kept


def test_a_contested_shirt_is_no_part_of_the_pile(table, ada):
    ask_singly(ada, 7, AUNT, "Her brother")
    text = table.text()
    assert f"{AUNT} says yes to all 11" in text
    assert "Her brother says yes to 07F" in text
    table.all_but()
    assert ApprovedPiece.objects.standing().count() == 11


def test_each_name_is_one_tap_and_the_last_makes_it_whole(table, ada):
    ask_singly(ada, 7, AUNT, "Her brother")
    place = f"{piece_of(7).pk}/"
    answer = table.send(place, name=AUNT)
    assert answer.url == f"{table.url}#singles"
    assert not ApprovedPiece.objects.exists()
    table.send(place, name="Her brother", how="phone")
    assert ApprovedPiece.objects.standing().get().piece == piece_of(7)
    assert "Her brother said yes on the phone" in table.text()


def test_a_name_that_is_not_asked_is_refused_in_words(table, ada):
    ask_singly(ada, 7, AUNT, "Her brother")
    answer = table.send(f"{piece_of(7).pk}/", name="A neighbor")
    assert answer.status_code == 422
    assert f"This yes is for {AUNT} or Her brother to give." in answer.content.decode()


def test_a_shirt_is_asked_about_by_itself_and_with_the_pile_again(table):
    shirt = Shirt.objects.get(number=7)
    table.send("singly/", shirt=shirt.pk, names=f"{AUNT}, Her brother", why="his own", for_the_day="on")
    asked = AskedSingly.objects.get()
    assert (asked.names, asked.for_the_day, asked.why) == ([AUNT, "Her brother"], True, "his own")
    assert "each yes lapses at midnight" in table.text()
    table.send("singly/", usual=shirt.pk)
    assert not AskedSingly.objects.exists()


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"shirt": "", "names": "She"}, "Choose the shirt."),
        ({"shirt": "99999", "names": "She"}, "Choose the shirt."),
        ({"names": " , "}, "Name at least one person."),
    ],
)
def test_a_single_shirt_wants_its_shirt_and_a_name(table, said, words):
    answer = table.send("singly/", **{"shirt": Shirt.objects.get(number=7).pk, **said})
    assert answer.status_code == 422
    assert words in answer.content.decode()


def test_somebody_else_decides_from_now_on(table, order):
    table.send("decider/", name="Her sister", version=order.version)
    assert "Her sister says yes to all 12" in table.text()
    assert table.send("decider/", name="", version=order.version).status_code == 422
    assert table.send("decider/", name="Another", version=0).status_code == 409


def test_a_yes_is_taken_back_whole_or_for_one_piece(table):
    table.all_but()
    table.send("withdrawal/", piece=piece_of(7).pk)
    assert "Yes to 11 of 12" in table.text()
    table.send("withdrawal/", consent=Consent.objects.get().pk)
    assert "Yes to 0 of 12" in table.text()
    assert ApprovedPiece.objects.count() == 12


def test_a_cut_piece_says_so_when_its_yes_is_to_be_taken_back(table, ada):
    table.all_but()
    cut([piece_of(7)], by=ada)
    table.send("withdrawal/", piece=piece_of(7).pk)
    assert "07F is cut already." in table.text()


@pytest.mark.parametrize("place", ["99999/", "withdrawal/"])
def test_what_is_not_here_is_not_found(table, place):
    assert table.send(place, name=AUNT, consent="99999", piece="x").status_code == 404


def test_pieces_and_yeses_of_another_order_are_not_touched_here(table, aunt, ada, order):
    other = Order.objects.open(title="Another", customer=aunt, by=ada)
    bag = Bag.objects.create(customer=aunt, brought_by="she", count=1, received_by=ada)
    other.bags.add(bag)
    piece = add_shirt(bag, 40).pieces.get()
    yes = yes_to_cut.say_for_pile(other, [piece], Said(AUNT, "person"), by=ada)
    assert table.send(f"{piece.pk}/", name=AUNT).status_code == 404
    assert table.send("withdrawal/", consent=yes.pk).status_code == 404
    assert table.send("withdrawal/", piece=piece.pk).status_code == 404
    assert table.send(piece=[piece.pk]).status_code == 422
    assert ApprovedPiece.objects.standing().get().piece == piece


def test_a_piece_that_goes_into_another_quilt_is_named(table, aunt, ada, order):
    other = Order.objects.open(title="The second quilt", customer=aunt, by=ada)
    order.bags.get().serve(other, by=ada)
    yes_to_cut.say_for_pile(other, [piece_of(7)], Said(AUNT, "person"), by=ada)
    answer = table.all_but()
    assert answer.status_code == 422
    assert f"07F goes into No. {other.number}" in answer.content.decode()


def test_a_helper_looks_and_writes_nothing(table, client, bo):
    client.force_login(bo)
    assert "says yes to all" not in table.text()
    assert table.all_but().status_code == 403
    assert not Consent.objects.exists()


def test_get_changes_nothing(table, client, order):
    place = f"{piece_of(7).pk}/"
    for each in (place, "withdrawal/", "decider/", "singly/"):
        assert client.get(table.url + each).status_code == 405


def test_signed_out_leads_to_the_door(client, order):
    assert client.get(f"/quilts/{order.number}/bag/yes/").url.startswith("/sign-in/")


def test_no_shirts_yet_leads_to_logging_them(client, ada, order):
    client.force_login(ada)
    assert "No panel to ask about yet." in Table(client, order).text()


def test_the_page_asks_the_same_whatever_the_number_of_shirts(table, client, ada, order):
    table.all_but(1, 2, 3)
    ask_singly(ada, 4, AUNT)

    def queries():
        client.get(table.url)  # what was to be said once is said
        with CaptureQueriesContext(connection) as seen:
            client.get(table.url)
        return len(seen)

    before = queries()
    for number in range(13, 20):
        add_shirt(order.bags.get(), number)
    ask_singly(ada, 5, AUNT, "Her brother")
    yes_to_cut.say_for_pile(
        order, [piece_of(number) for number in range(13, 17)], Said(AUNT, "phone"), by=ada
    )
    assert queries() == before


def test_a_photo_of_a_shirt_stands_for_its_panel(table):
    shirt = Shirt.objects.get(number=7)
    photo = photos.receive(SimpleUploadedFile("s.jpg", io.BytesIO(saved(drawing())).getvalue()), of=shirt)
    assert f"/photos/{photo.pk}/320" in table.client.get(table.url).content.decode()

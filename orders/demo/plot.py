"""The plot of the demo: ten orders in every state, told in the order in which they happened."""

from __future__ import annotations

from datetime import timedelta

from django.utils import timezone

from orders.account import payers
from orders.customer import enquiries
from orders.demo import odd_garments, purse, shelf, wardrobe, weeks, words
from orders.demo.clock import ZONE, days_ago
from orders.demo.keeping import keep
from orders.demo.making import Maker
from orders.models import Enquiry, Order, Visit
from planner.units import INCH

PREPARED = ("log", "design", "wash")
TOP = ("cut", "fuse", "trim", "make up", "join", "border")
FOREST = {"sashing": "Forest", "cornerstone": "Gold", "frame": "Forest", "binding": "Forest"}
NAVY = {"sashing": "Navy", "cornerstone": "Chalk white", "frame": "Navy", "binding": "Navy"}
CHARCOAL = {"sashing": "Charcoal", "cornerstone": "Gold", "frame": "Charcoal", "binding": "Charcoal"}
GRAY = {
    "sashing": "Pale gray sprig",
    "cornerstone": "Maroon",
    "frame": "Pale gray sprig",
    "binding": "Maroon",
}


def play(maker: Maker) -> None:
    """Play the whole plot; the clock is set to the day of each scene."""
    the_choir_handed_over(maker)
    the_bus_crew_late(maker)
    the_running_club_on_the_frame(maker)
    his_father_resting(maker)
    first_birthday_waiting_for_a_yes(maker)
    the_aunt_fusing(maker)
    three_graduations(maker)
    one_bag_two_orders(maker)
    a_torn_corner(maker)
    at_the_door(maker)
    purse.fill(maker)
    weeks.fill(maker)
    words.fill(maker)
    keep(maker)


def the_choir_handed_over(maker: Maker) -> None:
    with days_ago(52):
        order = maker.opens(
            "The choir’s thank-you", "The choir of Cinder Cross", reach="555 0102", across=34, down=34,
            place="Cinder Cross", needed_by=maker.day(34), occasion="a farewell",
        )  # fmt: skip
        bag = maker.receives(order, wardrobe.THE_BAND[:4], brought_by="the treasurer")
        maker.draws(order, CHARCOAL)
        maker.agrees(order, all_of_it=True)
        maker.hears_yes_to_cut(order)
        maker.hears_yes_to_picture(order)
    with days_ago(20):
        maker.does(order, *PREPARED, *TOP, "back", "quilt", "bind", "finish")
        bag.shirts.update(leftovers="returned")
        maker.hands_over(order, "The treasurer")
        order.bags.update(handed_back_at=timezone.now())


def the_bus_crew_late(maker: Maker) -> None:
    with days_ago(40):
        order = maker.opens(
            "The bus crew’s send-off", "The crew of Pebble Weir", reach="555 0110", across=34, down=50,
            place="Pebble Weir", needed_by=maker.day(39), occasion="a driver who retires; the crew pays",
        )  # fmt: skip
        maker.receives(order, wardrobe.THE_CREW, brought_by="the dispatcher", place="bin 2")
        maker.draws(order, NAVY)
        maker.agrees(order, pays="cash")
        maker.hears_yes_to_cut(order)
        maker.hears_yes_to_picture(order)
    with days_ago(9):
        maker.does(order, *PREPARED, *TOP)
    with days_ago(2):
        maker.does(order, "back", "quilt")


def the_running_club_on_the_frame(maker: Maker) -> None:
    with days_ago(30):
        order = maker.opens(
            "The running club’s jubilee", "The coach of Quarry Gap", reach="555 0118", across=34, down=50,
            place="Quarry Gap", needed_by=maker.day(45), occasion="the coach asks for the club",
        )  # fmt: skip
        maker.receives(order, wardrobe.THE_CLUB, brought_by="the coach", place="bin 5", smoke=True)
        maker.draws(order, CHARCOAL)
        maker.agrees(order)
        maker.hears_yes_to_cut(order, how="phone")
        maker.hears_yes_to_picture(order)
    with days_ago(4):
        maker.does(order, *PREPARED, *TOP, "back")


def his_father_resting(maker: Maker) -> None:
    with days_ago(28):
        order = maker.opens(
            "His father’s shirts", "A son of Millbrook Fen", reach="555 0123", across=34, down=34,
            place="Millbrook Fen", needed_by=maker.day(120), memorial=True,
            occasion="He decides each cut. Not on the day itself",
        )  # fmt: skip
        maker.receives(order, wardrobe.HIS_FATHER, brought_by="his sister", place="the closed shelf")
        maker.draws(order, GRAY)
    with days_ago(13):
        son, sister = order.approver, "His sister"
        maker.asks_singly(order, 3, son, sister, why="the pen mark is his")
        maker.asks_singly(order, 4, son, why="it still carries his scent", for_the_day=True)
        maker.hears_yes_to_cut(order, how="phone")
        maker.hears_one_yes(order, 3, sister, how="paper")
        maker.hears_one_yes(order, 4, son)
    with days_ago(12):
        maker.takes_back(order, 2)
        odd_garments.his_sister_brings_more(maker, order)
        order.pause(why="until he writes", by=maker.owner)


def first_birthday_waiting_for_a_yes(maker: Maker) -> None:
    with days_ago(16):
        order = maker.opens(
            "First birthday", "A mother of Osier Weir", reach="555 0127", across=20, down=20,
            place="Osier Weir", needed_by=maker.day(54), occasion="for the wall, not for the cot",
        )  # fmt: skip
        order.wish = {"blocks": [[8 * INCH, 8 * INCH]], "sashings": [{"width": 3 * INCH // 2}]}
        order.save()
        maker.receives(order, wardrobe.FIRST_YEAR, brought_by="the mother", allergies="wool, fragrance")
        maker.draws(order, GRAY)
        maker.agrees(order)
    with days_ago(9):
        maker.does(order, *PREPARED)
        maker.asks_about_picture(order)
        odd_garments.her_hats(maker, order)


def the_aunt_fusing(maker: Maker) -> None:
    with days_ago(14):
        order = maker.opens(
            "The aunt’s surprise", "An aunt of Ferncliff", reach="555 0131", across=50, down=66,
            place="Ferncliff", needed_by=maker.day(44), occasion="a graduate’s party",
            discreet="Nothing to the shared phone: it is a surprise", recipient="The graduate",
            collector="Her neighbor", secret_until=maker.day(44),
        )  # fmt: skip
        order.wish = {"blocks": [[14 * INCH, 14 * INCH]], "sashings": [{"width": 2 * INCH}]}
        order.save()
        maker.receives(order, wardrobe.THE_GRADUATE, brought_by="the aunt", place="bin 3", pets=True)
        maker.draws(order, FOREST, favorites=("02F", "12F"))
        maker.pins(order, "12F")
        maker.agrees(order)
        maker.hears_yes_to_cut(order, how="phone")
        shelf.a_sleeve_as_cloth(order, by=maker.owner)
    with days_ago(1):
        maker.does(order, *PREPARED, "cut")
        maker.does_part(order, "fuse", 7)


def three_graduations(maker: Maker) -> None:
    with days_ago(10):
        swimmer = maker.opens(
            "The swimmer", "A parent of Harrow Bay", reach="555 0140", across=50, down=50,
            place="Harrow Bay", needed_by=maker.day(45), occasion="graduation",
        )  # fmt: skip
        maker.receives(swimmer, wardrobe.THE_SWIMMER, brought_by="the parent", place="bin 6")
        maker.draws_mixed(swimmer, NAVY)
        maker.agrees(swimmer)
        maker.hears_yes_to_cut(swimmer)
        grandpa = maker.opens(
            "From her grandpa", "A grandfather of Harrow Bay", reach="555 0141", across=34, down=50,
            place="Harrow Bay", needed_by=maker.day(45), occasion="for a granddaughter’s graduation",
        )  # fmt: skip
        maker.receives(grandpa, wardrobe.FROM_GRANDPA, brought_by="the grandfather", place="bin 7")
        maker.draws(grandpa, FOREST)
        maker.agrees(grandpa, pays="check")
        maker.hears_yes_to_cut(grandpa)
    with days_ago(2):
        maker.does(swimmer, *PREPARED)
        maker.does_part(swimmer, "cut", 4)
        maker.asks_about_picture(swimmer)
        maker.hears_wish(swimmer, "Love it, but could the wave be higher up?")
        maker.does(grandpa, *PREPARED, "cut", "fuse")
    with days_ago(5):
        band = maker.opens(
            "The band’s goodbye", "The treasurer of Harrow Bay", reach="555 0142", across=34, down=34,
            place="Harrow Bay", needed_by=maker.day(40), occasion="the band pays for a graduate",
        )  # fmt: skip
        maker.receives(band, wardrobe.THE_BAND, brought_by="the treasurer", place="bin 8")
        maker.draws(band, NAVY)
        club = payers.Joining("The booster club of Harrow Bay", phone="555 0143", set_amount=10000)
        payers.write_down(band, {}, joining=club, by=maker.owner)
        band.refresh_from_db()
        maker.quotes(band)
    for order in (grandpa, band):
        shelf.set_aside(order, maker.shop, by=maker.owner)


def one_bag_two_orders(maker: Maker) -> None:
    with days_ago(6):
        quilt = maker.opens(
            "A sister’s fortieth", "A brother of Tollgate Lane", reach="555 0150", across=34, down=34,
            place="Tollgate Lane", needed_by=maker.day(80), occasion="her whole school life in four tees",
        )  # fmt: skip
        bag = maker.receives(quilt, wardrobe.A_SISTER, brought_by="the brother", place="bin 9")
        pillow = Order.objects.open(
            title="A pillow of the rest", customer=quilt.customer, by=maker.owner, kind="pillow",
            place="Tollgate Lane", needed_by=maker.day(80), width=16 * INCH, height=16 * INCH,
        )  # fmt: skip
        pillow.bags.add(bag)
        for number in (5, 6):
            bag.shirts.get(number=number).pieces.update(order=pillow)
        maker.asks_singly(quilt, 4, quilt.approver, why="signed at the party", for_the_day=True)
    with days_ago(0):
        maker.hears_one_yes(quilt, 4, quilt.approver)


def a_torn_corner(maker: Maker) -> None:
    with days_ago(3):
        corner = maker.opens(
            "A torn corner", "A neighbor of Lower Pentland", reach="555 0155", across=0, down=0,
            place="Lower Pentland", needed_by=maker.day(25), kind="repair",
            occasion="the dog had it; two blocks to mend",
        )  # fmt: skip
        binding = Order.objects.open(
            title="A frayed binding", customer=corner.customer, by=maker.owner, kind="repair",
            place="Lower Pentland", needed_by=maker.day(25), occasion="the same dog, another quilt",
        )  # fmt: skip
        maker.works_by_the_hour(corner, "Mending two blocks", minutes=150, an_hour=4000, most=9000)
        maker.works_by_the_hour(binding, "Binding sewn on anew", minutes=105, an_hour=4000)
        maker.quotes(corner, also=[binding])


def at_the_door(maker: Maker) -> None:
    with days_ago(3):
        coach = Enquiry.objects.create(
            name="A coach of Cinder Cross", reach="555 0160", what="Twelve club tees, a throw", shirts=12,
            width=50 * INCH, height=66 * INCH, needed_by=maker.day(90),
        )  # fmt: skip
        enquiries.answer_now(coach, maker.shop, by=maker.owner)
        coach.pencil_in(days=10, on=maker.shop.today(), by=maker.owner)
    somebody = Enquiry.objects.create(
        name="Somebody from Nettle Stop", reach="nettle@example.org", what="A quilt of baby clothes",
        shirts=20, needed_by=maker.day(120),
    )  # fmt: skip
    enquiries.answer_now(somebody, maker.shop, by=maker.owner)
    late = Order.objects.get(title="The bus crew’s send-off")
    tomorrow = timezone.now().astimezone(ZONE) + timedelta(days=1)
    Visit.objects.create(
        order=late,
        kind="collection",
        at=tomorrow.replace(hour=11, minute=0, second=0, microsecond=0),
        minutes=15,
    )

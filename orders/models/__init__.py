"""The shop's records."""

from orders.models.bag import Bag, Tally
from orders.models.consent import Consent, NoYes, cut
from orders.models.customer import Customer
from orders.models.design import ApprovedPiece, Block, Cut, Design, DesignVersion, Move
from orders.models.enquiry import Enquiry
from orders.models.errand import Errand
from orders.models.event import Event
from orders.models.ledger import Account, Entry, EntryConflict, Posting
from orders.models.order import Order, Payer
from orders.models.paper import Link, Message, Paper
from orders.models.people import Person, SignInFailure
from orders.models.photo import Photo
from orders.models.quote import CannotAccept, ExtraLine, Quote, issue_quote
from orders.models.shelf import Cloth, ClothPiece, Reservation
from orders.models.shirt import Piece, Shirt
from orders.models.shop import DayOff, Machine, Shop, WorkingWeek
from orders.models.stage import Stage, Visit
from orders.models.versioned import Stale, Versioned

__all__ = [
    "Account",
    "ApprovedPiece",
    "Bag",
    "Block",
    "CannotAccept",
    "Cloth",
    "ClothPiece",
    "Consent",
    "Customer",
    "Cut",
    "DayOff",
    "Design",
    "DesignVersion",
    "Enquiry",
    "Entry",
    "EntryConflict",
    "Errand",
    "Event",
    "ExtraLine",
    "Link",
    "Machine",
    "Message",
    "Move",
    "NoYes",
    "Order",
    "Paper",
    "Payer",
    "Person",
    "Photo",
    "Piece",
    "Posting",
    "Quote",
    "Reservation",
    "Shirt",
    "Shop",
    "SignInFailure",
    "Stage",
    "Stale",
    "Tally",
    "Versioned",
    "Visit",
    "WorkingWeek",
    "cut",
    "issue_quote",
]

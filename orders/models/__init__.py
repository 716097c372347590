"""The shop's records."""

from orders.models.asked_picture import AskedPicture, LeaveToMove, may_move
from orders.models.asked_singly import AskedSingly, Look
from orders.models.bag import Bag, Signature, Tally
from orders.models.blade import MayNotBeCut, NotHere, NotLookedAtTwice, NoYes, cut
from orders.models.certificate import Certificate
from orders.models.consent import CannotAgree, Consent
from orders.models.customer import Customer
from orders.models.cut_sheet import CutSheet
from orders.models.design import ApprovedPiece, Block, Cut, Design, DesignVersion, Move
from orders.models.enquiry import Enquiry
from orders.models.errand import Errand
from orders.models.event import Event
from orders.models.exemption import Exemption
from orders.models.feed import Feed
from orders.models.going import Parcel
from orders.models.heat_tool import HeatTool
from orders.models.incident import Incident
from orders.models.ledger import Account, Entry, EntryConflict, Posting
from orders.models.mail import Mail
from orders.models.order import Order, Payer
from orders.models.outside import Outside, Trip
from orders.models.paper import Link, Message, Paper
from orders.models.parcel import Opening
from orders.models.people import Person, SignInFailure
from orders.models.photo import Photo
from orders.models.pulse import Pulse
from orders.models.quote import CannotAccept, ExtraLine, Quote, issue_quote
from orders.models.replan import Replan
from orders.models.seal import Seal
from orders.models.shelf import Cloth, ClothPiece, Reservation
from orders.models.shirt import Piece, Shirt
from orders.models.shop import DayOff, Machine, Overtime, Shop, WorkingWeek
from orders.models.sign_in import SignIn
from orders.models.stage import Stage, Visit
from orders.models.stay import Place, Stay
from orders.models.versioned import Stale, Versioned

__all__ = [
    "Account",
    "ApprovedPiece",
    "AskedPicture",
    "AskedSingly",
    "Bag",
    "Block",
    "CannotAccept",
    "CannotAgree",
    "Certificate",
    "Cloth",
    "ClothPiece",
    "Consent",
    "Customer",
    "Cut",
    "CutSheet",
    "DayOff",
    "Design",
    "DesignVersion",
    "Enquiry",
    "Entry",
    "EntryConflict",
    "Errand",
    "Event",
    "Exemption",
    "ExtraLine",
    "Feed",
    "HeatTool",
    "Incident",
    "LeaveToMove",
    "Link",
    "Look",
    "Machine",
    "Mail",
    "MayNotBeCut",
    "Message",
    "Move",
    "NoYes",
    "NotHere",
    "NotLookedAtTwice",
    "Opening",
    "Order",
    "Outside",
    "Overtime",
    "Paper",
    "Parcel",
    "Payer",
    "Person",
    "Photo",
    "Piece",
    "Place",
    "Posting",
    "Pulse",
    "Quote",
    "Replan",
    "Reservation",
    "Seal",
    "Shirt",
    "Shop",
    "SignIn",
    "SignInFailure",
    "Signature",
    "Stage",
    "Stale",
    "Stay",
    "Tally",
    "Trip",
    "Versioned",
    "Visit",
    "WorkingWeek",
    "cut",
    "issue_quote",
    "may_move",
]

"""The table of callers: for each address, who may look (GET) and who may do (POST) what is there.

The rows are written by hand, apart from the views, so that a door left open is a difference.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.urls import reverse

NOBODY, STAFF, OWNER, CUSTOMER, ANYONE = "", "staff", "owner", "customer", "anyone"


@dataclass(frozen=True)
class Row:
    """Who may look and who may do; `of` are the numbers in the address, by what they stand for.

    `sends` is what a form of it names; sent without, there is nothing to be found.
    """

    look: str = NOBODY
    do: str = NOBODY
    of: tuple[str | int, ...] = ()
    sends: str = ""


def owner_does(*of: str | int) -> Row:
    return Row(do=OWNER, of=of)


def staff_does(*of: str | int) -> Row:
    return Row(do=STAFF, of=of)


ROWS = {
    "today": Row(STAFF),
    "sign-in": Row(ANYONE, ANYONE),
    "sign-out": Row(do=ANYONE),
    "set-up": Row(OWNER, OWNER),
    "first-owner": Row(ANYONE, ANYONE),
    "demo-opening": Row(do=ANYONE),
    "demo-closing": Row(do=OWNER),
    "photo": Row(STAFF, of=("photo", 320)),
    "photo-whole": Row(STAFF, of=("photo",)),
    "photo-part": Row(STAFF, of=("photo", 320)),
    "photo-panel": Row(STAFF, of=("photo", "0_0_9000_0_9000_9000_0_9000", 320)),
    "new-enquiry": Row(OWNER, OWNER),
    "enquiry": Row(OWNER, of=("enquiry",)),
    "enquiry-ways": Row(OWNER, of=("enquiry",)),
    "enquiry-forgetting": Row(OWNER, OWNER, ("enquiry",)),
    **{f"enquiry-{noun}": owner_does("enquiry")
       for noun in ("answer", "pencil", "eraser", "decline", "reopening", "order", "estimate")},
    "order-bag": Row(STAFF, of=("order",)),
    "bag-arrival": Row(STAFF, STAFF, ("order",)),
    "pile-photo": Row(do=STAFF, of=("order", "line"), sends="photo"),
    "bag-sharing": Row(do=STAFF, of=("order",), sends="bag"),
    "order-log": Row(STAFF, STAFF, ("order",)),
    "log-line": staff_does("order"),
    "log-line-photo": Row(do=STAFF, of=("order", "line"), sends="photo"),
    "bag-signing": Row(STAFF, STAFF, ("order", "bag")),
    "bag-whole": Row(STAFF, STAFF, ("order", "bag")),
    "cut-yes": Row(STAFF, OWNER, ("order",)),
    "cut-yes-one": owner_does("order", "panel"),
    "cut-yes-withdrawal": Row(do=OWNER, of=("order",), sends="consent"),
    **{f"cut-yes-{noun}": owner_does("order") for noun in ("decider", "singly")},
    "bag": Row(STAFF, STAFF, ("order", "bag")),
    "bag-receipt": owner_does("order", "bag"),
    "shirt": Row(STAFF, STAFF, ("order", 7)),
    "shirt-panel": staff_does("order", 7, "front"),
    **{f"shirt-{noun}": staff_does("order", 7)
       for noun in ("panels", "photos", "return", "absence", "finding", "striking", "quarantine", "release",
                    "splitting", "welcome", "tag")},
    "find": Row(STAFF),
    "find-code": Row(STAFF, of=("tag",)),
    "find-place": staff_does("tag"),
    "find-incident": staff_does("tag"),
    "bag-places": Row(STAFF, STAFF, ("order",)),
    "bag-leftovers": Row(STAFF, STAFF, ("order",)),
    "bag-tags": staff_does("order", "bag"),
    "bag-parcel": Row(STAFF, STAFF, ("order", "bag")),
    "bag-parcel-photos": staff_does("order", "bag"),
    "bench-incident": staff_does("order", "iron"),
    "bench-stop-tags": staff_does("order"),
    "incident": Row(STAFF, of=("incident",)),
    **{f"incident-{noun}": staff_does("incident") for noun in ("note", "needle")},
    **{f"incident-{noun}": owner_does("incident")
       for noun in ("going-on", "telling", "settlement", "paper", "off-papers")},
    "order-measuring": Row(STAFF, of=("order",)),
    "shirt-measuring": Row(STAFF, STAFF, ("order", 7, "front")),
    "shirt-size": staff_does("order", 7, "front"),
    "shirt-crop": Row(STAFF, STAFF, ("order", 7, "front")),
    "shirt-colors": Row(STAFF, STAFF, ("order", 7, "front")),
    "shirt-colors-again": staff_does("order", 7, "front"),
    "shopping": Row(STAFF),
    "shopping-bought": staff_does("cloth"),
    "shopping-quarters": staff_does("cloth"),
    "shelf": Row(STAFF),
    "cloth-new": Row(OWNER, OWNER),
    "cloth": Row(OWNER, OWNER, ("cloth",)),
    **{f"cloth-{noun}": owner_does("cloth") for noun in ("pieces", "away", "back")},
    **{f"cloth-piece-{noun}": staff_does("cloth", "piece") for noun in ("end", "back")},
    "shirt-cloth": Row(OWNER, OWNER, ("order", 7)),
    "shirt-cloth-yes": owner_does("order", 8),
    **{f"shirt-cloth-{noun}": owner_does("order", 8, "rectangle") for noun in ("end", "back")},
    "order-quilt": Row(STAFF, of=("order",)),
    "order-quilt-picture": Row(STAFF, of=("order",)),
    "order-quilt-asked": Row(STAFF, of=("order",)),
    "order-quilt-asked-paper": owner_does("order"),
    **{f"order-quilt-{noun}": owner_does("order")
       for noun in ("wish", "layout", "trade", "turn", "leaving-out", "undoing", "redoing", "strips",
                    "panel", "border", "finish", "cloth",
                    "theme", "giving",
                    "setting-aside", "question", "yes-to-cut", "yes-to-picture", "her-wish",
                    "pinning", "unpinning", "rearranging", "rearranging-ending", "mixed", "mixed-ending")},
    "order-quilt-mixed-progress": Row(STAFF, of=("order",)),
    "order-quilt-rearranging-progress": Row(STAFF, of=("order",)),
    "order-quilt-bringing-back": Row(do=OWNER, of=("order",), sends="piece"),
    "order-quilt-withdrawal": Row(do=OWNER, of=("order",), sends="consent"),
    "quilts": Row(STAFF),
    "order-ways": owner_does("order"),
    "order-ways-progress": Row(OWNER, of=("order",)),
    "order-ways-ending": owner_does("order"),
    "order-ways-choice": owner_does("order"),
    "weeks": Row(OWNER),
    "weeks-days-off": owner_does(),
    "weeks-day-on": owner_does("day off"),
    "weeks-change-undoing": owner_does("change"),
    "weeks-sheet": Row(STAFF, of=("week",)),
    **{f"weeks-{noun}": owner_does("week") for noun in ("closing", "opening")},
    "weeks-calendar": Row(OWNER),
    **{f"weeks-{noun}": owner_does()
       for noun in ("overtime", "holidays", "planned", "visits", "trips", "feed", "feed-closing",
                    "if-asking", "if-putting-away")},
    "weeks-overtime-removal": owner_does("overtime"),
    **{f"weeks-visit-{noun}": owner_does("visit") for noun in ("moment", "coming", "removal")},
    **{f"weeks-trip-{noun}": owner_does("trip") for noun in ("expected", "arrival")},
    "weeks-outside-new": Row(OWNER, OWNER),
    "weeks-outside": Row(OWNER, OWNER, ("outside",)),
    "weeks-outside-leave": owner_does("outside"),
    "weeks-outside-opening": owner_does("outside", "2027-07-05"),
    "weeks-if": Row(OWNER),
    "weeks-if-progress": Row(OWNER),
    "weeks-if-doing": owner_does("supposed"),
    "calendar-feed": Row(ANYONE, of=("feed",)),
    "sign-ins": Row(STAFF),
    "sign-ins-ending": staff_does(),
    "sign-in-ending": staff_does("any-mark"),
    "own-password": Row(STAFF, STAFF),
    "workroom": Row(OWNER),
    "workroom-helper": Row(OWNER, OWNER),
    "workroom-care": Row(OWNER),
    "workroom-care-paper": owner_does(),
    "workroom-tool-new": Row(OWNER, OWNER),
    "workroom-tool": Row(OWNER, OWNER, ("tool",)),
    "workroom-tool-usual": owner_does("tool"),
    "workroom-tool-away": owner_does("tool"),
    "workroom-week": Row(OWNER, OWNER, ("helper",)),
    "workroom-leave": owner_does("helper"),
    "workroom-comeback": owner_does("helper"),
    "workroom-take-along": Row(OWNER, OWNER),
    "customer-list": Row(OWNER),
    "customer": Row(OWNER, OWNER, ("customer",)),
    "customer-file": owner_does("customer"),
    "customer-forgetting": Row(OWNER, OWNER, ("customer",)),
    "taken-file": Row(OWNER, of=("taken",)),
    "workroom-part": Row(OWNER, OWNER, ("prices",)),
    "bench-iron": Row(STAFF, STAFF),
    **{name: Row(do=STAFF) for name in ("bench-iron-incident", "bench-taps")},
    "order-bench": Row(STAFF, of=("order",)),
    "bench-look": Row(STAFF, of=("order",)),
    "bench-look-done": staff_does("order", "panel"),
    "bench-cut-one": staff_does("order", "panel"),
    "bench-pile": Row(STAFF, STAFF, ("order", "iron")),
    **{f"bench-{noun}": staff_does("order") for noun in ("needles", "top", "cloth-cut", "cloth-paper")},
    "bench-cloth": Row(STAFF, of=("order",)),
    "bench-wall": Row(STAFF, STAFF, ("order",)),
    "bench-wall-verdict": staff_does("order"),
    "bench-cut-list": staff_does("order"),
    "bench-quilter": staff_does("order"),
    "bench-undo": staff_does("order", "deed"),
    **{f"stage-{noun}": staff_does("stage") for noun in ("start", "pause", "finish", "minutes")},
    "stage-pin": owner_does("stage"),
    "stage-batch": owner_does("stage"),
    "order-account": Row(OWNER, of=("order",)),
    "order-line": owner_does("order"),
    "order-line-removal": owner_does("order", "line"),
    "order-hours": owner_does("order"),
    "order-parts": owner_does("order"),
    "order-quote": owner_does("order"),
    "order-quote-acceptance": owner_does("order", 1),
    "order-quote-withdrawal": owner_does("order", 1),
    "order-payment": owner_does("order"),
    "order-payment-together": owner_does("order"),
    "order-payment-reversal": owner_does("order", "receipt"),
    **{f"order-exemption{rest}": owner_does("order") for rest in ("", "-removal")},
    "order-giving-back": owner_does("order", "receipt"),
    "order-bounce": owner_does("order", "receipt"),
    **{f"order-{noun}": owner_does("order") for noun in ("added", "credit", "tip", "write-off")},
    "order-calling-off": owner_does("order"),
    "order-proposal": owner_does("order", "storage"),
    "order-entry-reversal": owner_does("order", "entry"),
    "order-link": owner_does("order"),
    "order-link-closing": owner_does("order", "link"),
    "order-message": owner_does("order"),
    "order-people": owner_does("order"),
    **{f"order-{noun}": owner_does("order") for noun in ("payers", "pause", "going-on")},
    "order-paper": owner_does("order", "booklet"),
    "order-unclaimed-notice": owner_does("order"),
    "order-words": Row(OWNER, of=("order",)),
    "order-words-mail": owner_does("order"),
    "order-words-said": owner_does("order"),
    "enquiry-mail": owner_does("enquiry"),
    **{f"mail-{noun}": owner_does("mail") for noun in ("taking-back", "attempt", "putting-away")},
    "order-way-home": owner_does("order"),
    "order-parcel": Row(OWNER, OWNER, ("order",)),
    **{f"order-parcel-{noun}": owner_does("parcel") for noun in ("number", "arrival")},
    "order-same-as": owner_does("order"),
    "order-keep-off": owner_does("order"),
    "order-hand-over": Row(OWNER, OWNER, ("order",)),
    "books": Row(OWNER),
    "books-certificates": Row(OWNER, OWNER),
    "books-entries": Row(OWNER, of=("2027-05",)),
    "paper": Row(STAFF, of=("cut list",)),
    "for-you": Row(CUSTOMER),
    "for-you-price": Row(do=CUSTOMER),
    "for-you-picture": Row(do=CUSTOMER),
    "for-you-wish": Row(do=CUSTOMER),
    "for-you-label": Row(do=CUSTOMER),
    "for-you-cut": Row(CUSTOMER),
    "for-you-cut-pile": Row(do=CUSTOMER),
    "for-you-cut-one": Row(do=CUSTOMER, of=("her panel",)),
    "for-you-cut-photo": Row(CUSTOMER, of=("her photo", 320)),
    "for-you-photo": Row(CUSTOMER, of=("her photo", 320)),
    "for-you-whole": Row(CUSTOMER, of=("her picture",)),
    "for-you-open": Row(ANYONE, of=("token",)),
    "health": Row(ANYONE),
}  # fmt: skip


def address(name: str, row: Row, numbers: dict[str, Any]) -> str:
    """Return the address of a row, with the numbers of this shop."""
    return reverse(name, args=[numbers.get(part, part) if isinstance(part, str) else part for part in row.of])


def is_in(who: str, caller: str) -> bool:
    """Say whether a caller is among those a row names."""
    named = {NOBODY: (), STAFF: ("owner", "helper"), OWNER: ("owner",), CUSTOMER: ("customer",)}
    return who == ANYONE or caller in named[who]


def answer_to(answer: Any) -> str:
    """Say in a word what a caller got, as the table has it: in, the door, no, not found, or not so."""
    if answer.status_code >= 500:
        return f"a fault, {answer.status_code}"
    if answer.status_code == 302 and answer.url.startswith("/sign-in/?next="):
        return "the door"
    return {403: "no", 404: "not found", 405: "not so"}.get(answer.status_code, "in")


def expected(who: str, caller: str) -> str:
    """Return the word that a row has for a caller."""
    if not who:
        return "not so"
    if is_in(who, caller):
        return "in"
    if who == CUSTOMER:
        return "not found"
    return "no" if caller == "helper" else "the door"

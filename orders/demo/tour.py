"""A tour of the demo shop: every screen by name, shown by an order that has something to show there."""

from __future__ import annotations

from datetime import timedelta

from django.urls import reverse

from orders.models import Cloth, Enquiry, HeatTool, Incident, Order, Outside, Person, Shop

PLAIN = ("today", "quilts", "weeks", "weeks-calendar", "weeks-if", "shelf", "shopping", "bench-iron",
         "cloth-new", "books", "books-certificates", "workroom", "new-enquiry", "workroom-helper",
         "workroom-care", "workroom-tool-new", "workroom-take-along", "weeks-outside-new", "customer-list",
         "sign-ins", "own-password")  # fmt: skip
ROOMS = ("bag", "quilt", "bench", "account")
WHOLE = {"aunt": "surprise", "late": "send-off", "father": "father", "birthday": "birthday"}
SINGLE = {
    "quilt-sister": ("fortieth", "order-quilt"), "account-sister": ("fortieth", "order-account"),
    "account-band": ("band", "order-account"), "account-choir": ("choir", "order-account"),
    "account-club": ("jubilee", "order-account"),
    "account-repair": ("torn corner", "order-account"), "account-beside": ("frayed", "order-account"),
    "bag-repair": ("torn corner", "order-bag"), "bag-pillow": ("pillow", "order-bag"),
    "bench-swimmer": ("swimmer", "order-bench"), "to-cut": ("surprise", "bench-cloth"),
    "log": ("surprise", "order-log"), "wall": ("surprise", "bench-wall"),
    "asked": ("birthday", "order-quilt-asked"),
    "measuring": ("fortieth", "order-measuring"),
    "yes-father": ("father", "cut-yes"), "yes-sister": ("fortieth", "cut-yes"),
    "yes-birthday": ("birthday", "cut-yes"), "looks-father": ("father", "bench-look"),
    "arrival": ("surprise", "bag-arrival"), "hand-over": ("send-off", "order-hand-over"),
    "account-words": ("send-off", "order-words"), "account-parcel": ("jubilee", "order-parcel"),
}  # fmt: skip
PILES = {"table": "swimmer", "iron": "surprise", "ruler": "grandpa", "machine": "send-off"}
PARTS = ("shop", "prices", "rates", "cloth", "tax", "terms", "after", "words", "kept", "minutes", "quilter",
         "signing-in")  # fmt: skip


def owners_screens() -> dict[str, str]:
    """Return the address of each screen the owner sees, by a short name."""
    numbers = _numbers()
    aunt = numbers["surprise"]
    asking = list(Enquiry.objects.waiting())
    bag = Order.objects.get(number=aunt).bags.get()
    today = Shop.objects.get().today()
    monday = today - timedelta(days=today.weekday())
    return {
        **{name: reverse(name) for name in PLAIN},
        **{f"{room}-{who}": reverse(f"order-{room}", args=[numbers[words]])
           for who, words in WHOLE.items() for room in ROOMS},
        **{name: reverse(to, args=[numbers[words]]) for name, (words, to) in SINGLE.items()},
        **{f"pile-{at}": reverse("bench-pile", args=[numbers[words], at]) for at, words in PILES.items()},
        **{f"enquiry-{number}": reverse("enquiry", args=[each.pk]) for number, each in enumerate(asking, 1)},
        **{f"workroom-{part}": reverse("workroom-part", args=[part]) for part in PARTS},
        "workroom-week": reverse("workroom-week", args=[Person.objects.get(role=Person.Role.HELPER).pk]),
        "cloth": reverse("cloth", args=[Cloth.objects.get(name="Forest").pk]),
        "bag-facts": reverse("bag", args=[aunt, bag.pk]),
        **_of_shirts(numbers),
        "signing": reverse("bag-signing", args=[aunt, bag.pk]),
        "parcel": reverse("bag-parcel", args=[aunt, bag.pk]),
        "whole-bag": reverse("bag-whole", args=[aunt, bag.pk]),
        "found": f"{reverse('quilts')}?find=harrow",
        "places": reverse("bag-places", args=[aunt]),
        "leftovers": reverse("bag-leftovers", args=[numbers["send-off"]]),
        "find": reverse("find"),
        "shirt-found": reverse("find-code", args=[f"{aunt}-09F"]),
        "not-right": reverse("incident", args=[Incident.objects.first().pk]),  # type: ignore[union-attr]
        "workroom-tool": reverse("workroom-tool", args=[HeatTool.objects.get(kind="press").pk]),
        "garment": reverse("shirt-cloth", args=[aunt, 8]),
        "sheet": reverse("weeks-sheet", args=[monday.isoformat()]),
        "weeks-outside": reverse("weeks-outside", args=[Outside.objects.first().pk]),  # type: ignore[union-attr]
        **_of_customers(numbers, asking[0]),
        "put-away": f"{reverse('quilts')}?put-away=1",
        "block": f"{reverse('order-quilt', args=[numbers['band']])}?block=02",
        "new-price": f"{reverse('order-account', args=[aunt])}?quote=new",
    }  # fmt: skip


def _of_shirts(numbers: dict[str, int]) -> dict[str, str]:
    """Of a plain shirt, of two that are not, and of what is found in a photo."""
    photographed = [numbers["fortieth"], 2, "front"]
    return {
        "shirt": reverse("shirt", args=[numbers["surprise"], 7]),
        "shirt-apart": reverse("shirt", args=[numbers["father"], 5]),
        "shirt-group": reverse("shirt", args=[numbers["birthday"], 5]),
        "shirt-colors": reverse("shirt-colors", args=photographed),
        "measure": reverse("shirt-measuring", args=photographed),
        "crop": reverse("shirt-crop", args=photographed),
    }


def _of_customers(numbers: dict[str, int], asking: Enquiry) -> dict[str, str]:
    """Of one whose quilt is in work, and of one with whom all is settled."""
    whose = {who: Order.objects.get(number=numbers[words]).customer_id
             for who, words in (("aunt", "surprise"), ("choir", "choir"))}  # fmt: skip
    return {
        **{f"customer-{who}": reverse("customer", args=[pk]) for who, pk in whose.items()},
        **{f"customer-forgetting-{who}": reverse("customer-forgetting", args=[pk])
           for who, pk in whose.items()},
        "enquiry-forgetting": reverse("enquiry-forgetting", args=[asking.pk]),
    }  # fmt: skip


def helpers_screens() -> dict[str, str]:
    """Return the address of each screen a helper sees."""
    owners_alone = ("weeks", "books", "workroom", "cloth", "garment", "customer", "enquiry", "new-",
                    "account-", "hand-over")  # fmt: skip
    screens = owners_screens().items()
    return {name: address for name, address in screens if not name.startswith(owners_alone)}


def _numbers() -> dict[str, int]:
    words = {*WHOLE.values(), *PILES.values(), *(words for words, _ in SINGLE.values())}
    return {each: Order.objects.get(title__icontains=each).number for each in words}

"""The demo's shelf: cottons with swatches, wide backings, batting and interfacing."""

from __future__ import annotations

from orders.cloth import cloth_needs, garment_cloth
from orders.demo import pictures
from orders.models import Cloth, Order, Person, Shop
from orders.quilt.drawn import room_of
from planner.units import INCH, YARD

# name, kind, usable width in inches, cents a yard, color, eighths of a yard on hand, pattern, accent
CLOTHS = [
    ("Forest", "cotton", 40, 1200, "#234A34", 22, "mottled", "#3E6B50"),
    ("Gold", "cotton", 40, 1200, "#E2A71E", 6, "mottled", "#F0C75A"),
    ("Charcoal", "cotton", 40, 1200, "#4A4A4D", 28, "solid", "#5A5A5D"),
    ("Navy", "cotton", 40, 1200, "#1F2A4D", 16, "solid", "#2F3A60"),
    ("Maroon", "cotton", 40, 1200, "#6B1F2E", 12, "mottled", "#82404C"),
    ("Chalk white", "cotton", 40, 1200, "#F7F7F2", 42, "solid", "#FFFFFF"),
    ("Pale gray sprig", "cotton", 40, 1200, "#C9CBCD", 32, "print", "#8C9096"),
    ("Dusk stripe", "cotton", 40, 1250, "#8FA3B8", 14, "stripe", "#E6E9EE"),
    ("Wide black", "backing", 106, 1800, "#1A1A1A", 40, "solid", "#2A2A2A"),
    ("Wide light gray", "backing", 106, 1800, "#BFC3C6", 20, "print", "#A7ACB0"),
    ("Batting 80/20", "batting", 96, 1106, "", 88, "", ""),
    ("Light non-woven", "light non-woven", 20, 220, "", 112, "", ""),
    ("Low-heat tricot", "low-heat tricot", 60, 400, "", 40, "", ""),
    ("Tricot", "tricot", 60, 400, "", 16, "", ""),
    ("Woven fusible", "woven", 20, 300, "", 24, "", ""),
    ("Pebble", "cotton", 41, 1150, "#A5A29C", 18, "solid", "#B2AFA9"),
    ("Storm clouds", "cotton", 40, 1300, "#5D6670", 20, "mottled", "#7B858F"),
    ("Teal clouds", "cotton", 40, 1300, "#1B6E75", 11, "mottled", "#3B9096"),
    ("Brick clouds", "cotton", 40, 1300, "#9C3B2A", 9, "mottled", "#BE5A45"),
    ("Bright red", "cotton", 40, 1200, "#C21F2B", 8, "solid", "#CF3A44"),
    ("Royal", "cotton", 40, 1200, "#2350B0", 5, "solid", "#3562BE"),
    ("Cream dots", "cotton", 41, 1250, "#EFE5CE", 13, "print", "#B89A68"),
    ("Plum", "cotton", 40, 1200, "#4D2A5A", 7, "mottled", "#6A4478"),
    ("Carnival", "cotton", 40, 1400, "#FBF7EC", 10, "confetti", "#D81E5B"),
]
BONDS = {"light non-woven": 300, "low-heat tricot": 250, "tricot": 270, "woven": 300}
LOTS = {"Navy": "62", "Forest": "B118", "Storm clouds": "0417"}
WASHED = {"Bright red": "washed twice with a dye sheet", "Chalk white": "washed", "Maroon": "not washed yet"}
ONE_WAY = {"Dusk stripe"}
FAT_QUARTERS = {"Pale gray sprig": 200}  # cents each
ON_THE_PHOTO = 6 * INCH  # what a drawn swatch shows from side to side


def fill_shelf(*, by: Person) -> None:
    """Put every cloth on the shelf."""
    for seed, (name, kind, usable, cents, ground, eighths, pattern, accent) in enumerate(CLOTHS):
        cloth = Cloth.objects.create(
            name=name,
            kind=kind,
            width=(usable + 4) * INCH if kind == "cotton" else None,
            usable=usable * INCH,
            step=YARD // 8,
            price=str(cents),
            quarter_price=FAT_QUARTERS.get(name),
            ground=ground.lower(),
            shows=ON_THE_PHOTO if pattern else None,
            lot=LOTS.get(name, ""),
            wash=WASHED.get(name, ""),
            directional=name in ONE_WAY,
            bonds_at=BONDS.get(kind),
        )
        cloth.put_on_shelf(eighths * YARD // 8, by=by)
        if pattern:
            look = {"ground": ground, "pattern": pattern, "accent": accent}
            pictures.send_swatch(cloth, look, seed=500 + seed)


def set_aside(order: Order, shop: Shop, *, by: Person) -> None:
    """Set aside all that the layout of an order takes."""
    offer = room_of(order, shop).offer
    assert offer is not None
    cloth_needs.set_aside(order, cloth_needs.needs_of(offer, order, Cloth.objects.for_quilt(order)), by=by)


def a_sleeve_as_cloth(order: Order, *, by: Person) -> None:
    """Take the spare sleeve and a strip below the print of one shirt as cloth, with the approver's yes."""
    shirt = order.bags.get().shirts.get(number=8)
    for part, across, along in (("left sleeve", 11, 9), ("below the print", 18, 6)):
        size = {"width": across * INCH, "length": along * INCH}
        garment_cloth.add_rectangle(order, shirt, part=part, **size, by=by, client_id=None)
    garment_cloth.say_yes(order, shirt.as_cloth, said_by=order.approver, how="phone", by=by)

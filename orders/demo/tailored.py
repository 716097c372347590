"""Garments of woven or towelling cloth: a dress shirt, a robe and an apron."""

import numpy as np

from orders.demo.folds import Fold
from orders.demo.garments import Cut, Garment, body, flip, knit_folds, shifted_cut, sleeve
from orders.demo.pen import mirrored, rounded

SHIRT = Cut(
    neck=3.3, neck_front=2.6, neck_back=0.7, shoulder=9.7, slope=2.0, chest=11.2, armhole=10.6, waist=10.8,
    hem=10.4, long=30, sleeve=((14.6, 9.0), (16.2, 17.6), (15.3, 26.6), (11.9, 26.8), (12.1, 17.6)), cuff=2.3,
)  # fmt: skip
ROBE = Cut(
    neck=3.4, neck_front=3.0, neck_back=1.0, shoulder=10.6, slope=2.2, chest=12.6, armhole=12.4, waist=12.2,
    hem=13.6, long=43, sleeve=((15.6, 10), (18.4, 17.6), (18.0, 25.6), (12.7, 25.9), (13.2, 19)), cuff=3.0,
)  # fmt: skip


def box(left: float, top: float, right: float, bottom: float) -> np.ndarray:
    return np.array([(left, top), (right, top), (right, bottom), (left, bottom)], dtype=float)


def round_box(left: float, top: float, right: float, bottom: float) -> np.ndarray:
    """Return a patch pocket: square above, its lower corners cut off."""
    c = (right - left) * 0.18
    return np.array(
        [
            (left, top),
            (right, top),
            (right, bottom - c),
            (right - c, bottom),
            (left + c, bottom),
            (left, bottom - c),
        ]
    )


def closed(line: np.ndarray) -> np.ndarray:
    return np.concatenate([line, line[:1]])


def dress_shirt(side: str, rng: np.random.Generator) -> Garment:
    cut = SHIRT
    garment = Garment(cloth=(-9.6, 8.5, 9.6, 27), top=9)
    for turn in (1, -1):
        sleeve(garment, shifted_cut(cut, rng), turn)
    garment.bands, garment.trims = [], []
    body(garment, cut, cut.neck_front if side == "front" else cut.neck_back)
    tails(garment, cut)
    (shirt_front if side == "front" else shirt_back)(garment, cut)
    garment.folds += knit_folds(cut, rng)
    garment.folds += [Fold((-7, y), (7, y + rng.normal(0, 1)), wide=0.22, rise=0.055) for y in (12.5, 21.5)]
    return garment


def tails(garment: Garment, cut: Cut) -> None:
    """Add the curved tails of a shirt and the narrow hem that follows them."""
    x, y = cut.hem, cut.long
    curve = rounded(
        [(-x, y - 1.5), (-x * 0.72, y + 0.2), (-3, y + 1.7), (3, y + 1.7), (x * 0.72, y + 0.2), (x, y - 1.5)],
        closed=False,
    )
    garment.parts.append(np.concatenate([curve, [(x, y - 4), (-x, y - 4)]]))
    garment.whole = np.minimum(garment.whole, np.array([np.inf, y - 1.5]))
    garment.parts[-2] = garment.whole
    garment.stitches.append(curve - (0, 0.4))


def shirt_front(garment: Garment, cut: Cut) -> None:
    under = rounded([(-3.2, -0.3), (-1.7, 0.5), (0, 0.75), (1.7, 0.5), (3.2, -0.3)], closed=False)
    inside = np.concatenate([under, [(2.0, 1.9), (0, 3.1), (-2.0, 1.9)]])
    garment.seams.append(under)
    garment.parts.insert(0, rounded([(-3.5, 0.3), (-2.4, -1.1), (0, -1.4), (2.4, -1.1), (3.5, 0.3), (0, 3)]))
    garment.parts.append(np.array([(-3.4, 0.0), (3.4, 0.0), (1.4, 3.4), (-1.4, 3.4)]))
    garment.dark.append(inside)
    garment.tags.append(box(-0.75, 0.85, 0.75, 1.6))
    leaf = np.array([(0.15, 2.75), (2.2, 0.9), (3.4, -0.9), (4.5, 0.9), (3.9, 4.7)])
    for turn in (1, -1):
        shape = flip(leaf, turn)
        garment.parts.append(shape)
        garment.raised.append(shape)
        garment.seams.append(closed(shape))
        garment.stitches.append(flip([(0.5, 2.85), (3.65, 4.3), (4.2, 1.1)], turn))
    placket = box(-0.7, 3.0, 0.7, cut.long + 1.5)
    garment.raised.append(placket)
    garment.seams += [placket[[1, 2]], placket[[0, 3]]]
    garment.stitches += [placket[[1, 2]] - (0.2, 0), placket[[0, 3]] + (0.2, 0)]
    garment.buttons += [(0, y, 0.24) for y in np.arange(3.6, cut.long - 1, 3.7)]
    pocket = round_box(3.3, 9.6, 8.0, 15.2)
    garment.raised.append(pocket)
    garment.seams.append(closed(pocket))
    garment.stitches += [closed(round_box(3.5, 9.8, 7.8, 15.0)), np.array([(3.3, 10.7), (8, 10.7)])]


def shirt_back(garment: Garment, cut: Cut) -> None:
    stand = rounded(
        [(-3.5, 0.6), (-2.6, -0.9), (0, -1.3), (2.6, -0.9), (3.5, 0.6), (2.6, 1.5), (0, 1.8), (-2.6, 1.5)]
    )
    garment.parts.append(stand)
    garment.raised.append(stand)
    garment.seams.append(closed(stand))
    yoke = np.array([(-9.3, 5.4), (9.3, 5.4)])
    garment.seams.append(yoke)
    garment.stitches.append(np.add(yoke, (0, 0.22)))
    for x in (-0.75, 0.75):
        garment.folds.append(Fold((x, 5), (x * 1.4, 24), wide=0.28, rise=0.16))
        garment.seams.append(np.array([(x, 5.4), (x, 9.0)]))


def robe(side: str, rng: np.random.Generator) -> Garment:
    cut = ROBE
    garment = Garment(
        cloth=(-11.5, 27, 11.5, 41) if side == "front" else (-10, 5, 10, 23), top=28 if side == "front" else 7
    )
    for turn in (1, -1):
        sleeve(garment, shifted_cut(cut, rng), turn)
    garment.bands, garment.trims = [], []
    drop = 9.5 if side == "front" else cut.neck_back
    body(garment, cut, cut.neck_front if side == "front" else cut.neck_back)
    if side == "front":
        robe_front(garment, drop)
    belt = box(-12.4, 24.2, 12.4, 26.4)
    garment.raised.append(belt)
    garment.seams += [belt[[0, 1]], belt[[2, 3]]]
    if side == "front":
        knot(garment)
    garment.stitches.append(np.array([(-13.2, 42), (13.2, 42)]))
    garment.folds += knit_folds(cut, rng)
    return garment


def robe_front(garment: Garment, drop: float) -> None:
    inside = np.array([(-3.4, 0), (0, 1.0), (3.4, 0), (0.6, drop + 4)])
    garment.parts.insert(0, rounded([(-3.4, 0.1), (0, -0.6), (3.4, 0.1), (0, 4)]))
    garment.parts.append(np.array([(-3.4, 0), (3.4, 0), (1, drop + 4), (-1, drop + 4)]))
    garment.dark.append(inside)
    garment.tags.append(box(-0.7, 1.2, 0.7, 2.0))
    for turn in (-1, 1):
        lapel = flip([(3.2, -0.3), (5.6, 0.6), (5.0, 8), (1.2, 24.2), (-1.6, 24.2), (2.2, 8)], turn)
        garment.raised.append(lapel)
        garment.seams += [lapel[[1, 2, 3]], lapel[[0, 5, 4]]]
        garment.stitches.append(lapel[[1, 2, 3]] - (0.25 * turn, 0))
        pocket = flip(round_box(4.6, 28, 10.2, 34.4), turn)
        garment.raised.append(pocket)
        garment.seams.append(closed(pocket))
        garment.stitches.append(flip([(4.6, 29.3), (10.2, 29.3)], turn))
    garment.seams.append(np.array([(1.4, 26.4), (2.4, 43)]))


def knot(garment: Garment) -> None:
    middle = rounded([(-1.2, 23.9), (1.3, 23.8), (1.5, 26.8), (-1.3, 26.9)])
    for lean in (-2.4, 2.0):
        end = np.array([(-0.9, 26.2), (0.9, 26.2), (lean + 1.0, 36), (lean - 1.0, 36.2)])
        garment.raised.append(end)
        garment.seams.append(closed(end))
    garment.raised.append(middle)
    garment.seams.append(closed(middle))


def apron(side: str, rng: np.random.Generator) -> Garment:
    garment = Garment(cloth=(-4.8, 1.7, 4.8, 16.5), top=2.7)
    strap = np.concatenate(
        [rounded([(-4.9, 0.5), (-4.2, -5.5), (0, -7.5), (4.2, -5.5), (4.9, 0.5)], closed=False),
         rounded([(3.9, 0.5), (3.4, -4.8), (0, -6.5), (-3.4, -4.8), (-3.9, 0.5)], closed=False)]
    )  # fmt: skip
    right = np.concatenate(
        [[(5.2, 0.0)], rounded([(5.2, 0.2), (6.2, 5), (10, 9.5), (12.4, 10.5)], closed=False), [(12.6, 31.5)]]
    )
    whole = np.concatenate([right, mirrored(right, about=0)[::-1]])
    for turn in (1, -1):
        tie = rounded(
            [(12.2, 10.6), (14.6, 13), (15.2, 18), (14.2, 23), (13.4, 22.8), (14.2, 18), (13.8, 13.8)]
        )
        garment.parts.append(flip(tie, turn))
    garment.whole = whole
    garment.parts += [strap, whole]
    garment.stitches.append(closed(whole * (0.965, 0.975) + (0, 0.35)))
    garment.stitches.append(np.array([(-5.0, 0.9), (5.0, 0.9)]))
    if side == "front":
        pocket = round_box(-6.5, 18.5, 6.5, 26)
        garment.raised.append(pocket)
        garment.seams += [closed(pocket), np.array([(0, 18.5), (0, 26)])]
        garment.stitches += [closed(round_box(-6.3, 18.7, 6.3, 25.8)), np.array([(-6.5, 19.4), (6.5, 19.4)])]
    garment.folds += knit_folds(Cut(chest=8, armhole=9.5, hem=12, long=31, sleeve=()), rng)
    return garment

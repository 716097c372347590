"""Pictures for prints, from field and house; each fills a square of 100 by 100 and uses three colors."""

import numpy as np

from orders.demo.pen import CUT, Pen, around, mirrored, oval, rounded, turned


def kite(pen: Pen) -> None:
    pen.fill([(58, 2), (88, 30), (52, 66), (30, 24)])
    pen.fill([(58, 2), (88, 30), (61, 28.5)], 1)
    pen.fill([(30, 24), (61, 28.5), (52, 66)], 1)
    pen.line([(58, 2), (52, 66)], 1.8, 2)
    pen.line([(30, 24), (88, 30)], 1.8, 2)
    tail = rounded([(52, 66), (40, 76), (46, 86), (30, 92), (12, 97)], closed=False)
    pen.line(tail, 2.2)
    for x, y, angle in ((42, 75, -30), (40, 89, 20), (22, 95, -10)):
        bow = np.array([(-8, -5), (-8, 5), (8, -5), (8, 5)], dtype=float)
        pen.fill(np.add(turned(bow, angle), (x, y)), 2)


def bicycle(pen: Pen) -> None:
    for x in (24, 76):
        pen.ring(x, 64, 20, width=4.4)
        pen.ring(x, 64, 16, width=1.4, color=1)
        for spoke in range(0, 180, 30):
            pen.line([around(x, 64, 16, start=spoke)[0], around(x, 64, 16, start=spoke + 180)[0]], 0.9, 1)
    pen.line([(24, 64), (40, 38), (68, 38), (47, 64), (24, 64)], 4, 2)
    pen.line([(36, 31), (47, 64)], 4, 2)
    pen.line([(65, 27), (76, 64)], 4, 2)
    pen.cord([(29, 30), (43, 30)], 5)
    pen.cord(rounded([(65, 27), (74, 25), (79, 30), (74, 35)], closed=False), 3.6)
    pen.ring(47, 64, 6, width=3, color=1)
    pen.cord([(47, 64), (53, 75), (59, 75)], 2.6)


def fern(pen: Pen) -> None:
    spine = rounded([(50, 98), (49, 76), (50, 52), (52, 32), (55, 15)], closed=False)
    pen.line(spine, 2.6, 1)
    for number, share in enumerate(np.linspace(0.16, 0.95, 15)):
        x, y = spine[int(share * (len(spine) - 1))]
        long = 37 * np.sin(np.pi * (0.15 + 0.85 * (1 - share))) ** 0.8 + 3
        leaf = [(0, 0), (long * 0.4, -3.2), (long, -1), (long * 0.5, 3)]
        for side in (turned(leaf, -28), mirrored(turned(leaf, -28), about=0)):
            pen.blob(np.add(side, (x, y)), 2 if number % 5 == 2 else 0)


def compass(pen: Pen) -> None:
    pen.ring(50, 50, 45, width=4)
    pen.ring(50, 50, 37, width=1.6, color=2)
    for tick in range(0, 360, 15):
        pen.line([around(50, 50, 39, start=tick)[0], around(50, 50, 43, start=tick)[0]], 1.4, 2)
    for points, tip, waist in (((45, 135, 225, 315), 27, 9), ((0, 90, 180, 270), 41, 11)):
        for angle in points:
            for side, color in ((-1, 0), (1, 1)):
                half = [(50, 50), (50 + tip, 50), (50 + waist * 0.72, 50 + side * waist * 0.72)]
                pen.fill(turned(half, angle, about=(50, 50)), color)
    pen.disc(50, 50, 4, 2)


def cup(pen: Pen) -> None:
    pen.ring(76, 56, 13, width=6)
    pen.fill([(18, 36), (76, 36), (72, 74), (64, 84), (30, 84), (22, 74)])
    pen.fill(
        rounded(
            [
                (19, 46),
                (33, 42),
                (47, 49),
                (61, 42),
                (75, 46),
                (74, 57),
                (61, 53),
                (47, 60),
                (33, 53),
                (20, 57),
            ]
        ),
        1,
    )
    pen.blob([(6, 88), (48, 85), (88, 88), (70, 95), (48, 97), (24, 95)], 2)
    for x in (34, 48, 62):
        pen.cord(rounded([(x, 29), (x - 5, 22), (x + 4, 14), (x - 1, 5)], closed=False), 3.6, 2)


def tent(pen: Pen) -> None:
    for x, y, size in ((14, 30, 1.0), (88, 40, 0.8)):
        for row in range(3):
            top, wide = y + row * 13 * size, (8 + row * 4) * size
            pen.fill([(x, top), (x + wide, top + 20 * size), (x - wide, top + 20 * size)], 1)
    pen.disc(70, 17, 9, 2)
    pen.fill([(50, 22), (92, 88), (8, 88)], 0)
    pen.fill([(50, 40), (66, 88), (34, 88)], 2)
    pen.fill([(50, 40), (58, 88), (50, 88)], CUT)
    pen.line([(44, 13), (50, 23), (56, 13)], 2.6)
    pen.cord([(3, 91), (97, 91)], 3.4, 1)


def mountains(pen: Pen) -> None:
    pen.disc(68, 26, 16, 1)
    pen.fill([(36, 14), (76, 84), (0, 84)])
    pen.fill([(36, 14), (47, 33), (41, 38), (36, 31), (31, 40), (25, 33)], 2)
    pen.fill([(68, 32), (100, 78), (100, 84), (35, 84)], CUT)
    pen.fill([(68, 38), (100, 84), (40, 84)])
    pen.fill([(68, 38), (78, 53), (72, 57), (67, 51), (62, 58), (57, 54)], 2)
    for row, y in enumerate((90, 96)):
        pen.cord([(8 + row * 12, y), (92 - row * 12, y)], 3, 1 + row)


def key(pen: Pen) -> None:
    pen.ring(24, 34, 15, width=7)
    for angle in (0, 90, 180, 270):
        x, y = around(24, 34, 15, start=angle)[0]
        pen.disc(x, y, 5.4)
        pen.disc(x, y, 2.2, 2)
    pen.line([(35, 44), (82, 88)], 7)
    for x, y in ((62, 70), (72, 79)):
        pen.fill(np.add(turned([(0, -3), (18, -3), (18, 4), (12, 4), (12, 8), (0, 8)], -47), (x, y)), 1)
    pen.disc(82, 88, 5, 2)
    pen.blob([(70, 30), (76, 18), (88, 18), (88, 32), (70, 50), (52, 32), (52, 18), (64, 18)], 2)


def mushroom(pen: Pen) -> None:
    pen.blob([(40, 50), (60, 50), (60, 70), (66, 90), (50, 95), (34, 90), (40, 70)], 1)
    pen.fill(
        [
            *rounded([(6, 54), (14, 26), (50, 6), (86, 26), (94, 54)], closed=False),
            (70, 58),
            (50, 60),
            (30, 58),
        ]
    )
    for x, y, size in ((34, 26, 7), (60, 22, 6), (48, 42, 7), (76, 40, 6), (20, 43, 5)):
        pen.disc(x, y, size, 2)
    for x, lean in ((18, -5), (26, 2), (76, -2), (84, 6)):
        pen.fill([(x - 2, 95), (x + lean, 76), (x + 2.5, 95)], 2)


def moon(pen: Pen) -> None:
    pen.disc(46, 50, 42)
    pen.disc(64, 40, 36, CUT)
    for x, y, size, color in ((66, 34, 15, 1), (86, 64, 8, 1), (88, 14, 7, 2), (46, 44, 6, 2)):
        star = [
            around(x, y, size * (1 if tip % 2 == 0 else 0.42), start=tip * 36 - 90)[0] for tip in range(10)
        ]
        pen.fill(star, color)
    pen.line(around(46, 50, 34, start=70, end=200), 2.4, 2)


def drum(pen: Pen) -> None:
    pen.fill([(14, 40), (86, 40), (86, 80), *oval(50, 80, 36, flat=0.3, start=0, end=180), (14, 80)], 1)
    pen.line([(15, 44), (29, 84), (43, 50), (57, 88), (71, 50), (85, 82)], 3, 2)
    for y in (40, 79):
        pen.line(oval(50, y, 36, flat=0.3, start=0, end=180), 6)
    pen.fill(oval(50, 38, 36, flat=0.3))
    pen.fill(oval(50, 38, 30, flat=0.28), 2)
    for stick in ([(8, 8), (54, 34)], [(92, 6), (44, 30)]):
        pen.cord(stick, 6, CUT)
        pen.cord(stick, 3.6)
        pen.disc(stick[1][0], stick[1][1], 4)


def acorn(pen: Pen) -> None:
    pen.blob([(26, 44), (50, 40), (74, 44), (72, 66), (50, 96), (28, 66)])
    pen.blob([(20, 42), (28, 24), (50, 18), (72, 24), (80, 42), (50, 49)], 1)
    for x, y in ((34, 34), (44, 28), (56, 28), (66, 34), (39, 41), (50, 36), (61, 41)):
        pen.line(around(x, y - 3, 5, start=30, end=150), 1.8, 2)
    pen.cord(rounded([(50, 20), (50, 10), (57, 4)], closed=False), 5, 1)
    pen.blob([(57, 8), (72, 0), (92, 6), (84, 18), (68, 18)], 2)
    pen.line(rounded([(37, 54), (38, 68), (46, 82)], closed=False), 2.4, 2)


def sun(pen: Pen) -> None:
    for ray in range(16):
        wide, tall = (6, 47) if ray % 2 == 0 else (4, 39)
        pen.fill(
            turned([(50, 50 - tall), (50 + wide, 50 - 26), (50 - wide, 50 - 26)], ray * 22.5, about=(50, 50)),
            ray % 2,
        )
    pen.disc(50, 50, 25)
    pen.ring(50, 50, 20, width=2.4, color=2)
    pen.blob([(50, 38), (58, 50), (50, 62), (42, 50)], 2)

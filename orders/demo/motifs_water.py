"""Pictures for prints, from the shore; each fills a square of 100 by 100 and uses three colors."""

import numpy as np

from orders.demo.pen import CUT, Pen, around, mirrored, rounded


def wave_line(y: float, *, start: float = 4, end: float = 96, high: float = 4) -> list[tuple[float, float]]:
    xs = np.linspace(start, end, 60)
    return [(x, y - high * np.sin((x - start) / 23 * 2 * np.pi)) for x in xs.tolist()]


def anchor(pen: Pen) -> None:
    pen.ring(50, 14, 8, width=6)
    pen.fill([(46.5, 22), (53.5, 22), (54.5, 90), (45.5, 90)])
    pen.cord([(31, 34), (69, 34)], 7)
    pen.line(around(50, 56, 34, start=12, end=168), 8)
    for fluke in ([(10, 52), (6, 76), (27, 66)], [(90, 52), (94, 76), (73, 66)]):
        pen.fill(fluke)
    rope = rounded(
        [(56, 8), (70, 16), (60, 29), (43, 40), (41, 52), (58, 60), (61, 72), (46, 84)], closed=False
    )
    pen.cord(rope, 4.6, CUT)
    pen.cord(rope, 3, 1)
    pen.disc(31, 34, 4, 2)
    pen.disc(69, 34, 4, 2)


def lighthouse(pen: Pen) -> None:
    pen.fill([(55, 17), (100, 4), (100, 34)], 1)
    pen.fill([(45, 17), (0, 4), (0, 34)], 1)
    pen.fill([(41, 28), (59, 28), (66, 86), (34, 86)])
    for top, left, right in ((36, 40.2, 59.8), (54, 38.2, 61.8), (71, 36, 64)):
        pen.fill([(left - 0.2, top), (right + 0.2, top), (right + 1.2, top + 8), (left - 1.2, top + 8)], 2)
    pen.fill([(36, 24), (64, 24), (64, 28), (36, 28)], 2)
    pen.fill([(43, 11), (57, 11), (57, 24), (43, 24)])
    pen.fill([(46, 13), (54, 13), (54, 22), (46, 22)], 1)
    pen.fill([(40, 11), (50, 1), (60, 11)], 2)
    pen.blob([(14, 96), (26, 84), (44, 86), (62, 83), (80, 88), (90, 97), (50, 99)])
    pen.line(wave_line(93, start=20, end=84, high=2), 2, 2)


def waves(pen: Pen) -> None:
    pen.disc(50, 38, 25, 1)
    for ray in range(190, 360, 20):
        pen.line([around(50, 38, 30, start=ray)[0], around(50, 38, 38, start=ray)[0]], 3, 1)
    for number, y in enumerate((52, 65, 78, 91)):
        pen.line(wave_line(y), 9, CUT)
        pen.cord(wave_line(y), 5.5, 2 if number % 2 else 0)


def boat(pen: Pen) -> None:
    pen.blob([(54, 8), (66, 24), (78, 44), (86, 62), (70, 61), (54, 61)])
    pen.fill([*rounded([(47, 16), (38, 34), (26, 50), (14, 61)], closed=False), (47, 61)], 1)
    pen.fill([(49, 4), (52, 4), (52, 70), (49, 70)])
    pen.fill([(50.5, 4), (64, 8), (50.5, 12)], 2)
    pen.fill([*rounded([(8, 67), (14, 78), (24, 85), (50, 87), (78, 85), (92, 67)], closed=False)], 2)
    pen.line([(14, 74), (88, 74)], 2.4)
    for y in (92, 98):
        pen.line(wave_line(y, start=2 + (98 - y), end=98 - (98 - y), high=1.6), 2.4, 1)


def fish(pen: Pen) -> None:
    body = rounded([(4, 50), (18, 36), (40, 28), (62, 36), (78, 50), (62, 64), (40, 72), (18, 64)])
    pen.fill([(72, 50), (97, 30), (90, 50), (97, 70)], 1)
    pen.blob([(34, 32), (48, 16), (62, 20), (60, 36)], 1)
    pen.blob([(38, 68), (48, 82), (58, 80), (56, 66)], 1)
    pen.fill(body)
    pen.line(around(4, 50, 26, start=-32, end=32), 2.6, 2)
    for x in (42, 54, 66):
        for y in (42, 50, 58):
            if abs(y - 50) < 26 - abs(x - 40) * 0.8:
                pen.line(around(x - 6, y, 6, start=-50, end=50), 2, 2)
    pen.disc(17, 46, 4, 2)
    pen.disc(17, 46, 1.8)


def whale(pen: Pen) -> None:
    pen.blob(
        [(8, 58), (16, 40), (38, 32), (60, 40), (76, 56), (86, 46), (94, 56), (80, 76), (54, 84), (22, 80)]
    )
    pen.blob([(86, 52), (74, 38), (80, 34), (88, 42), (98, 36), (99, 42), (92, 54)])
    pen.blob([(11, 69), (28, 76), (48, 77), (66, 72), (60, 81), (50, 84), (24, 80)], 1)
    pen.blob([(42, 62), (56, 64), (62, 74), (52, 76)], 2)
    pen.line(around(15, 60, 7, start=10, end=110), 1.8, 2)
    pen.disc(27, 53, 2.4, 2)
    for spout in ([(38, 31), (37, 20), (28, 14), (24, 19)], [(38, 31), (40, 18), (50, 13), (54, 19)]):
        pen.cord(rounded(spout, closed=False), 3.4, 1)
    pen.line(wave_line(93, high=2.5), 3, 1)


def oars(pen: Pen) -> None:
    for color, flip in ((1, False), (0, True)):
        shaft: list[tuple[float, float]] = [(14, 92), (70, 28)]
        blade = rounded([(66, 30), (74, 14), (88, 6), (93, 12), (86, 26), (71, 34)])
        pen.cord(mirrored(shaft) if flip else shaft, 7.5, CUT)
        pen.cord(mirrored(shaft) if flip else shaft, 5, color)
        pen.fill(mirrored(blade) if flip else blade, color)
        tip = [(83, 7.5), (90, 6), (93, 12), (89, 20)]
        pen.blob(mirrored(tip) if flip else tip, 2)
    pen.disc(50, 51, 6, 2)
    for y in (88, 96):
        pen.line(wave_line(y, start=26, end=74, high=2), 3, 1)


def bird(pen: Pen) -> None:
    pen.blob([(10, 44), (22, 32), (38, 34), (56, 50), (80, 62), (98, 76), (72, 74), (44, 74), (22, 64)])
    pen.fill([(12, 40), (0, 47), (13, 50)], 1)
    pen.blob([(34, 48), (42, 24), (62, 6), (84, 2), (78, 22), (70, 40), (56, 56)], 2)
    for feather in ([(44, 44), (54, 24), (74, 8)], [(51, 48), (62, 30), (76, 20)]):
        pen.line(rounded(feather, closed=False), 1.8)
    pen.disc(20, 42, 2.4, 2)
    pen.blob([(20, 60), (32, 66), (48, 69), (44, 74), (28, 70)], 1)
    for x in (40, 48):
        pen.line([(x, 73), (x + 2, 84), (x - 4, 87)], 2, 1)

"""A panel as it lies on the board, wrong side up or right side up: its print, its edge, its tape."""

from __future__ import annotations

from dataclasses import dataclass

from orders.bench.bench import Cutting

BOARD = 520
EDGE = 60
PLAIN = "#8c8271"
NUMBERED = 18  # characters of a tape at most


@dataclass(frozen=True)
class LyingPanel:
    """Places on a board of 520 × 520; `print_*` is where the print is, seen or underneath."""

    x: float
    y: float
    width: float
    height: float
    print_x: float
    print_y: float
    print_width: float
    print_height: float
    color: str
    name: str
    is_face_down: bool

    @property
    def ink(self) -> str:
        """Return a color that can be read on the panel."""
        red, green, blue = (int(self.color[at : at + 2], 16) for at in (1, 3, 5))
        return "#ffffff" if red * 299 + green * 587 + blue * 114 < 140_000 else "#23283a"

    @property
    def middle(self) -> tuple[float, float]:
        """Return the middle of the print."""
        return self.print_x + self.print_width / 2, self.print_y + self.print_height / 2

    @property
    def fringe(self) -> str:
        """Return the frayed edge of a rough cut as short lines all round."""
        right, bottom = self.x + self.width, self.y + self.height
        level = list(range(int(self.x) + 8, int(right) - 4, 14))
        upright = list(range(int(self.y) + 8, int(bottom) - 4, 14))
        lines = [f"M{at} {self.y:.0f}l{(at % 5) - 2} -{7 + at % 6}" for at in level]
        lines += [f"M{at} {bottom:.0f}l{2 - (at % 5)} {7 + at % 6}" for at in level]
        lines += [f"M{self.x:.0f} {at}l-{7 + at % 6} {(at % 5) - 2}" for at in upright]
        lines += [f"M{right:.0f} {at}l{7 + at % 6} {2 - (at % 5)}" for at in upright]
        return "".join(lines)


def lying(cutting: Cutting) -> LyingPanel:
    """Return a panel drawn to its own proportions; wrong side up it is seen from behind, so left is right."""
    piece, rough = cutting.piece, cutting.sizes.rough
    scale = (BOARD - 2 * EDGE) / max(rough.width, rough.height)
    width, height = rough.width * scale, rough.height * scale
    wide, high = min(piece.print_width * scale, width - 24), min(piece.print_height * scale, height - 24)
    is_face_down = cutting.care.side == "back"
    # The blade moved toward one side leaves the print nearer to the other; from behind it is mirrored.
    right = piece.shift_x * scale * (1 if is_face_down else -1)
    x, y = (BOARD - width) / 2, (BOARD - height) / 2
    at_x = min(max(x + (width - wide) / 2 + right, x + 12), x + width - wide - 12)
    at_y = min(max(y + (height - high) / 2 - piece.shift_y * scale, y + 12), y + height - high - 12)
    return LyingPanel(
        x=round(x, 1),
        y=round(y, 1),
        width=round(width, 1),
        height=round(height, 1),
        print_x=round(at_x, 1),
        print_y=round(at_y, 1),
        print_width=round(max(wide, 24), 1),
        print_height=round(max(high, 24), 1),
        color=piece.ground or PLAIN,
        name=cutting.name[:NUMBERED],
        is_face_down=is_face_down,
    )

"""How far the blocks of an order are through a stage, and what that leaves to do."""

from __future__ import annotations

from typing import Any

from orders.models import Block, Stage

BLOCK_STAGES = {"cut": "cut", "fuse": "fused", "trim": "trimmed", "join": "joined"}
ORDER_OF_PROGRESS = Block.Progress.values


def pile_of(order: Any, kind: str) -> tuple[int, int]:
    """Return how many blocks are through a stage, and of how many; (0, 0) where blocks are not counted."""
    if kind not in BLOCK_STAGES:
        return 0, 0
    reached = ORDER_OF_PROGRESS.index(BLOCK_STAGES[kind])
    blocks = [block for block in order.blocks.all() if block.piece_id or kind == "join"]
    return sum(ORDER_OF_PROGRESS.index(block.progress) >= reached for block in blocks), len(blocks)


def minutes_left(order: Any, stage: Stage) -> int:
    """Return the minutes a stage still takes: by the blocks that wait once some are through, or the clock.

    Rounded up. Piles are tapped where no clock runs, and a clock that ran long does not fuse a block.
    """
    if stage.done_at is not None:
        return 0
    through, of = pile_of(order, stage.kind)
    if 0 < through < of:
        return -(-stage.minutes * (of - through) // of)
    return stage.left

"""What stands on the paper of a quilt picture: the picture, what was left out, what was given up."""

from __future__ import annotations

import io
from typing import Any

from orders.account.money import the_shop
from orders.models import DesignVersion
from orders.quilt import quilt_print
from orders.yes.asked_picture import Asked, asked_of
from orders.yes.picture_standing import changed_since_the_yes

from .saying import Saying

# Lines that fit on the sheet beside the picture, and letters that fit on one of them.
MOST_BESIDE, IN_A_LINE = 7, 30


def picture_facts(of: DesignVersion) -> dict[str, Any]:
    """Return the facts of a version as it was asked about; its picture is drawn when the paper is set."""
    shop, order, asked = the_shop(), of.order, asked_of(of)
    say = Saying(shop)
    changes = [change.words for change in changed_since_the_yes(of, unit=shop.unit)]
    asks_to_move = not order.memorial and not hasattr(order, "leave_to_move")
    return {
        "picture": of.pk,
        "version": of.number,
        "order": order.number,
        "title": order.title,
        "on": say.day(shop.today()),
        "size": say.size(asked.quilt.size),
        "blocks": len(asked.quilt.cells),
        "approver": order.approver,
        "answer_by": say.day(of.answer_by),
        "keeps": say.day(order.promised_for) if of.answer_by else "",
        "changes": changes,
        "left_out": [list(each) for each in asked.left_out],
        "compromises": asked.compromises,
        "cloth": [list(each) for each in asked.cloth],
        "asks_to_move": asks_to_move,
        "words": asked.words,
        "is_long": _is_long(asked, changes),
    }


def _is_long(asked: Asked, changes: list[str]) -> bool:
    """Say whether the words about it fill more than what one sheet leaves beside the picture."""
    columns = ([" ".join(each) for each in asked.left_out], asked.compromises)
    above = 3 + len(changes) if changes else 0  # their heading, and the words below them
    return above + max(sum(-(-len(words) // IN_A_LINE) for words in each) for each in columns) > MOST_BESIDE


def jpeg_for(version: int) -> bytes:
    """Return the picture of a version for its paper, which says below and beside it what it is of."""
    of = DesignVersion.objects.select_related("order", "picture").get(pk=version)
    asked: Asked = asked_of(of)
    sheet, edge = quilt_print.picture_of(asked.quilt, asked.view()), quilt_print.EDGE
    out = io.BytesIO()
    quilt = sheet.crop((edge, edge, sheet.width - edge, sheet.height - edge))
    quilt.save(out, "JPEG", quality=85, optimize=True)
    return out.getvalue()

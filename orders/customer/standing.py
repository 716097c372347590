"""Mails that go by themselves: only kinds the owner switched on, never to mourners or into trouble."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from typing import Any

from django.utils import timezone

from orders.background import errands
from orders.customer import drafts, mailing
from orders.customer.drafts import Draft
from orders.customer.telling import days_since, unanswered_picture
from orders.models import Mail, Order, Shop

# Days after the occasion, counted in whole days of the shop: common practice, a first and a second time.
KINDS = {
    "yes": ("A yes to the picture is wanted", (3, 10)),
    "ready": ("The quilt is ready", (0,)),
    "balance": ("A balance is open", (7, 21)),
}


def switched_on(shop: Shop) -> list[str]:
    """Return the kinds that may go without a tap; none, until the owner switched one on."""
    return [kind for kind in shop.words.get("alone", []) if kind in KINDS]


@errands.daily("words of the day", seconds=300, megabytes=500)
def words_of_the_day(errand: Any) -> str:
    """Send what is due by itself, and take up mails that lost their errand; done twice, it sends once."""
    shop = Shop.objects.the()
    if shop is None or not mailing.is_on():
        return "Mail is off."
    for mail in Mail.objects.on_their_way():
        mailing.take_up(mail)
    sent = [mail for order in _asked_about(shop) for mail in send_due(order, shop)]
    return f"{len(sent)} mail{'' if len(sent) == 1 else 's'} written."


def _asked_about(shop: Shop) -> Iterator[Any]:
    if switched_on(shop):
        yield from Order.objects.in_the_workroom().with_state().select_related("customer")


def send_due(order: Any, shop: Shop) -> list[Mail]:
    """Send the kinds that are switched on and due for an order; each time of each occasion has one key."""
    if drafts.why_reminders_rest(order) or order.paused_at is not None or order.not_on == shop.today():
        return []
    sent = []
    for draft in drafts.drafts_of(order, shop):
        key = _key_due(draft, order, shop)
        if key and not Mail.objects.filter(key=key).exists() and not _spoken_to_lately(order):
            letter = mailing.Letter(draft.kind, draft.subject, draft.words)
            try:
                sent.append(mailing.mail_order(order, letter, key=key, by=None))
            except mailing.CannotMail:
                continue
    return sent


def _key_due(draft: Draft, order: Any, shop: Shop) -> str:
    """Return the key of the last time that has come for a kind, nothing before the first."""
    if draft.kind not in switched_on(shop):
        return ""
    since, what = _occasion(draft.kind, order)
    if since is None:
        return ""
    days = days_since(since, order, shop.today())
    come = [time for time in KINDS[draft.kind][1] if time <= days]
    return f"alone {draft.kind} {order.pk} {what} {come[-1]}" if come else ""


def _occasion(kind: str, order: Any) -> tuple[Any, str]:
    """Return since when something is so, and which one it is."""
    if kind == "yes":
        picture = unanswered_picture(order)
        return (picture.asked_at, f"picture {picture.pk}") if picture else (None, "")
    done = [stage.done_at for stage in order.stages.all() if stage.done_at]
    return (max(done), "ready") if done else (None, "")


def _spoken_to_lately(order: Order) -> bool:
    """Say whether words of any kind reached her within a day: nobody is written to twice in a row."""
    return order.messages.filter(at__gte=timezone.now() - timedelta(days=1)).exists()

"""Words to copy into a text message, for the many customers who answer that way."""

from __future__ import annotations

from datetime import date
from urllib.parse import quote as in_url

from orders.account import money
from orders.models import Customer, Order, Quote, Shop
from orders.templatetags.shop import day as short
from orders.templatetags.shop import money as written


def words_for(order: Order, waiting: Quote | None, owing: money.Owing, shop: Shop) -> str:
    """Return what there is to say about price and money now, or nothing."""
    yours = f"{upper_first(order.your_thing)}, No. {order.number}"
    if waiting is not None:
        return plain(_of_a_quote(order, waiting, shop))
    left = left_to_pay(order, owing)
    first = min(owing.deposit_left, left)
    if first > 0:
        return plain(f"{yours}: a deposit of {written(first, shop)} holds your spot.")
    if left > 0 and order.handed_over_at is None:
        return plain(f"{yours}: {written(left, shop)} is still open.")
    return ""


def left_to_pay(order: Order, owing: money.Owing) -> int:
    """Return what its customer has still to pay, in minor units: her own part where others pay too."""
    shares = money.shares_of(order, owing)
    if len(shares) < 2:
        return owing.balance
    return next((each.left for each in shares if each.payer.pk == order.customer_id), 0)


def _of_a_quote(order: Order, quote: Quote, shop: Shop) -> str:
    total, deposit = written(quote.total_of_all, shop), written(quote.deposit_of_all, shop)
    first = f", {deposit} of it first" if quote.deposit_of_all else ""
    numbers = " and ".join(f"No. {each['order']}" for each in quote.together)
    alone = f"{upper_first(order.your_thing)}, No. {order.number}"
    which = f"{numbers}, together" if numbers else alone
    planned = f" Planned for {short(quote.planned_for, shop.today())}." if quote.planned_for else ""
    until = short(quote.valid_until, shop.today())
    tax = " with tax" if quote.tax else ""
    return f"{which}: {total}{tax}{first}.{planned} It stands until {until}."


def upper_first(words: str) -> str:
    """Return words as a sentence begins."""
    return words[:1].upper() + words[1:]


def plain(words: str) -> str:
    """Return words as a text message takes them, without the spaces that do not break."""
    return words.replace("\N{NO-BREAK SPACE}", " ")


def as_text_message(order: Order, words: str, *, shop: Shop) -> str:
    """Return the address that opens a text message on a phone; none while a surprise must be kept."""
    number = "".join(
        each for each in order.customer.phone if (each.isascii() and each.isdigit()) or each == "+"
    )
    return (
        f"sms:{number}?&body={in_url(words, safe='')}"
        if words and number and not is_quiet(order, shop)
        else ""
    )


def as_mail(order: Order, subject: str, words: str, *, shop: Shop) -> str:
    """Return the address that opens a mail (RFC 6068: lines end in %0D%0A); none while a surprise is kept."""
    address = order.customer.email
    if not (words and address) or is_quiet(order, shop):
        return ""
    body = words.replace("\r\n", "\n").replace("\n", "\r\n")
    return (
        f"mailto:{in_url(address, safe='@')}?subject={in_url(subject, safe='')}&body={in_url(body, safe='')}"
    )


def is_quiet(order: Order, shop: Shop) -> bool:
    """Say whether a surprise keeps every word from them for now."""
    return order.customer.is_quiet(on=shop.today())


def quiet_reached_by(reach: str, *, on: date) -> Customer | None:
    """Return the customer a way to reach somebody leads to, where a surprise keeps every word from them."""
    return Customer.objects.kept_quiet(on=on).reached_by(reach).first()

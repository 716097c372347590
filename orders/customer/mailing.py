"""Mails by SMTP: written with the tap that sends them, handed over once, told when they do not go.

Never twice: before the first byte of the words leaves, the mail is marked as going. An attempt that ends
between that mark and the server's answer leaves it unsure, and only another tap sends it again.
"""

from __future__ import annotations

import smtplib
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from datetime import timedelta
from email.utils import formataddr
from hashlib import sha256
from typing import Any

from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.mail import EmailMultiAlternatives, get_connection
from django.core.validators import validate_email
from django.db import transaction
from django.template.loader import render_to_string
from django.utils import timezone

from orders.account.money import the_shop
from orders.background import errands
from orders.customer.sending import quiet_reached_by
from orders.models import Enquiry, Errand, Event, Incident, Mail, Message, Order, Person
from orders.models.mail import Moved

# Two attempts in the first hour, then one every two hours, for five days: what RFC 5321, 4.5.4.1, asks of
# whoever has mail to hand on (from memory). The first rest is short: most faults are over in minutes.
RESTS = (timedelta(minutes=5), timedelta(minutes=30), timedelta(minutes=30))
LATER, MOST_TRIES = timedelta(hours=2), 62
NO_ANSWER = "The mail server does not answer."
NOT_LET_IN = "The mail server does not take the shop’s name and password."
SWITCHED_OFF = "Mail is switched off: no mail server is named in the settings."
A_SURPRISE = "It is a surprise: nothing may reach them yet."
NOT_KNOWN = "It was cut off while the mail server took it, so it may have gone. Ask before you send it again."


@dataclass(frozen=True)
class Letter:
    """What goes out: which kind of words, the line above them, and the words."""

    kind: str
    subject: str
    words: str


class CannotMail(Exception):
    """Why a mail is not even written down; the text is for the maker."""


def is_on() -> bool:
    """Say whether the shop can mail at all."""
    return bool(settings.EMAIL_HOST and settings.DEFAULT_FROM_EMAIL)


@transaction.atomic
def mail_order(order: Order, letter: Letter, *, key: str, by: Person | None) -> Mail:
    """Send words about an order to its customer; the same key sends them once."""
    customer = order.customer
    if customer.is_quiet(on=the_shop().today()):
        raise CannotMail(A_SURPRISE)
    if not customer.email:
        raise CannotMail(f"No mail address of {customer.name} is written down.")
    return _send(letter, key=key, by=by, order=order, to=customer.name, address=customer.email)


@transaction.atomic
def mail_enquiry(enquiry: Enquiry, letter: Letter, *, key: str, by: Person) -> Mail:
    """Answer an enquiry by mail; the same key sends it once."""
    address = enquiry.reach.split()[-1]
    if "@" not in address:
        raise CannotMail(f"No mail address of {enquiry.name} is written down.")
    if quiet_reached_by(enquiry.reach, on=the_shop().today()) is not None:
        raise CannotMail(A_SURPRISE)
    return _send(letter, key=key, by=by, enquiry=enquiry, to=enquiry.name, address=address)


def _send(letter: Letter, *, key: str, by: Person | None, **to: Any) -> Mail:
    if not is_on():
        raise CannotMail(SWITCHED_OFF)
    try:
        validate_email(to["address"])
    except ValidationError:
        raise CannotMail(f"“{to['address']}” is no mail address.") from None
    told = {"kind": letter.kind, "subject": one_line(letter.subject), "words": letter.words, "by": by}
    mail, is_new = Mail.objects.get_or_create(key=key, defaults=told | to)
    if is_new:
        # Whoever only asks has no order, and what happens without one keeps no name of theirs.
        whom = {"to": mail.to} if mail.order else {"enquiry": mail.enquiry_id}
        Event.objects.note("mail written", by=by, order=mail.order, mail=mail.pk, **whom)
        _send_errand(mail, "1")
    return mail


def _send_errand(mail: Mail, attempt: str) -> Errand:
    return errands.send(
        "mail", key=f"{mail.pk} {attempt}", payload={"mail": mail.pk}, cause=f"mail {mail.pk}"
    )


def one_line(words: str) -> str:
    """Return words as a header takes them: on one line, without what does not print."""
    return " ".join("".join(each if each.isprintable() else " " for each in words).split())


def send_again(mail: Mail, *, by: Person) -> Mail:
    """Send a mail anew that was refused, or of which nobody knows; it is another mail."""
    if mail.state not in (Mail.State.UNSURE, Mail.State.REFUSED):
        return mail
    if is_for_later(mail):
        raise CannotMail(A_SURPRISE)
    letter = Letter(mail.kind, mail.subject, mail.words)
    mail.put_away()
    of = {"order": mail.order, "enquiry": mail.enquiry, "to": mail.to, "address": mail.address}
    with transaction.atomic():
        return _send(letter, key=f"again {mail.pk}", by=by, **of)


def is_for_later(mail: Mail) -> bool:
    """Say whether a surprise keeps it back by now; the day may be younger than the mail."""
    on = the_shop().today()
    if mail.order is not None:
        return mail.order.customer.is_quiet(on=on)
    return mail.enquiry is not None and quiet_reached_by(mail.enquiry.reach, on=on) is not None


def try_now(mail: Mail) -> None:
    """Do not wait for the next attempt."""
    waiting = Errand.objects.filter(kind="mail", payload__mail=mail.pk, state="waiting")
    if waiting.update(due_at=timezone.now()):
        errands.wake.set()
    else:
        take_up(mail)


def take_up(mail: Mail) -> None:
    """Give a mail that has still to go an errand again, where it has lost its own."""
    open_errands = Errand.objects.still_open().filter(kind="mail", payload__mail=mail.pk)
    if mail.is_open and not open_errands.exists():
        _send_errand(mail, f"taken up after {Errand.objects.filter(payload__mail=mail.pk).count()}")


@errands.errand("mail", seconds=90, megabytes=300)
def hand_to_server(errand: Any) -> str:
    """Hand one mail to the mail server, unless it went before, was taken back, or may have gone."""
    mail = Mail.objects.select_related("order", "enquiry", "by").get(pk=errand.payload["mail"])
    if mail.state == Mail.State.GOING:
        mail.doubt(NOT_KNOWN)
        return NOT_KNOWN
    try:
        if is_for_later(mail):
            mail.refuse(f"{A_SURPRISE} Send it again after their day.")
            return mail.why
        mail.begin()
        _attempt(mail)
    except Moved:
        mail.refresh_from_db()
        return f"Nothing was sent. {mail.get_state_display()}."
    if mail.state != Mail.State.GOING:
        return mail.why
    with transaction.atomic():
        mail.arrive()
        _write_down(mail)
        errand.finish("Handed to the mail server.")
    return "Handed to the mail server."


def _attempt(mail: Mail) -> None:
    """Hand it over; raises NotNow or Moved, or leaves the mail going (taken), refused or unsure."""
    if not is_on():
        raise _later(mail, SWITCHED_OFF)
    connection = _called(mail)
    try:
        _watch(connection, mail.go)
        message_of(mail, connection).send()
    except Moved:
        raise
    except (smtplib.SMTPException, OSError) as fault:
        _after(fault, mail)
    finally:
        _hang_up(connection)


def _called(mail: Mail) -> Any:
    """Return the mail server on the line; whatever goes wrong so early is no fault of the mail."""
    connection = get_connection()
    try:
        connection.open()
    except smtplib.SMTPAuthenticationError:
        _hang_up(connection)
        raise _later(mail, NOT_LET_IN) from None
    except (smtplib.SMTPException, OSError) as fault:
        _hang_up(connection)
        raise _later(mail, NO_ANSWER) from fault
    return connection


def _watch(connection: Any, begins: Callable[[], None]) -> None:
    """Call `begins` right before the words leave; where that cannot be seen, now."""
    smtp = getattr(connection, "connection", None)
    if smtp is None:
        begins()
        return
    hands_over = smtp.data

    def data(words: Any) -> Any:
        begins()
        return hands_over(words)

    smtp.data = data


def _after(fault: Exception, mail: Mail) -> None:
    code, words = _said(fault)
    if 500 <= code < 600:
        mail.refuse(f"The mail server will not have it: {code} {words}".strip())
    elif mail.state == Mail.State.GOING and not code:
        mail.doubt(NOT_KNOWN)
    else:
        raise _later(mail, f"The mail server asks for patience: {code} {words}" if code else NO_ANSWER)


def _said(fault: Exception) -> tuple[int, str]:
    """Return the code and the words with which a mail server answered; 0 where it did not."""
    words: bytes | str
    if isinstance(fault, smtplib.SMTPRecipientsRefused):
        code, words = next(iter(fault.recipients.values()), (0, b""))
    elif isinstance(fault, smtplib.SMTPResponseException):
        code, words = fault.smtp_code, fault.smtp_error
    else:
        return 0, ""
    text = words.decode("utf-8", "replace") if isinstance(words, bytes) else str(words)
    return max(code, 0), one_line(text)[:120]


def _later(mail: Mail, why: str) -> Exception:
    """Return what ends this attempt: a rest, or the end after five days."""
    if mail.tries >= MOST_TRIES:
        mail.refuse(f"{why} It was tried {mail.tries} times in five days.")
        return Moved(mail.why)
    mail.wait(why)
    return errands.NotNow(why, rest=RESTS[mail.tries - 1] if mail.tries <= len(RESTS) else LATER)


def _hang_up(connection: Any) -> None:
    with suppress(smtplib.SMTPException, OSError):
        connection.close()


def message_of(mail: Mail, connection: Any = None) -> EmailMultiAlternatives:
    """Return the mail as it goes out: text, and the same words as HTML; nothing in it is fetched."""
    shop = the_shop()
    sender = settings.DEFAULT_FROM_EMAIL
    name = hash_of(mail)
    message = EmailMultiAlternatives(
        mail.subject, mail.words, formataddr((one_line(shop.name), sender)),
        [formataddr((one_line(mail.to), mail.address))], connection=connection,
        headers={"Message-ID": f"<{name}@{sender.rpartition('@')[2]}>"},
    )  # fmt: skip
    message.attach_alternative(render_to_string("words/mail.html", {"mail": mail, "shop": shop}), "text/html")
    return message


def hash_of(mail: Mail) -> str:
    """Return a name that is the same at every attempt, so that a server can tell twice from two."""
    return sha256(f"{mail.pk} {mail.key}".encode()).hexdigest()[:32]


def _write_down(mail: Mail) -> None:
    """Write down that the words went, and that the customer was told if they were about a damage."""
    if mail.order is None:
        return
    on = the_shop().today()
    Message.objects.note(mail.order, mail.words, to=mail.to, on=on, by=mail.by, how=Message.How.MAIL)
    tell_of_damage(mail.order, mail.kind, mail.words, how=Incident.How.MESSAGE, by=mail.by)


def tell_of_damage(order: Order, kind: str, words: str, *, how: str, by: Person | None) -> None:
    """Write down that the customer was told of the incident these words are about: `damage 7`."""
    name, _, pk = kind.partition(" ")
    if name == "damage" and pk.isdigit() and by is not None:
        for incident in Incident.objects.filter(order=order, pk=int(pk)):
            incident.tell(how=how, words=words, by=by)

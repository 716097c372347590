"""Words that would do harm where they are not taken as words, the forms they are typed into, and a watch."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

from django import forms

PORT = 18944  # nobody listens there; whoever calls it is seen
SUM = ("{{ 71900|add:24 }}", "71924")  # a template that was run would have reckoned it
HOSTILE = (
    f"<script>x()</script><img src=//127.0.0.1:{PORT}/a onerror=x()>",
    f'=HYPERLINK("http://127.0.0.1:{PORT}/b","c")',
    f"{SUM[0]}{{% include '/etc/passwd' %}}\r\nBcc: x@evil.invalid\r\nEND:VCARD\r\nEND:VEVENT",
    f"\"'><link rel=attachment href=file:///etc/passwd><svg><image href='http://127.0.0.1:{PORT}/s'/></svg>",
    f"@import url(http://127.0.0.1:{PORT}/c);*{{background:url(file:///etc/hostname)}}",
    "a\x00b\x07c \u202egnp.exe\u2066 ../../../etc/passwd C:\\boot.ini \U0001f9f5\U0001d518",
    "+1-555;'); DROP TABLE orders_order; --|cmd' /C calc'!A0",
    "w" * 10_000,
)
RAW = ("<script>x()", "<img src=//127", "<link rel=attachment", "<svg><image", SUM[1], "root:x:")
TYPED = ("text", "search", "tel", "email", "url", "textarea", "password")


class _Forms(HTMLParser):
    """The forms of a page: where each is sent, and its controls as (kind, name, value, is chosen)."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[str, list[tuple[str, str, str, bool]]]] = []
        self.select = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = {name: value or "" for name, value in attrs}
        if tag == "form":
            self.found.append((said.get("action", ""), []))
        elif tag == "select":
            self.select = said.get("name", "")
        elif tag in ("input", "textarea", "option", "button") and self.found:
            kind = {"input": said.get("type", "text")}.get(tag, tag)
            name = self.select if tag == "option" else said.get("name", "")
            chosen = "checked" in said or "selected" in said
            if name:
                self.found[-1][1].append((kind, name, said.get("value", ""), chosen))


def forms_of(html: str) -> list[tuple[str, dict[str, tuple[str, str]]]]:
    """Return each form of a page: its address, and for each name the kind and the value it would send."""
    parser = _Forms()
    parser.feed(html)
    told = []
    for action, controls in parser.found:
        sent: dict[str, tuple[str, str]] = {}
        for kind, name, value, chosen in controls:
            if kind != "checkbox" and (name not in sent or chosen):
                sent[name] = (kind, value)
        told.append((action, sent))
    return told


def fields_of(form: forms.BaseForm) -> dict[str, tuple[str, str]]:
    """Return the same for a form that was built but is on no page that was looked at."""
    told = {}
    for name, field in form.fields.items():
        choices = [value for value, _ in getattr(field, "choices", [])]
        is_typed = type(field) in (forms.CharField, forms.EmailField) or not isinstance(
            field, forms.ChoiceField | forms.DateField | forms.BooleanField | forms.IntegerField
        )
        value = str(form[name].initial or (choices[0] if choices else ""))
        is_hidden = isinstance(field.widget, forms.HiddenInput)
        told[form.add_prefix(name)] = ("hidden" if is_hidden or not is_typed else "text", value)
    return told


class Watch:
    """What was opened while it watched: addresses of the network, and files outside what is ours."""

    def __init__(self) -> None:
        self.is_on, self.called, self.opened = False, [], []
        self.ours: tuple[str, ...] = ()
        sys.addaudithook(self._see)

    @contextmanager
    def over(self, *ours: Path) -> Iterator[Watch]:
        """Watch, with these folders free to be written in."""
        self.called, self.opened, self.is_on = [], [], True
        self.ours = tuple(str(each) for each in ours)
        try:
            yield self
        finally:
            self.is_on = False

    def _see(self, event: str, args: tuple[Any, ...]) -> None:
        if not self.is_on:
            return
        if event in ("socket.connect", "socket.getaddrinfo", "socket.sendto"):
            self.called.append(args)
        elif event == "open" and isinstance(args[0], str):
            self._see_file(args[0], args[2] if len(args) > 2 else 0)

    def _see_file(self, name: str, flags: int | None) -> None:
        writes = bool((flags or 0) & 0o103)  # O_WRONLY, O_RDWR, O_CREAT
        whole = str(Path(name).absolute())
        is_harm = whole.startswith("/etc/") or ".." in name or "\x00" in name or "boot.ini" in name
        if is_harm or (writes and not whole.startswith((*self.ours, "/dev/"))):
            self.opened.append(name)

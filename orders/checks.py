"""Settings that would hurt later, named at the start with what to do."""

from __future__ import annotations

import ipaddress
import os
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.checks import CheckMessage, Error, Warning, register


@register()
def data_folder_can_be_written(**kwargs: Any) -> list[CheckMessage]:
    if os.access(settings.DATA_DIR, os.W_OK | os.X_OK):
        return []
    return [
        Error(
            f"DATA_DIR is {str(settings.DATA_DIR)!r}, where this account may not write.",
            hint="Name a folder of this account, such as DATA_DIR=$HOME/batting-order.",
            id="orders.E001",
        )
    ]


@register()
def secret_is_long(**kwargs: Any) -> list[CheckMessage]:
    if len(settings.SECRET_KEY) >= 32:
        return []
    return [
        Error(
            "SECRET_KEY has fewer than 32 characters, so sign-ins could be forged.",
            hint="Leave SECRET_KEY unset and the site keeps one of its own in DATA_DIR.",
            id="orders.E002",
        )
    ]


@register()
def address_is_known_when_others_may_call(**kwargs: Any) -> list[CheckMessage]:
    if settings.ADDRESS or _is_this_machine(settings.HOST):
        return []
    return [
        Warning(
            f"HOST is {settings.HOST!r}, but no ADDRESS is set, so phones will be refused.",
            hint="Set ADDRESS to what they type, such as ADDRESS=http://192.168.1.20:8000",
            id="orders.W001",
        )
    ]


def _is_this_machine(host: str) -> bool:
    try:
        return ipaddress.ip_address(host.strip("[]")).is_loopback
    except ValueError:
        return host == "localhost"


@register()
def faults_are_not_shown_to_others(**kwargs: Any) -> list[CheckMessage]:
    if not (settings.DEBUG and settings.ADDRESS):
        return []
    return [
        Error(
            "DEBUG is on while ADDRESS is set: a fault would show the shop's inside to whoever calls.",
            hint="Set DEBUG=0, or unset ADDRESS while you look for the fault.",
            id="orders.E003",
        )
    ]


@register()
def shop_has_not_moved_away(**kwargs: Any) -> list[CheckMessage]:
    mark = Path(settings.DATA_DIR, "moved-to-a-server")
    if "sqlite3" not in str(settings.DATABASES["default"]["ENGINE"]) or not mark.exists():
        return []
    return [
        Error(
            f"This shop was moved to a server on {mark.read_text().strip()}; the file is as it was.",
            hint=f"Set DATABASE_URL as you do for the shop. To open the old file after all, delete {mark}.",
            id="orders.E004",
        )
    ]

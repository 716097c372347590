"""Whether somebody outside the house can open the shop's address; only then a private link is given out."""

from __future__ import annotations

import ipaddress
from urllib.parse import urlsplit

from django.conf import settings

AT_HOME = (".local", ".lan", ".home", ".internal", ".localhost", ".home.arpa")


def can_be_reached() -> bool:
    """Say whether ADDRESS names a place that the whole network knows."""
    host = urlsplit(settings.ADDRESS).hostname or ""
    try:
        return ipaddress.ip_address(host).is_global
    except ValueError:
        return "." in host and not host.endswith(AT_HOME)

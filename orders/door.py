"""Who comes in at the door: from where, on what, and whether too many wrong passwords came before."""

from __future__ import annotations

import ipaddress
import re

from django.conf import settings
from django.contrib.auth import login, logout
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone

from orders.background import errands
from orders.models import Errand, Person, SignIn
from orders.sign_ins import FACTS

# Where a web server of ours stands: this machine (RFC 1122), a private network (RFC 1918, RFC 4193).
NEAR = ("127.0.0.0/8", "::1/128", "10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "fc00::/7")
# Common practice: what browsers call themselves. The first that fits counts; most claim to be several.
BROWSERS = {"Edg": "Edge", "OPR/": "Opera", "Firefox/": "Firefox", "FxiOS": "Firefox", "CriOS": "Chrome",
            "SamsungBrowser": "Samsung Internet", "Chrome/": "Chrome", "Chromium/": "Chrome",
            "Safari/": "Safari"}  # fmt: skip
MACHINES = {"iPhone": "an iPhone", "iPad": "an iPad", "Android.*Mobile": "an Android phone",
            "Android": "an Android tablet", "Windows": "a Windows computer", "CrOS": "a Chromebook",
            "Mac OS X": "a Mac or iPad", "Linux": "a Linux computer"}  # fmt: skip
NETWORKS = [ipaddress.ip_network(each) for each in NEAR]


def let_in(request: HttpRequest, person: Person) -> None:
    """Sign a person in on this device, under a new key."""
    login(request, person)
    request.session[FACTS] = {
        "at": timezone.now().isoformat(),
        "device": device_of(request.headers.get("User-Agent", "")),
        "came from": came_from(request),
    }


def let_out(request: HttpRequest) -> HttpResponse:
    """Sign out here, and have the browser let go of the photos it kept."""
    logout(request)
    answer = redirect("sign-in")
    answer.headers["Clear-Site-Data"] = '"cache"'  # not its storage: taps that were not sent yet lie there
    return answer


def device_of(agent: str) -> str:
    """Return in words what a browser says it is: `Firefox on a Windows computer`."""
    browser = next((name for sign, name in BROWSERS.items() if sign in agent), "")
    machine = next((name for sign, name in MACHINES.items() if re.search(sign, agent)), "")
    return " on ".join(filter(None, (browser, machine))) or "A device that does not say what it is"


def came_from(request: HttpRequest) -> str:
    """Return the address of the caller; behind a web server of our own, the one that it names.

    Only the last address of the header is its word, those before it can be made up by the caller.
    """
    peer = request.META.get("REMOTE_ADDR", "")
    named = request.headers.get("X-Forwarded-For", "").rsplit(",", 1)[-1].strip()
    if settings.BEHIND_HTTPS and _is_near(peer) and _is_address(named):
        return named
    return peer[:45]


def _is_near(address: str) -> bool:
    return _is_address(address) and any(ipaddress.ip_address(address) in network for network in NETWORKS)


def _is_address(text: str) -> bool:
    try:
        ipaddress.ip_address(text)
    except ValueError:
        return False
    return True


@errands.daily("sign-ins that are over", seconds=60, megabytes=200)
def let_old_ones_go(errand: Errand) -> str:
    """Take away the sign-ins whose time is over; they opened nothing any more."""
    gone, _ = SignIn.objects.over().delete()
    return f"{gone} taken away."

"""Strict readers of the environment: a value that makes no sense stops the start with a sentence."""

from __future__ import annotations

import ipaddress
import os
import secrets
import tempfile
from contextlib import suppress
from pathlib import Path
from urllib.parse import urlsplit

from django.core.exceptions import ImproperlyConfigured


def text(name: str, default: str = "") -> str:
    """Return the setting without blanks around it; an empty one counts as not set."""
    return os.environ.get(name, "").strip() or default


def flag(name: str) -> bool:
    """Return whether the setting is 1 (on) rather than 0 or not set (off)."""
    value = text(name, "0")
    if value not in ("0", "1"):
        raise ImproperlyConfigured(f"{name} is {value!r}. Give 1 for on or 0 for off.")
    return value == "1"


def port(name: str, default: int) -> int:
    """Return a port number, 1 to 65535."""
    value = text(name, str(default))
    if not (value.isascii() and value.isdigit() and 1 <= int(value) <= 65535):
        raise ImproperlyConfigured(f"{name} is {value!r}. Give a whole number from 1 to 65535.")
    return int(value)


def address(name: str) -> str:
    """Return where a browser finds the site, such as https://quilts.example, or nothing when not set."""
    value = text(name).rstrip("/")
    if value and not _is_origin(value):
        raise ImproperlyConfigured(
            f"{name} is {value!r}. Give http:// or https:// and a host, with no path, such as https://quilts.example"
        )
    return value


def address_in_the_network(host: str, port: int) -> str:
    """Return where phones of the same network find a site that listens on one address there, else nothing."""
    try:
        listens = ipaddress.ip_address(host.strip("[]"))
    except ValueError:
        return ""
    if listens.is_loopback or listens.is_unspecified:
        return ""
    return f"http://[{listens}]:{port}" if listens.version == 6 else f"http://{listens}:{port}"


def _is_origin(value: str) -> bool:
    try:
        parts = urlsplit(value)
        parts.port  # noqa: B018  a port that is no number is only noticed when asked for
    except ValueError:
        return False
    return (
        parts.scheme in ("http", "https")
        and bool(parts.hostname)
        and value == f"{parts.scheme}://{parts.netloc}"
    )


def private_folder(name: str, default: Path) -> Path:
    """Return a folder as an absolute path, made for this account alone when it is not there."""
    folder = Path(text(name, str(default))).expanduser().resolve()
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as fault:
        sentence = f"{name} is {str(folder)!r}, which cannot be made: {fault.strerror}."
        raise ImproperlyConfigured(sentence) from fault
    return folder


def folder_within(folder: Path, name: str) -> Path:
    """Return a folder inside another, made when it is not there; one that cannot be is named by a check."""
    inner = folder / name
    with suppress(OSError):
        inner.mkdir(mode=0o700, exist_ok=True)
    return inner


def secret(name: str, kept_in: Path) -> str:
    """Return the secret that is set, or the one kept in a file, made at the first start."""
    given = text(name)
    if given:
        return given
    if not kept_in.exists():
        _keep_new_secret(kept_in)
    return kept_in.read_text().strip()


def _keep_new_secret(path: Path) -> None:
    """Write a new secret; of two starts at once, the first one's counts for both."""
    descriptor, draft = tempfile.mkstemp(dir=path.parent)
    with open(descriptor, "w") as file:
        file.write(secrets.token_urlsafe(50))
    try:
        os.link(draft, path)
    except FileExistsError:
        pass
    finally:
        os.unlink(draft)

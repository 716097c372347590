"""The compose file as its readers see it, with what it asks of the environment filled in."""

from __future__ import annotations

import re
from typing import Any

import yaml

from tests.conftest import ROOT

FILE = ROOT / "docker-compose.yml"
ASKED = re.compile(r"\$\{(\w+):([?-])([^}]*)\}")


class NotGiven(Exception):
    """Something that the file asks for was not in the environment; the text is the file's own."""


def filled_in(environment: dict[str, str]) -> dict[str, Any]:
    """Return the file with each ${NAME:?words} and ${NAME:-default} filled in as Compose does it."""
    return _filled(yaml.safe_load(FILE.read_text()), environment)


def _filled(part: Any, environment: dict[str, str]) -> Any:
    if isinstance(part, dict):
        return {name: _filled(each, environment) for name, each in part.items()}
    if isinstance(part, list):
        return [_filled(each, environment) for each in part]
    if not isinstance(part, str):
        return part

    def value(match: re.Match[str]) -> str:
        name, kind, words = match.groups()
        if not environment.get(name) and kind == "?":
            raise NotGiven(words)
        return environment.get(name) or words

    return ASKED.sub(value, part)

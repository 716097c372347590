"""The files of the site under the names that tell their content."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from whitenoise.storage import CompressedManifestStaticFilesStorage  # type: ignore[import-untyped]


class KeptNames(CompressedManifestStaticFilesStorage):
    """Keeps each address once it was looked up: a page asks for some fifty, always the same."""

    @cached_property
    def _urls(self) -> dict[str, str]:
        return {}

    def url(self, name: str, force: bool = False) -> Any:
        if force:
            return super().url(name, force)
        if name not in self._urls:
            self._urls[name] = super().url(name)
        return self._urls[name]

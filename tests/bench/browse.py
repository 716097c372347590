"""A browser's part, as far as figures need it: requests to the site, here or served, and what pages weigh."""

from __future__ import annotations

import gzip
import http.client
import io
import re
from http.cookies import SimpleCookie
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

from django.conf import settings


class Browser:
    """Asks a WSGI application, keeps its cookies, and takes pages squeezed as browsers do."""

    def __init__(self, site: Any) -> None:
        self.site, self.cookies = site, SimpleCookie()
        self.status, self.headers = "", {}

    def get(self, path: str) -> bytes:
        return self.ask("GET", path, b"")

    def post(self, path: str, form: dict[str, str], *, page: str) -> bytes:
        """Send a form as it stands on a page."""
        token = re.search(r'name="csrfmiddlewaretoken" value="([^"]+)"', self.text(page))
        sent = urlencode({**form, "csrfmiddlewaretoken": token[1] if token else ""})
        return self.ask("POST", path, sent.encode())

    def text(self, path: str) -> str:
        body = self.get(path)
        return (gzip.decompress(body) if self.headers.get("Content-Encoding") == "gzip" else body).decode()

    def ask(self, method: str, path: str, body: bytes) -> bytes:
        place, _, query = path.partition("?")
        environ = {
            "REQUEST_METHOD": method, "PATH_INFO": place, "QUERY_STRING": query, "SCRIPT_NAME": "",
            "SERVER_NAME": "localhost", "SERVER_PORT": "80", "SERVER_PROTOCOL": "HTTP/1.1",
            "HTTP_HOST": "localhost", "REMOTE_ADDR": "127.0.0.1", "HTTP_ACCEPT_ENCODING": "gzip, br",
            "HTTP_COOKIE": self._cookies(),
            "CONTENT_LENGTH": str(len(body)), "CONTENT_TYPE": "application/x-www-form-urlencoded",
            "wsgi.input": io.BytesIO(body), "wsgi.errors": io.StringIO(), "wsgi.url_scheme": "http",
        }  # fmt: skip
        answer = self.site(environ, self._started)
        try:
            return b"".join(answer)
        finally:
            answer.close()

    def _cookies(self) -> str:
        return self.cookies.output(attrs=[], header="", sep=";").strip()

    def _started(self, status: str, headers: list[tuple[str, str]], info: Any = None) -> None:
        self.status, self.headers = status, dict(headers)
        for name, value in headers:
            if name == "Set-Cookie":
                self.cookies.load(value)


class Caller(Browser):
    """Asks a site that is served by another process, over one connection that stays open."""

    def __init__(self, site: Any) -> None:
        super().__init__(site)
        self.wire = http.client.HTTPConnection("127.0.0.1", site.port, timeout=60)

    def ask(self, method: str, path: str, body: bytes) -> bytes:
        headers = {"Accept-Encoding": "gzip", "Cookie": self._cookies()}
        if method == "POST":
            headers["Content-Type"] = "application/x-www-form-urlencoded"
        try:
            self.wire.request(method, path, body or None, headers)
            answer = self.wire.getresponse()
        except (http.client.RemoteDisconnected, ConnectionError):  # it closes what rests for two seconds
            self.wire.close()
            self.wire.request(method, path, body or None, headers)
            answer = self.wire.getresponse()
        self._started(f"{answer.status} {answer.reason}", answer.getheaders())
        return answer.read()


def weight(page: str) -> dict[str, int]:
    """Return the bytes that a first view asks for beside the page: styles, scripts, fonts, pictures.

    Each as it travels: the squeezed file where the server has one.
    """
    found = set(re.findall(r'(?:href|src)="/static/([^"]+\.(?:css|js|svg|woff2))"', page))
    sheets = [name for name in found if name.endswith(".css")]
    fonts = _fonts_of("".join((Path(settings.STATIC_ROOT) / sheet).read_text() for sheet in sheets), page)
    kinds = {"styles": sheets, "fonts": fonts, "script": [n for n in found if n.endswith(".js")],
             "pictures": [n for n in found if n.endswith(".svg")]}  # fmt: skip
    return {kind: sum(_travels(name) for name in names) for kind, names in kinds.items()}


def _fonts_of(styles: str, page: str) -> set[str]:
    """Return the fonts that a browser fetches: those of the two families the page is set in.

    A customer's page, of the class `mine`, has a lighter one for headings, which comes last.
    """
    which = -1 if 'class="mine' in page else 0
    used = {re.findall(rf'--{kind}: "?([\w ]+)', styles)[which] for kind in ("serif", "sans")}
    face = r'font-family: "?([\w ]+)"?; src: url\("?\.\./fonts/([\w.-]+\.woff2)'
    return {f"fonts/{name}" for family, name in re.findall(face, styles) if family in used}


def _travels(name: str) -> int:
    file = Path(settings.STATIC_ROOT) / name
    squeezed = file.with_name(f"{file.name}.gz")
    return (squeezed if squeezed.exists() else file).stat().st_size

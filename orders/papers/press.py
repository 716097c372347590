"""Sets a paper as a PDF: tagged, with our own fonts, and with no way to the network or to other files."""

from __future__ import annotations

import hashlib
import io
import os
import re
from pathlib import Path
from typing import TYPE_CHECKING, Any

from django.conf import settings
from django.template.loader import render_to_string

from orders.models import Paper, Photo, Shop

if TYPE_CHECKING:
    from weasyprint.urls import URLFetcherResponse

FONTS = ("fraunces-latin-opsz.woff2", "atkinson-400.woff2", "atkinson-700.woff2")
TEMPLATES = {kind: f"papers/{kind.replace(' ', '_')}.html" for kind in (*Paper.Kind.values, "plan")}
SCHEME = "paper:"
LONG, BREAK = re.compile(r"\S{33,}"), "\N{ZERO WIDTH SPACE}"
LABELED = re.compile(r'(<svg\b[^>]*\saria-label="([^"]+)"[^>]*>)(?!<title>)')
# Control characters that no page needs, and those that turn the direction of all that follows them.
UNPRINTED = dict.fromkeys(
    each
    for some in (range(9), range(11, 32), range(127, 160), range(0x202A, 0x202F), range(0x2066, 0x206A))
    for each in some
)


def is_ready() -> bool:
    """Say whether the libraries that set papers are on this machine."""
    try:
        import weasyprint  # noqa: F401
    except OSError:  # its C libraries cannot be opened
        return False
    return True


def file_of(paper: Paper) -> Path:
    """Return where a paper's bytes lie."""
    return Path(settings.DATA_DIR) / "papers" / f"{paper.number}.pdf"


def keep(paper: Paper) -> str:
    """Set the paper, keep it under its number, and return the SHA-256 of its bytes."""
    shop = Shop.objects.the()
    about = {"number": paper.number, "kind": paper.get_kind_display(), "maker": shop.name if shop else ""}
    sizes = (800, 320) if paper.kind == Paper.Kind.BOOKLET else (320, 800)
    photos = {number: _rendition(photo, sizes) for number, photo in _photos_of(paper.made_of).items()}
    pdf = set_paper(
        paper.kind,
        paper.made_of,
        about,
        size=shop.paper if shop else "letter",
        photos=photos,
        picture=_picture_of(paper),
    )
    file = file_of(paper)
    file.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    draft = file.with_suffix(".part")
    draft.write_bytes(pdf)
    os.replace(draft, file)
    return hashlib.sha256(pdf).hexdigest()


def set_paper(
    kind: str,
    facts: dict[str, Any],
    about: dict[str, Any],
    *,
    size: str,
    photos: dict[int, Path] | None = None,
    picture: bytes | None = None,
) -> bytes:
    """Return the PDF of a kind of paper from its frozen facts, on letter or A4."""
    from weasyprint import CSS, HTML
    from weasyprint.text.fonts import FontConfiguration

    html = with_titles(
        render_to_string(TEMPLATES[kind], {"facts": printable(facts), "about": printable(about)})
    )
    fetcher = only_ours(photos or {}, picture)
    fonts = FontConfiguration()
    style = CSS(string=_style(size), url_fetcher=fetcher, font_config=fonts, base_url=SCHEME)
    out = io.BytesIO()
    HTML(string=html, url_fetcher=fetcher, base_url=SCHEME).write_pdf(
        out,
        stylesheets=[style],
        font_config=fonts,
        pdf_variant="pdf/ua-1",
        optimize_images=True,
        jpeg_quality=80,
        dpi=170,
    )
    return out.getvalue()


def with_titles(html: str) -> str:
    """Give each drawing its words as a title: from there they become what a screen reader says of it."""
    return LABELED.sub(r"\1<title>\2</title>", html)


def printable(facts: Any) -> Any:
    """Return facts without the characters that would spoil a page or turn its lines round."""
    if isinstance(facts, str):
        plain = "".join(each for each in facts.translate(UNPRINTED) if not 0xD800 <= ord(each) <= 0xDFFF)
        return plain if plain.startswith("<svg") else LONG.sub(_with_places_to_break, plain)
    if isinstance(facts, dict):
        return {name: printable(each) for name, each in facts.items()}
    if isinstance(facts, list | tuple):
        return [printable(each) for each in facts]
    return facts


def _with_places_to_break(word: re.Match[str]) -> str:
    """Let a word longer than any column go on in the next line; a cell of a table breaks it nowhere else."""
    return BREAK.join(re.findall(r".{1,16}", word[0]))


def _style(paper_size: str) -> str:
    css = (Path(settings.BASE_DIR) / "static" / "css" / "paper.css").read_text(encoding="utf-8")
    return css.replace("size: letter", f"size: {paper_size}")


def only_ours(photos: dict[int, Path], picture: bytes | None = None) -> Any:
    """Return a fetcher that knows our fonts, these photographs and this picture, and nothing else at all."""
    from weasyprint.urls import URLFetcher, URLFetcherResponse

    table = {f"{SCHEME}{name}": Path(settings.BASE_DIR) / "static" / "fonts" / name for name in FONTS}
    table |= {f"{SCHEME}photo-{number}": file for number, file in photos.items()}

    class OnlyOurs(URLFetcher):
        def fetch(self, url: str, headers: Any = None) -> URLFetcherResponse:
            if url == f"{SCHEME}quilt" and picture is not None:
                return URLFetcherResponse(url, body=picture, headers={"Content-Type": "image/jpeg"})
            file = table.get(url)
            if file is None or not file.exists():
                raise ValueError(f"{url} is not part of this paper.")
            return URLFetcherResponse(url, body=file.read_bytes(), headers={"Content-Type": _type_of(file)})

    return OnlyOurs(allowed_protocols=["paper"], allow_redirects=False)


def _picture_of(paper: Paper) -> bytes | None:
    """The quilt picture that a paper is of, drawn now; most papers are of none."""
    from .look import jpeg_for

    version = paper.made_of.get("picture")
    return jpeg_for(version) if isinstance(version, int) else None


def _type_of(file: Path) -> str:
    return "font/woff2" if file.suffix == ".woff2" else "image/jpeg"


def _rendition(photo: Photo, sizes: tuple[int, ...]) -> Path:
    """The first of these sizes that is there, else the photograph itself."""
    return next((path for size in sizes if (path := photo.rendition(size)).exists()), photo.file)


def _photos_of(facts: dict[str, Any]) -> dict[int, Photo]:
    return Photo.objects.in_bulk(_photos_in(facts))


def _photos_in(facts: Any) -> set[int]:
    """The numbers of all photographs named anywhere in the facts."""
    if isinstance(facts, dict):
        mine = {facts["photo"]} if isinstance(facts.get("photo"), int) else set()
        return mine.union(*(_photos_in(each) for each in facts.values()))
    if isinstance(facts, list):
        return set().union(*(_photos_in(each) for each in facts)) if facts else set()
    return set()

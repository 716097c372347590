"""What the documents tell a newcomer to type, tap and look for is there."""

import re

import pytest
from django.core.management import get_commands

from orders.demo.shop import HELPER, OWNER, PASSWORD
from tests.conftest import ROOT

DOCS = ROOT / "docs"
DOCUMENTS = sorted([ROOT / "README.md", ROOT / "DEVELOPERS.md", *DOCS.rglob("*.md")])
FOR_MAKERS = sorted([*(DOCS / "tutorial").glob("*.md"), *(DOCS / "how-to").glob("*.md")])
SETTINGS = DOCS / "reference" / "settings.md"
LINK = re.compile(r"\]\((?!https?:)([^)#]+)")


def name(path):
    return str(path.relative_to(ROOT))


def code_in(document):
    return [" ".join(each) for each in re.findall(r"```sh\n(.*?)```|`([^`\n]+)`", document.read_text(), re.S)]


def read_by_the_site():
    settings = (ROOT / "config" / "settings.py").read_text()
    return set(re.findall(r'environment\.\w+\(\s*"(\w+)"', settings))


@pytest.mark.parametrize("document", DOCUMENTS, ids=name)
def test_every_make_target_in_a_document_exists(document):
    targets = set(re.findall(r"^([a-z-]+):", (ROOT / "Makefile").read_text(), re.M))
    named = {target for line in code_in(document) for target in re.findall(r"\bmake ([a-z-]+)", line)}
    assert named <= targets


@pytest.mark.parametrize("document", DOCUMENTS, ids=name)
def test_every_command_in_a_document_exists(document):
    named = {each for line in code_in(document) for each in re.findall(r"manage\.py ([a-z_]+)", line)}
    assert named <= set(get_commands())


@pytest.mark.parametrize("document", DOCUMENTS, ids=name)
def test_every_setting_in_a_document_is_read(document):
    code = "\n".join(code_in(document))
    named = set(re.findall(r"`([A-Z][A-Z_]+)(?:=[^`]*)?`", document.read_text()))
    named |= set(re.findall(r"(?:^|\s)([A-Z][A-Z_]+)=", code))
    assert named <= read_by_the_site() | {"PYTHON", "CHECK_DATA", "CI", "ONLY", "ERRANDS_IN"}


def test_every_setting_that_is_read_is_in_the_reference():
    assert read_by_the_site() == set(re.findall(r"^\| `([A-Z_]+)`", SETTINGS.read_text(), re.M))
    assert len(read_by_the_site()) >= 6


@pytest.mark.parametrize("document", DOCUMENTS, ids=name)
def test_every_link_to_a_file_leads_somewhere(document):
    assert [
        link for link in LINK.findall(document.read_text()) if not (document.parent / link).exists()
    ] == []


def test_every_document_is_in_the_index():
    linked = {(DOCS / link).resolve() for link in LINK.findall((DOCS / "README.md").read_text())}
    written = {path.resolve() for path in DOCS.rglob("*.md")} - {(DOCS / "README.md").resolve()}
    assert written - linked == set()


def test_every_picture_is_shown():
    shown = {(each.parent / link).resolve() for each in DOCUMENTS for link in LINK.findall(each.read_text())}
    assert {path.resolve() for path in (DOCS / "pictures").iterdir()} - shown == set()


def test_a_file_or_folder_named_for_developers_is_there():
    text = (ROOT / "DEVELOPERS.md").read_text()
    named = set(
        re.findall(r"`((?:config|docs|orders|planner|scripts|static|templates|tests)/[\w./-]*)`", text)
    )
    assert len(named) > 20
    assert {each for each in named if not (ROOT / each).exists()} == set()


def test_the_way_into_the_made_up_shop_is_told_as_it_is():
    told = (DOCS / "how-to" / "look-round-a-made-up-shop.md").read_text()
    assert f"**{OWNER}**" in told
    assert f"**{HELPER}**" in told
    assert f"`{PASSWORD}`" in told


EITHER = re.compile(r"\{% if [^%]*%\}([^{<]*)\{% else %\}([^{<]*)\{% endif %\}")


def on_screen():
    """Return all that a screen can say: templates without their tags, and words in the code; figures as 0."""
    templates = " ".join(path.read_text() for path in sorted((ROOT / "templates").rglob("*.html")))
    code = " ".join(path.read_text() for path in sorted((ROOT / "orders").rglob("*.py")))
    both = EITHER.sub(r"\1", templates) + "\n" + EITHER.sub(r"\2", templates)
    plain = re.sub(r"<[^>]*>|\{%.*?%\}", "\n", re.sub(r"\{\{.*?\}\}", "0", both))
    said = [*plain.split("\n"), *re.findall(r'"([^"\n]+)"', templates + code)]
    return {re.sub(r"\d+", "0", " ".join(each.split())) for each in said}


def is_said(words, screens):
    """Figures differ from quilt to quilt; where a page puts words round one, each part is looked for."""
    parts = [part.strip() for part in re.split(r"\b\d+\b", words)]
    return re.sub(r"\d+", "0", words) in screens or all(part in screens for part in parts)


@pytest.mark.parametrize("document", FOR_MAKERS, ids=name)
def test_words_in_bold_within_a_line_stand_on_a_screen(document):
    """At the head of a line, bold is a heading for the eye."""
    text = document.read_text().replace("Words in **bold** are", "")
    screens, found = on_screen(), list(re.finditer(r"\*\*([^*\n]+)\*\*", text))
    quoted = [each[1] for each in found if text[each.start() - 1] != "\n"]
    assert [words for words in quoted if not is_said(words, screens)] == []


def test_words_that_are_not_on_a_screen_are_noticed():
    screens = on_screen()
    assert is_said("All 9 cut", screens)
    assert is_said("Row 3 sewn", screens)
    assert not is_said("All 9 sliced", screens)
    assert not is_said("Send the invoice", screens)


def test_the_words_are_in_the_order_of_the_alphabet_and_none_has_two_meanings():
    tables = (DOCS / "words.md").read_text().split("\n## ")[1:]
    rows = [re.findall(r"^\| (.+?) \|", each, re.M)[1:] for each in tables]
    lists = [[word.casefold() for word in each] for each in rows]
    assert all(words == sorted(words) for words in lists)
    all_words = [word for words in lists for word in words]
    assert len(all_words) > 100
    assert sorted(set(all_words)) == sorted(all_words)

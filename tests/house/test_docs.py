"""What the documents tell a newcomer to type is there."""

import re

import pytest

from tests.conftest import ROOT

DOCUMENTS = sorted([ROOT / "README.md", ROOT / "DEVELOPERS.md", *(ROOT / "docs").rglob("*.md")])
SETTINGS = ROOT / "docs" / "reference" / "settings.md"


def name(path):
    return str(path.relative_to(ROOT))


def read_by_the_site():
    settings = (ROOT / "config" / "settings.py").read_text()
    return set(re.findall(r'environment\.\w+\(\s*"(\w+)"', settings))


@pytest.mark.parametrize("document", DOCUMENTS, ids=name)
def test_every_make_target_in_a_document_exists(document):
    targets = set(re.findall(r"^([a-z-]+):", (ROOT / "Makefile").read_text(), re.M))
    code = re.findall(r"```sh\n(.*?)```|`([^`\n]+)`", document.read_text(), re.S)
    named = {target for line in code for target in re.findall(r"\bmake ([a-z-]+)", " ".join(line))}
    assert named <= targets


@pytest.mark.parametrize("document", DOCUMENTS, ids=name)
def test_every_setting_in_a_document_is_read(document):
    named = set(re.findall(r"`([A-Z][A-Z_]+)(?:=[^`]*)?`", document.read_text()))
    assert named <= read_by_the_site() | {"PYTHON", "CHECK_DATA", "CI"}


def test_every_setting_that_is_read_is_in_the_reference():
    assert read_by_the_site() == set(re.findall(r"^\| `([A-Z_]+)`", SETTINGS.read_text(), re.M))
    assert len(read_by_the_site()) >= 6


@pytest.mark.parametrize("document", DOCUMENTS, ids=name)
def test_every_link_to_a_file_leads_somewhere(document):
    links = re.findall(r"\]\((?!https?:)([^)#]+)", document.read_text())
    assert [link for link in links if not (document.parent / link).exists()] == []

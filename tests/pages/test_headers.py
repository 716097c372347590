"""What a page lets the browser do."""

import gzip
import re

import pytest

from tests.conftest import ROOT

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("address", ["/sign-in/", "/no-such-page", "/healthz"])
def test_a_page_runs_only_files_of_the_site_and_is_kept_nowhere(client, address):
    headers = client.get(address).headers
    policy = dict(part.split(" ", 1) for part in headers["Content-Security-Policy"].split("; "))
    assert policy["default-src"] == policy["base-uri"] == policy["frame-ancestors"] == "'none'"
    assert policy["script-src"] == policy["style-src"] == policy["form-action"] == "'self'"
    assert "unsafe" not in headers["Content-Security-Policy"]
    assert headers["Cache-Control"] == "no-store" or "no-store" in headers["Cache-Control"]
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["X-Frame-Options"] == "DENY"
    assert headers["Referrer-Policy"] == "same-origin"


def test_a_page_is_sent_squeezed_to_who_takes_it_so_and_its_length_tells_nothing(client, shop):
    squeezed = [client.get("/sign-in/", headers={"Accept-Encoding": "gzip, br"}) for _ in range(12)]
    plain = client.get("/sign-in/")
    assert {each["Content-Encoding"] for each in squeezed} == {"gzip"}
    assert b"Your name" in gzip.decompress(squeezed[0].content)
    assert len(squeezed[0].content) < len(plain.content) / 2
    assert len({len(each.content) for each in squeezed}) > 1
    assert not plain.has_header("Content-Encoding")
    assert "Accept-Encoding" in plain["Vary"]


def test_no_template_has_a_style_or_a_script_of_its_own():
    for template in (ROOT / "templates").rglob("*"):
        if template.is_file():
            assert not re.search(r"\sstyle=|<style|<script(?![^>]*\ssrc=)|\son\w+=", template.read_text()), (
                template
            )


def test_the_session_cookie_is_out_of_reach_of_scripts_and_other_sites(client, ada, password):
    cookies = client.post("/sign-in/", {"name": "Ada", "password": password}).cookies
    assert cookies["session"]["httponly"]
    assert cookies["session"]["samesite"] == "Lax"

"""A setting that makes no sense stops the start with a sentence."""

import stat

import pytest
from django.core.exceptions import ImproperlyConfigured

from config import environment


@pytest.mark.parametrize("value", ["0", "65536", "-1", "80.5", "http", "８０"])
def test_a_port_that_is_none_is_refused(monkeypatch, value):
    monkeypatch.setenv("PORT", value)
    with pytest.raises(ImproperlyConfigured, match=r"PORT is .*whole number from 1 to 65535"):
        environment.port("PORT", 8000)


def test_an_empty_setting_counts_as_not_set(monkeypatch):
    monkeypatch.setenv("PORT", "  ")
    assert environment.port("PORT", 8000) == 8000


def test_a_flag_is_one_or_nought_and_no_third_thing(monkeypatch):
    monkeypatch.setenv("DEBUG", "1")
    assert environment.flag("DEBUG") is True
    monkeypatch.setenv("DEBUG", "false")
    with pytest.raises(ImproperlyConfigured, match="1 for on or 0 for off"):
        environment.flag("DEBUG")


@pytest.mark.parametrize(
    "value", ["a.example", "ftp://a.example", "https://", "http://a.example/x", "http://a:b"]
)
def test_an_address_is_a_host_with_its_scheme_and_no_more(monkeypatch, value):
    monkeypatch.setenv("ADDRESS", value)
    with pytest.raises(ImproperlyConfigured, match="ADDRESS is"):
        environment.address("ADDRESS")


def test_an_address_loses_its_closing_slash(monkeypatch):
    monkeypatch.setenv("ADDRESS", "https://quilts.example/")
    assert environment.address("ADDRESS") == "https://quilts.example"


def test_the_secret_is_made_once_and_is_for_this_account_alone(tmp_path):
    file = tmp_path / "secret-key"
    first = environment.secret("NO_SUCH_SETTING", kept_in=file)
    assert len(first) >= 50
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert environment.secret("NO_SUCH_SETTING", kept_in=file) == first
    assert list(tmp_path.iterdir()) == [file]


def test_a_secret_that_is_set_is_not_written_down(tmp_path, monkeypatch):
    monkeypatch.setenv("SECRET_KEY", "given")
    assert environment.secret("SECRET_KEY", kept_in=tmp_path / "secret-key") == "given"
    assert list(tmp_path.iterdir()) == []


def test_the_data_folder_is_made_for_this_account_alone(tmp_path, monkeypatch):
    monkeypatch.setenv("DATA_DIR", str(tmp_path / "shop"))
    folder = environment.private_folder("DATA_DIR", tmp_path)
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700


def test_a_data_folder_that_cannot_be_made_is_refused(tmp_path, monkeypatch):
    (tmp_path / "file").touch()
    monkeypatch.setenv("DATA_DIR", str(tmp_path / "file" / "shop"))
    with pytest.raises(ImproperlyConfigured, match=r"DATA_DIR is .* cannot be made"):
        environment.private_folder("DATA_DIR", tmp_path)

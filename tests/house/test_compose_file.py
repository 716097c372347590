"""The compose file keeps to the Compose specification, and names what the program has."""

import json
import re

import pytest
from django.core.management import get_commands
from jsonschema import Draft7Validator

from tests.conftest import ROOT
from tests.services import compose

GIVEN = {
    "ADDRESS": "https://quilts.example",
    "SECRET_KEY": "s" * 50,
    "POSTGRES_PASSWORD": "muslin",
    "REDIS_PASSWORD": "batting",
}
OURS = ("web", "worker", "tick")
SCHEMA = json.loads((ROOT / "tests" / "data" / "compose-spec.json").read_text())


@pytest.fixture
def file():
    return compose.filled_in(GIVEN)


def faults_of(file):
    return [fault.message for fault in Draft7Validator(SCHEMA).iter_errors(file)]


def test_the_file_keeps_to_the_schema_of_the_specification(file):
    assert faults_of(file) == []


def test_a_slip_in_the_file_would_be_seen(file):
    file["services"]["web"]["depends_onn"] = ["postgres"]
    assert any("depends_onn" in fault for fault in faults_of(file))


def test_web_worker_tick_database_and_redis_are_all_there_with_health_checks(file):
    assert set(file["services"]) == {*OURS, "postgres", "redis"}
    assert all(service["healthcheck"]["test"] for service in file["services"].values())
    assert all(service["restart"] == "unless-stopped" for service in file["services"].values())


@pytest.mark.parametrize("name", sorted(GIVEN))
def test_without_a_secret_nothing_starts_and_it_says_what_to_give(name):
    with pytest.raises(compose.NotGiven, match=r"Say|Give"):
        compose.filled_in({**GIVEN, name: ""})


def test_no_secret_stands_in_the_file():
    for name, kind, words in compose.ASKED.findall(compose.FILE.read_text()):
        assert (kind, words) != ("-", "") or name.startswith("EMAIL_"), name
    assert not re.search(r"PASSWORD: (?!\$)\S|SECRET_KEY: (?!\$)\S", compose.FILE.read_text())


@pytest.mark.parametrize("service", OURS)
def test_each_service_of_ours_runs_a_command_that_exists_with_settings_that_are_read(file, service):
    program, manage, command = file["services"][service]["command"]
    assert (program, manage) == ("python", "manage.py")
    assert command in get_commands()
    read = set(re.findall(r'environment\.\w+\(\s*"(\w+)"', (ROOT / "config" / "settings.py").read_text()))
    assert set(file["services"][service]["environment"]) <= read


def test_the_tick_comes_up_without_redis_since_it_stands_in_for_it(file):
    assert set(file["services"]["worker"]["depends_on"]) == {"web", "redis"}
    assert set(file["services"]["tick"]["depends_on"]) == {"web"}


def test_only_this_machine_reaches_the_site_and_nobody_the_database(file):
    assert file["services"]["web"]["ports"] == ["127.0.0.1:8000:8000"]
    assert [name for name, service in file["services"].items() if "ports" in service] == ["web"]


def test_photos_and_records_are_kept_in_volumes_and_all_of_ours_see_the_photos(file):
    assert [file["services"][name]["volumes"] for name in OURS] == [["data:/data"]] * 3
    assert file["services"]["postgres"]["volumes"] == ["records:/var/lib/postgresql/data"]
    assert set(file["volumes"]) == {"data", "records"}


def test_the_image_takes_the_lock_of_a_server_and_gives_up_root():
    lines = (ROOT / "Dockerfile").read_text().splitlines()
    assert any("--require-hashes -r requirements-server.lock" in line for line in lines)
    assert "USER shop" in lines
    assert "://" not in "".join(lines)
    package_list = (ROOT / "scripts" / "system_packages.sh").read_text()
    libraries = re.search(r'PAPER_LIBRARIES="([^"]+)"', package_list)[1].split()
    assert all(any(library in line for line in lines) for library in libraries)

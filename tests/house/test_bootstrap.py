"""The environment is made with the first Python that really works, and only once."""

import subprocess

import pytest

from tests.conftest import ROOT

BOOTSTRAP = ROOT / "scripts" / "bootstrap.sh"
BROKEN = "exit 127"
TOO_OLD = 'echo "3.10 0"'
NO_ENSUREPIP = 'case "$2" in *ensurepip*) exit 1;; *) echo "3.12 1";; esac'
# Stands for a sound Python: the environment it makes takes down what it was asked to install, and has no uv.
INSIDE = """#!/bin/sh
echo "$@" >> .venv/asked
case "$*" in *uv==*) exit 1 ;; esac
"""
SOUND = """
case "$2" in
  *ensurepip*) ;;
  venv) mkdir -p "$4/bin"; cp inside "$4/bin/python" ;;
  *) echo "3.12 1" ;;
esac
"""


@pytest.fixture
def shop(tmp_path):
    (tmp_path / "requirements.lock").write_text("django==1\n")
    (tmp_path / "bin").mkdir()
    put_script(tmp_path / "inside", INSIDE)
    return tmp_path


def put_script(path, text):
    path.write_text(text)
    path.chmod(0o755)


def put_python(shop, name, body):
    put_script(shop / "bin" / name, f"#!/bin/sh\n{body}\n")


def bootstrap(shop, **environment):
    return subprocess.run(
        ["/bin/sh", str(BOOTSTRAP), ".venv", "requirements.lock"],
        cwd=shop,
        env={"PATH": f"{shop}/bin:/usr/bin:/bin", **environment},
        capture_output=True,
        text=True,
    )


def test_a_python_that_does_not_start_or_is_too_old_or_has_no_pip_is_passed_over(shop):
    put_python(shop, "python3", BROKEN)
    put_python(shop, "python3.14", TOO_OLD)
    put_python(shop, "python3.13", NO_ENSUREPIP)
    put_python(shop, "python3.12", SOUND)
    done = bootstrap(shop)
    assert done.returncode == 0, done.stderr
    assert "Making .venv with python3.12." in done.stdout
    assert "python3.14 is Python 3.10" in done.stderr
    assert "python3.13 has no venv or ensurepip" in done.stderr


def test_the_python_that_is_named_comes_first(shop):
    put_python(shop, "python3", SOUND)
    put_python(shop, "mine", SOUND)
    assert "Making .venv with mine." in bootstrap(shop, PYTHON="mine").stdout


def test_pip_does_the_work_when_uv_cannot_and_checks_hashes(shop):
    put_python(shop, "python3", SOUND)
    bootstrap(shop)
    assert "install --require-hashes -r requirements.lock" in (shop / ".venv" / "asked").read_text()


def test_a_second_run_does_nothing_until_the_lock_changes(shop):
    put_python(shop, "python3", SOUND)
    bootstrap(shop)
    assert bootstrap(shop).stdout == ""
    (shop / "requirements.lock").write_text("django==2\n")
    assert bootstrap(shop).stdout.startswith("Installing requirements.lock.")


def test_an_environment_whose_python_is_gone_is_made_again(shop):
    put_python(shop, "python3", SOUND)
    bootstrap(shop)
    put_script(shop / ".venv" / "bin" / "python", "#!/bin/sh\nexit 127\n")
    assert "Making .venv with python3." in bootstrap(shop).stdout


def test_without_any_python_it_says_what_to_install(shop):
    for name in ("python3", "python3.14", "python3.13", "python3.12", "python3.11"):
        put_python(shop, name, BROKEN)
    script = BOOTSTRAP.read_text().replace(" /usr/bin/python3;", ";")
    done = subprocess.run(
        ["/bin/sh", "-c", script, "bootstrap.sh", ".venv", "requirements.lock"],
        cwd=shop,
        env={"PATH": f"{shop}/bin:/usr/bin:/bin"},
        capture_output=True,
        text=True,
    )
    assert done.returncode == 1
    assert "apt-get install python3-venv" in done.stderr

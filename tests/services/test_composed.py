"""Each service's very command, run as a process of this machine with the environment of the compose file."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from contextlib import ExitStack, contextmanager

import pytest

from tests.conftest import ROOT, leave_out
from tests.services import compose
from tests.services.servers import PostgreSQL, Redis, free_port, missing, program, running
from tests.services.whole_site import wait_until

pytestmark = pytest.mark.slow
SEND = """
import django
django.setup()
from orders.background import carried, errands
errands.send("unused photos", key="by hand")
assert carried.bring_word()
"""
ASK = """
import django
django.setup()
from orders.models import Errand
print(Errand.objects.get(key="unused photos: {key}").state)
"""


class AsComposed(Redis):
    """A Redis that is started by the command of the compose file, on a port and in a folder of its own."""

    def command(self):
        name, *words = compose.filled_in(given(self))["services"]["redis"]["command"]
        here = ["--port", str(self.port), "--bind", "127.0.0.1", "--dir", str(self.folder)]
        return [program(name, package="redis-server"), *words, *here]


def given(redis, postgres=None):
    passwords = {
        "REDIS_PASSWORD": redis.password,
        "POSTGRES_PASSWORD": postgres.password if postgres else "x",
    }
    return passwords | {"ADDRESS": "https://quilts.example", "SECRET_KEY": "muslin " * 9}


class Composed:
    """The services of the file; what differs from a container is said in `env`, and nothing else does."""

    def __init__(self, folder, postgres, redis):
        self.folder, self.postgres, self.redis, self.port = folder, postgres, redis, free_port()
        self.services = compose.filled_in(given(redis, postgres))["services"]

    def env(self, service):
        own = dict(self.services[service]["environment"])
        own["DATABASE_URL"] = own["DATABASE_URL"].replace(
            "@postgres:5432", f"@127.0.0.1:{self.postgres.port}"
        )
        own["REDIS_URL"] = own["REDIS_URL"].replace("@redis:6379", f"@127.0.0.1:{self.redis.port}")
        own["DATA_DIR"] = str(self.folder / "data")
        if "PORT" in own:
            own |= {"PORT": str(self.port), "HOST": "127.0.0.1"}
        return {"PATH": os.environ["PATH"], "DJANGO_SETTINGS_MODULE": "config.settings", **own}

    def here(self, words):
        """Return a command with this Python for the container's, and our port for its."""
        assert words[0] == "python"
        return [sys.executable, *(word.replace(":8000/", f":{self.port}/") for word in words[1:])]

    @contextmanager
    def up(self, service):
        with open(self.folder / f"{service}.log", "wb") as said:
            command = self.here(self.services[service]["command"])
            started = subprocess.Popen(command, cwd=ROOT, env=self.env(service), stdout=said, stderr=said)
        try:
            yield
        finally:
            started.terminate()
            started.wait(30)

    def is_healthy(self, service):
        kind, *check = self.services[service]["healthcheck"]["test"]
        assert kind == "CMD"
        return self.run(service, self.here(check)).returncode == 0

    def run(self, service, command):
        return subprocess.run(
            command, cwd=ROOT, env=self.env(service), capture_output=True, text=True, check=False, timeout=60
        )

    def state_of(self, key):
        return self.run("worker", [sys.executable, "-c", ASK.format(key=key)]).stdout.strip()

    def wait_for(self, it_is_so, service, seconds=120):
        said = self.folder / f"{service}.log"
        wait_until(it_is_so, seconds=seconds, otherwise=lambda: f"{service}: {said.read_text()[-1500:]}")


def test_web_answers_the_worker_does_an_errand_and_the_tick_ticks(tmp_path):
    if sentences := missing():
        leave_out(" ".join(sentences))
    postgres, redis = PostgreSQL(), AsComposed()
    with ExitStack() as stack:
        stack.enter_context(running(postgres))
        stack.enter_context(running(redis))
        postgres.make_database("shop")
        site = Composed(tmp_path, postgres, redis)
        assert not site.is_healthy("web")
        stack.enter_context(site.up("web"))
        site.wait_for(lambda: site.is_healthy("web"), "web")
        assert not site.is_healthy("worker")

        stack.enter_context(site.up("worker"))
        time.sleep(5)
        done = site.run("worker", [sys.executable, "-c", SEND])
        assert done.returncode == 0, done.stderr
        site.wait_for(lambda: site.state_of("by hand") == "done", "worker")
        assert site.is_healthy("worker")

        assert not site.is_healthy("tick")
        stack.enter_context(site.up("tick"))
        site.wait_for(lambda: site.is_healthy("tick"), "tick")
        today = time.strftime("%Y-%m-%d", time.gmtime())
        site.wait_for(lambda: site.state_of(today) == "done", "tick")

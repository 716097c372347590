"""Each service's very command, run as a process of this machine with the environment of the compose file.

What runs is what the Dockerfile makes, as an account that owns the data and nothing of the program.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import time
from contextlib import ExitStack, contextmanager

import pytest
import yaml

from tests.conftest import leave_out
from tests.services import compose, image
from tests.services.servers import PostgreSQL, Redis, free_port, missing, own_folder, program, running
from tests.services.whole_site import wait_until

pytestmark = pytest.mark.slow
BEGIN = """
import os
import django
os.environ["DJANGO_SETTINGS_MODULE"] = "config.settings"
django.setup()
"""
SEND = """
from orders.background import carried, errands
errands.send("unused photos", key="by hand")
assert carried.bring_word()
"""
ASK = """
from orders.models import Errand
print(Errand.objects.get(key="unused photos: {key}").state)
"""


class ComposedRedis(Redis):
    """A Redis that is started by the command of the compose file, on a port and in a folder of its own."""

    def command(self):
        name, *words = compose.filled_in(given(self))["services"]["redis"]["command"]
        here = ["--port", str(self.port), "--bind", "127.0.0.1", "--dir", str(self.folder)]
        return [program(name, package="redis-server"), *words, *here]


class ComposedPostgreSQL(PostgreSQL):
    """A PostgreSQL whose records are laid out as the compose file tells its image."""

    letters = tuple(
        yaml.safe_load(compose.FILE.read_text())["services"]["postgres"]["environment"][
            "POSTGRES_INITDB_ARGS"
        ].split()
    )


def given(redis, postgres=None):
    passwords = {
        "REDIS_PASSWORD": redis.password,
        "POSTGRES_PASSWORD": postgres.password if postgres else "x",
    }
    return passwords | {"ADDRESS": "https://quilts.example", "SECRET_KEY": "muslin " * 9}


class Composed:
    """The services of the file; what differs from a container is said in `env` and `here`."""

    def __init__(self, folder, made, postgres, redis):
        self.folder, self.made, self.postgres, self.redis = folder, made, postgres, redis
        self.port, self.data = free_port(), own_folder("batting-data-")
        self.services = compose.filled_in(given(redis, postgres))["services"]

    def env(self, service):
        own = dict(self.services[service]["environment"])
        own["DATABASE_URL"] = own["DATABASE_URL"].replace(
            "@postgres:5432", f"@127.0.0.1:{self.postgres.port}"
        )
        own["REDIS_URL"] = own["REDIS_URL"].replace("@redis:6379", f"@127.0.0.1:{self.redis.port}")
        own["DATA_DIR"] = str(self.data)
        if "PORT" in own:
            own |= {"PORT": str(self.port), "HOST": "127.0.0.1"}
        return image.environment(self.made) | own

    def here(self, words):
        """Return a command with the Python of the image made here, and our port for the container's."""
        assert words[0] == "python"
        return [self.made.python, *(word.replace(":8000/", f":{self.port}/") for word in words[1:])]

    def process(self, service):
        return {"cwd": self.made.program, "env": self.env(service), **self.made.account}

    @contextmanager
    def up(self, service):
        with open(self.folder / f"{service}.log", "wb") as said:
            command = self.here(self.services[service]["command"])
            started = subprocess.Popen(command, stdout=said, stderr=said, **self.process(service))
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
            command, capture_output=True, text=True, check=False, timeout=180, **self.process(service)
        )

    def postgres_is_healthy(self):
        kind, *check = self.services["postgres"]["healthcheck"]["test"]
        assert kind == "CMD"
        where = {"PGHOST": "127.0.0.1", "PGPORT": str(self.postgres.port)}
        check[0] = program(check[0], package="postgresql")
        return subprocess.run(check, env=where, check=False, capture_output=True).returncode == 0

    def redis_is_healthy(self):
        kind, check = self.services["redis"]["healthcheck"]["test"]
        assert kind == "CMD-SHELL"
        check = check.replace("redis-cli", f"redis-cli -p {self.redis.port}")
        env = {"PATH": os.environ["PATH"], **self.services["redis"]["environment"]}
        return subprocess.run(["sh", "-c", check], env=env, check=False).returncode == 0

    def state_of(self, key):
        return self.run("worker", [self.made.python, "-c", BEGIN + ASK.format(key=key)]).stdout.strip()

    def wait_for(self, it_is_so, service, seconds=300):
        said = self.folder / f"{service}.log"
        wait_until(it_is_so, seconds=seconds, otherwise=lambda: f"{service}: {said.read_text()[-1500:]}")


def test_web_answers_the_worker_does_an_errand_and_the_tick_ticks(tmp_path):
    if sentences := missing():
        leave_out(" ".join(sentences))
    postgres, redis = ComposedPostgreSQL(), ComposedRedis()
    with ExitStack() as stack:
        site = Composed(tmp_path, stack.enter_context(image.image()), postgres, redis)
        stack.callback(shutil.rmtree, site.data, ignore_errors=True)
        assert not site.postgres_is_healthy()
        assert not site.redis_is_healthy()
        stack.enter_context(running(postgres))
        stack.enter_context(running(redis))
        assert site.postgres_is_healthy()
        assert site.redis_is_healthy()
        postgres.make_database(site.services["postgres"]["environment"]["POSTGRES_DB"])
        assert not site.is_healthy("web")
        stack.enter_context(site.up("web"))
        site.wait_for(lambda: site.is_healthy("web"), "web")
        assert not site.is_healthy("worker")

        stack.enter_context(site.up("worker"))
        time.sleep(5)
        done = site.run("worker", [site.made.python, "-c", BEGIN + SEND])
        assert done.returncode == 0, done.stderr
        site.wait_for(lambda: site.state_of("by hand") == "done", "worker")
        assert site.is_healthy("worker")

        assert not site.is_healthy("tick")
        stack.enter_context(site.up("tick"))
        site.wait_for(lambda: site.is_healthy("tick"), "tick")
        today = time.strftime("%Y-%m-%d", time.gmtime())
        site.wait_for(lambda: site.state_of(today) == "done", "tick")

"""The mathematics stands alone."""

import subprocess
import sys

from tests.conftest import ROOT

IMPORT_ALL_BLOCKED = """
import importlib, pkgutil, sys

class Blocked:
    def find_spec(self, name, path=None, target=None):
        if name.split(".")[0] in ("django", "orders", "config"):
            raise ImportError(f"{name} is not for the planner")

sys.meta_path.insert(0, Blocked())
import planner
names = [module.name for module in pkgutil.walk_packages(planner.__path__, "planner.")]
for name in names:
    importlib.import_module(name)
try:
    import django
except ImportError:
    print(len(names))
"""


def test_every_planner_module_works_with_django_out_of_reach():
    done = subprocess.run(
        [sys.executable, "-c", IMPORT_ALL_BLOCKED], cwd=ROOT, capture_output=True, text=True, timeout=120
    )
    assert done.returncode == 0, done.stderr
    assert int(done.stdout) >= 1

"""Settings of a child process that does errands of a test: the test's own records, and kinds for tests."""

import os

from config.settings import *  # noqa: F403
from config.settings import DATABASES, ERRANDS_IN

DATABASES["default"]["NAME"] = os.environ["TEST_RECORDS"]
ERRANDS_IN += ["tests.orders.errand_kinds"]

"""Settings for tests: a folder of their own, and passwords that are quick to check.

The records are a file, or on the PostgreSQL that TEST_DATABASE_URL names (`make test-services` has one).
"""

import os
import tempfile

for name in ("HOST", "PORT", "ADDRESS", "DEBUG", "SECRET_KEY", "DATABASE_URL", "REDIS_URL"):
    os.environ.pop(name, None)
os.environ["DATABASE_URL"] = os.environ.get("TEST_DATABASE_URL", "")
os.environ["DATA_DIR"] = tempfile.mkdtemp(prefix="batting-order-")

from config.settings import *  # noqa: E402, F403
from config.settings import DATA_DIR, DATABASES, IN_A_FILE, STATIC_ROOT, STORAGES  # noqa: E402

del os.environ["DATABASE_URL"]  # a site that a test starts has records of its own

STATIC_ROOT.mkdir()

if DATABASES["default"] is not IN_A_FILE:  # a test is one long transaction, which may well rest
    DATABASES["default"]["OPTIONS"] = {"connect_timeout": 5}

# A file, not memory, so that tests meet the same locking and the same PRAGMAs as the shop.
IN_A_FILE["TEST"] = {"NAME": DATA_DIR / "test.sqlite3"}
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
STORAGES["staticfiles"] = {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}

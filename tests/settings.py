"""Settings for tests: a folder of their own, and passwords that are quick to check."""

import os
import tempfile

for name in ("HOST", "PORT", "ADDRESS", "DEBUG", "SECRET_KEY"):
    os.environ.pop(name, None)
os.environ["DATA_DIR"] = tempfile.mkdtemp(prefix="batting-order-")

from config.settings import *  # noqa: E402, F403
from config.settings import DATA_DIR, DATABASES, STATIC_ROOT, STORAGES  # noqa: E402

STATIC_ROOT.mkdir()

# A file, not memory, so that tests meet the same locking and the same PRAGMAs as the shop.
DATABASES["default"]["TEST"] = {"NAME": DATA_DIR / "test.sqlite3"}
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
STORAGES["staticfiles"] = {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}

"""Settings of a site whose only errands are small ones of the tests."""

from config.settings import *  # noqa: F403

ERRANDS_IN = ["tests.services.errand_kinds"]

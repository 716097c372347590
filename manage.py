#!/usr/bin/env python3
"""Run a command of the site, such as `manage.py password NAME`."""

import os
import sys

if __name__ == "__main__":
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings")
    try:
        from orders.management.beginning import run
    except ModuleNotFoundError:
        sys.exit("Django is not there for this Python. Run `make setup`, then .venv/bin/python manage.py …")
    run(sys.argv)

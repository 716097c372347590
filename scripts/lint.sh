#!/bin/sh
# Every check that needs no test run: style, directions of import, types, migrations.
set -eu
.venv/bin/ruff check .
.venv/bin/lint-imports
.venv/bin/mypy --strict planner
.venv/bin/mypy config orders
DATA_DIR=build/lint .venv/bin/python manage.py makemigrations --check --dry-run

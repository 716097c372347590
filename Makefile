# Published tables that some tests compare with; not part of the repository.
CHECK_DATA ?= ../shared/data
export CHECK_DATA

PYTEST = .venv/bin/pytest -q
REPORT = --junitxml=build/tests
# tests/planner never meets a record and tests/house looks at files; both have run already. Of the rest,
# the tests that meet no record leave themselves out (tests/conftest.py).
# The faults come first, because they take longest and are meant to meet a busy machine.
ON_SERVICES = .venv/bin/python -m tests.services.servers $(PYTEST) -n 2 -m "not browser" \
  tests/services tests/orders tests/pages

.PHONY: help setup run test test-fast test-slow test-browser test-services soak lint bench shots lock

help:  ## show this list
	@awk -F ':.*## ' '/^[a-z-]+:.*## / { printf "  make %-13s %s\n", $$1, $$2 }' Makefile

setup:  ## make .venv with all that tests need, and fetch Chromium where it may
	@scripts/bootstrap.sh .venv requirements-dev.lock
	@scripts/system_packages.sh

run:  ## open the site on this machine
	@scripts/bootstrap.sh .venv requirements.lock
	@scripts/system_packages.sh papers
	@exec .venv/bin/python manage.py serve

test: setup  ## everything: lint, then all tests
	@rm -rf build/tests
	@scripts/timed.sh "lint and contracts" scripts/lint.sh
	@scripts/timed.sh "fast tests" $(PYTEST) -n 2 -m "not slow and not browser and not services" $(REPORT)/fast.xml
	@scripts/timed.sh "slow tests" $(PYTEST) -n 2 -m "slow and not browser and not services" $(REPORT)/slow.xml
	@scripts/timed.sh "browser tests" $(PYTEST) -m browser $(REPORT)/browser.xml
	@scripts/system_packages.sh services
	@scripts/timed.sh "tests on PostgreSQL and Redis" $(ON_SERVICES) $(REPORT)/services.xml
	@.venv/bin/python scripts/closing_line.py build/tests/*.xml

test-fast: setup  ## the tests that take seconds
	@$(PYTEST) -n 2 -m "not slow and not browser and not services"

test-slow: setup  ## the tests that search or start servers
	@$(PYTEST) -n 2 -m "slow and not browser and not services"

test-browser: setup  ## the tests in a real Chromium
	@$(PYTEST) -m browser

test-services: setup  ## everything that keeps records, on a PostgreSQL and a Redis of its own
	@scripts/system_packages.sh services
	@$(ON_SERVICES)

soak: setup  ## the checks of money in large numbers (SOAK_POSTINGS=1000000 SOAK_RACES=1000 SOAK_KILLS=500)
	@SOAK_POSTINGS=$(or $(SOAK_POSTINGS),1000000) SOAK_RACES=$(or $(SOAK_RACES),1000) \
	  SOAK_KILLS=$(or $(SOAK_KILLS),500) SOAK_TAMPERS=$(or $(SOAK_TAMPERS),10000) SOAK_BINS=1 \
	  $(PYTEST) tests/planner/materials/test_bins.py tests/planner/price/test_legs.py tests/orders/account/test_sealing.py tests/orders/test_payments_at_once.py

lint: setup  ## style, import contracts, types, migrations
	@scripts/lint.sh

bench: setup  ## print the figures that are measured, not tested
	@for script in tests/bench/bench_*.py; do \
	  if [ -f "$$script" ]; then echo "== $$script"; PYTHONPATH=. .venv/bin/python "$$script" || exit 1; \
	  else echo "There is no bench script yet."; fi; \
	done

shots: setup  ## photograph every screen and paper of the demo shop (ONLY="today quilts" for some)
	@.venv/bin/python scripts/shots.py $(ONLY)

COMPILE = .venv/bin/uv pip compile -q pyproject.toml --universal --python-version 3.11 --generate-hashes --no-header

lock:  ## write the lock files anew after a change of pyproject.toml (UPGRADE=--upgrade takes the newest of all)
	@scripts/bootstrap.sh .venv requirements-dev.lock
	$(COMPILE) $(UPGRADE) --extra server --group dev -o requirements-dev.lock
	$(COMPILE) -c requirements-dev.lock --extra server -o requirements-server.lock
	$(COMPILE) -c requirements-dev.lock -o requirements.lock

CHECK_DATA ?= ../shared/data
export CHECK_DATA

.PHONY: setup
setup:  ## make .venv with all that tests need, and fetch Chromium where it may
	@scripts/bootstrap.sh .venv requirements-dev.lock

# One virtual environment, made from the locks; every target brings it up to date first.
PYTHON ?= python3.11
VENV := .venv
BIN := $(VENV)/bin
INSTALL := $(BIN)/python -m pip install --quiet --disable-pip-version-check --no-compile

.DEFAULT_GOAL := help
.PHONY: help demo test lint bench mutants oracle pictures serve lock clean

help: ## list the targets
	@grep -E '^[a-z]+:.*##' $(MAKEFILE_LIST) | sed -E 's/:.*## /\t/' | expand -t 12

# What builds the package is pinned by a lock of its own, and gone once the package is there.
$(VENV)/run.stamp: requirements.lock requirements-build.lock pyproject.toml
	test -x $(BIN)/python || $(PYTHON) -m venv $(VENV)
	$(INSTALL) --require-hashes --requirement requirements.lock
	$(INSTALL) --require-hashes --requirement requirements-build.lock --target $(VENV)/build --upgrade
	PYTHONPATH=$(CURDIR)/$(VENV)/build $(INSTALL) --no-build-isolation --no-deps --editable .
	rm -rf $(VENV)/build
	touch $@

$(VENV)/dev.stamp: $(VENV)/run.stamp requirements-dev.lock
	$(INSTALL) --require-hashes --requirement requirements-dev.lock
	touch $@

demo: $(VENV)/run.stamp ## take an invented workplace's files in and show what needs a person today
	$(BIN)/evenhand demo

serve: $(VENV)/run.stamp ## show the demo's pages on this machine
	$(BIN)/evenhand --workspace demo/workspace serve

test: $(VENV)/dev.stamp lint ## lint, types, import rules and every test
	tests/services.sh $(BIN)/python -m pytest -n auto --dist loadfile

lint: $(VENV)/dev.stamp ## format, lint, types and import rules
	$(BIN)/ruff format --check --quiet src tests bench
	$(BIN)/ruff check --quiet src tests bench
	$(BIN)/mypy
	$(BIN)/lint-imports

bench: $(VENV)/dev.stamp ## print the measured ratios against their yardsticks
	$(BIN)/python -m bench

mutants: $(VENV)/dev.stamp ## plant faults in the rooms and count those that their tests see
	$(BIN)/python -m tests.mutants $(OF)

oracle: $(VENV)/dev.stamp ## hold a million random person-weeks against the minute-by-minute oracle
	$(BIN)/python -m tests.oracle $(OF)

pictures: $(VENV)/dev.stamp ## take the README's pictures anew, from the demo
	$(BIN)/python -m tests.pictures

LOCK = $(BIN)/pip-compile --quiet --upgrade --generate-hashes --no-emit-index-url --no-emit-find-links --allow-unsafe --strip-extras

lock: ## write the locks again, to the newest versions that fit
	$(LOCK) --extra team --output-file requirements.lock pyproject.toml
	$(LOCK) --all-build-deps --only-build-deps --output-file requirements-build.lock pyproject.toml
	$(LOCK) --extra team --extra dev --constraint requirements.lock --output-file requirements-dev.lock pyproject.toml

clean: ## remove the environment and the demo
	rm -rf $(VENV) demo

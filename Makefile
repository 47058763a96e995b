# One virtual environment, made from the lock; every target brings it up to date first.
PYTHON ?= python3.11
VENV := .venv
BIN := $(VENV)/bin

.DEFAULT_GOAL := help
.PHONY: help demo test lint bench serve lock clean

help: ## list the targets
	@grep -E '^[a-z]+:.*##' $(MAKEFILE_LIST) | sed -E 's/:.*## /\t/' | expand -t 12

$(VENV)/run.stamp: requirements.lock pyproject.toml
	test -x $(BIN)/python || $(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --require-hashes --requirement requirements.lock
	$(BIN)/python -m pip install --quiet --no-build-isolation --no-deps --editable .
	touch $@

$(VENV)/dev.stamp: $(VENV)/run.stamp requirements-dev.lock
	$(BIN)/python -m pip install --quiet --require-hashes --requirement requirements-dev.lock
	touch $@

demo: $(VENV)/run.stamp ## take an invented workplace's files in and show what needs a person today
	$(BIN)/evenhand demo

serve: $(VENV)/run.stamp ## show the demo's pages on this machine
	$(BIN)/evenhand --workspace demo/workspace serve

test: $(VENV)/dev.stamp lint ## lint, types, import rules and every test
	$(BIN)/python -m pytest -n auto --dist loadfile

lint: $(VENV)/dev.stamp ## format, lint, types and import rules
	$(BIN)/ruff format --check --quiet src tests bench
	$(BIN)/ruff check --quiet src tests bench
	$(BIN)/mypy
	$(BIN)/lint-imports

bench: $(VENV)/dev.stamp ## print the measured ratios against their yardsticks
	$(BIN)/python -m bench

lock: ## write the locks again, to the newest versions that fit
	$(BIN)/pip-compile --quiet --upgrade --generate-hashes --no-emit-index-url --no-emit-find-links \
		--strip-extras --extra team --all-build-deps --output-file requirements.lock pyproject.toml
	$(BIN)/pip-compile --quiet --upgrade --generate-hashes --no-emit-index-url --no-emit-find-links --allow-unsafe \
		--strip-extras --extra team --extra dev --all-build-deps --constraint requirements.lock \
		--output-file requirements-dev.lock pyproject.toml

clean: ## remove the environment and the demo
	rm -rf $(VENV) demo

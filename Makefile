# make demo: the main job on a fresh machine.   make check: every check.   The other targets are listed in README.md.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
READY := $(VENV)/.ready

.PHONY: setup check demo docs bench soak

setup: $(READY)

$(READY): requirements.lock pyproject.toml
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { echo "Fifthwire needs Python 3.11 or newer: make PYTHON=python3.12 ..."; exit 2; }
	@$(PYTHON) -c 'import venv, ensurepip' 2>/dev/null || { echo "Python's venv is missing: on Debian, apt-get install python3-venv"; exit 2; }
	test -x $(BIN)/python || $(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements.lock
	PATH="$(CURDIR)/$(BIN):$$PATH" $(BIN)/python -m pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation -e .
	$(BIN)/python -m compileall -q src  # also where Python is told to keep no bytecode: it halves the time of a run
	@touch $(READY)

check: $(READY)
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/lint-imports --no-cache
	$(BIN)/python tools/chromium.py
	$(BIN)/python -m pytest

demo: $(READY)
	$(BIN)/fifthwire demo
	$(BIN)/fifthwire serve --demo

docs: $(READY)
	$(BIN)/python tools/docs.py

bench: $(READY)
	$(BIN)/python -m benchmarks

soak: $(READY)
	$(BIN)/python -m tests.soak

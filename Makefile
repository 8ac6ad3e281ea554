# Needs make and Python 3.11 or newer; everything else is installed into .venv.
#   make demo       plan the example order and leave its packet in out/demo
#   make test       lint, types, the rooms' imports, every test that is not slow
#   make test-slow  the slow tests
#   make bench      speed, as ratios against a stated reference
#   make clean      remove what make made (the virtualenv too)

PYTHON ?= python3
VENV   := .venv
BIN    := $(VENV)/bin
PIP    := $(BIN)/python -m pip --disable-pip-version-check
ORDER  ?= examples/demo.toml
OUT    ?= out/demo
JOBS   ?= auto

unexport PYTHONDONTWRITEBYTECODE  # tests start the program some hundred times: it is compiled once

.DELETE_ON_ERROR:
.PHONY: demo test test-slow bench clean

demo: $(VENV)/.runtime
	$(BIN)/pleatwright plan $(ORDER) --out $(OUT)
	@echo "The packet for the bench is in $(OUT):"
	@ls $(OUT)

test: $(VENV)/.test
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/lint-imports
	$(BIN)/pytest -n $(JOBS)

test-slow: $(VENV)/.test
	$(BIN)/pytest -m slow -n $(JOBS)

bench: $(VENV)/.runtime
	$(BIN)/python -m benchmarks.run

clean:
	rm -rf $(VENV) out dist build .mypy_cache .ruff_cache .pytest_cache .hypothesis .import_linter_cache
	find . -name __pycache__ -type d -prune -exec rm -rf {} +

# The stamps make a second run quick; a changed pyproject.toml installs again.

$(VENV)/.made:
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11) and "Python 3.11 or newer is needed, this is %s; name one with make PYTHON=..." % sys.version.split()[0])'
	$(PYTHON) -m venv $(VENV)
	@touch $@

$(VENV)/.runtime: $(VENV)/.made pyproject.toml
	@echo "Installing what Pleatwright runs on; this takes a minute the first time."
	$(PIP) install --quiet --editable .
	@touch $@

$(VENV)/.test: $(VENV)/.made pyproject.toml
	@echo "Installing what the tests need; this takes a minute the first time."
	$(PIP) install --quiet --editable '.[test]'
	@touch $@ $(VENV)/.runtime

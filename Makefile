# Keptword: every target does its own set-up. 'make help' lists them.
PYTHON ?= python3
VENV   ?= .venv
BIN    := $(VENV)/bin
PIP    := $(BIN)/python -m pip --disable-pip-version-check
PORT   ?= 8808

.DEFAULT_GOAL := help
.PHONY: help setup rehearse test test-all lint format types imports check benchmarks wheel lock clean

help: ## what can be done here
	@grep -hE '^[a-z-]+:.*##' $(MAKEFILE_LIST) | sed 's/:.*## /\t/' | expand -t 14

# The lock has two parts: what Keptword runs on, and, after the line '# development', what building and testing it needs.
$(VENV)/.runtime: requirements.lock pyproject.toml
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { echo "Keptword needs Python 3.11 or newer; set PYTHON=/path/to/it"; exit 1; }
	@echo "Setting up $(VENV) (once; about a minute) ..."
	@test -x $(BIN)/python || $(PYTHON) -m venv $(VENV)
	@sed '/^# development/,$$d' requirements.lock > $(VENV)/runtime.lock
	@$(PIP) install --quiet --require-hashes -r $(VENV)/runtime.lock
	@$(PIP) install --quiet --no-deps --no-build-isolation -e .
	@touch $@

$(VENV)/.development: $(VENV)/.runtime
	@echo "Adding what the tests need (once; about a minute) ..."
	@$(PIP) install --quiet --require-hashes -r requirements.lock
	@touch $@

setup: $(VENV)/.development ## the virtual environment, with everything

rehearse: $(VENV)/.runtime ## the whole system on this machine alone, at one address
	@$(BIN)/keptword rehearse --port $(PORT)

test: $(VENV)/.development ## every test, with branch coverage
	@echo "Running the tests on two processes ..."
	@$(BIN)/python -m pytest -n 2 --dist worksteal --cov --cov-report=term -q

lint: $(VENV)/.development ## style and the direction of imports
	@$(BIN)/ruff format --check .
	@$(BIN)/ruff check .
	@$(BIN)/lint-imports

format: $(VENV)/.development ## let the formatter have its way
	@$(BIN)/ruff format .
	@$(BIN)/ruff check --fix .

types: $(VENV)/.development ## mypy, strict
	@$(BIN)/mypy

check: lint types test ## all that CI asks

benchmarks: $(VENV)/.development ## the figures, a table each
	@$(BIN)/python -m pytest tests/benchmarks -m benchmark -s -q --no-cov -p no:cacheprovider

wheel: $(VENV)/.development ## dist/keptword-*.whl
	@$(BIN)/python -m build --wheel --no-isolation --outdir dist .

lock: ## requirements.lock afresh from pyproject.toml (needs uv)
	@uv pip compile --quiet --universal --python-version 3.11 --generate-hashes --no-emit-index-url --no-annotate --no-header --no-strip-extras \
	    --extra setup pyproject.toml -o requirements.runtime
	@uv pip compile --quiet --universal --python-version 3.11 --generate-hashes --no-emit-index-url --no-annotate --no-header --no-strip-extras \
	    --extra setup --extra dev -c requirements.runtime pyproject.toml -o requirements.full \
	    $$(sed -n 's/^\([a-z0-9][a-z0-9._-]*\)[=[].*/--no-emit-package \1/p' requirements.runtime | sort -u)
	@{ cat requirements.runtime; echo "# development"; cat requirements.full; } > requirements.lock
	@rm requirements.runtime requirements.full

clean: ## remove what was built here
	@rm -rf $(VENV) build dist .coverage* .pytest_cache .mypy_cache .ruff_cache .hypothesis

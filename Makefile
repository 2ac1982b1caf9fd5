# make demo: try the program.   make test: check everything.   make: the rest.
# Needs make and Python 3.11 or newer with pip; see DEVELOPERS.md.

SHELL := /bin/sh
.DEFAULT_GOAL := help
.DELETE_ON_ERROR:

PORT ?= 8700
PYTHON ?= $(shell for p in python3 python3.14 python3.13 python3.12 python3.11; do \
	$$p -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null \
	&& echo $$p && break; done || true)
VENV := .venv
ORACLES := .venv-oracles
MUTATION := .venv-mutation
LOCK := .ci/lock
MAKING := .ci/environment .ci/link.py pyproject.toml
# Locks are for every system and Python from 3.11 on, and name no address.
COMPILE := .venv-lock/bin/uv pip compile --quiet --universal --python-version 3.11 \
	--generate-hashes --no-header --no-annotate --upgrade

export PYTHONPATH := $(CURDIR)
unexport VIRTUAL_ENV

.PHONY: help demo serve test thorough lint bench mutation oracles lock clean

help:
	@echo "make demo [PORT=8700]  serve a made-up site on this machine"
	@echo "make serve [PORT=8700] serve an installation of your own (WITNESSMARK_INSTANCE)"
	@echo "make test              every check and test there is"
	@echo "make thorough          the same, on many more made-up cases, all on both databases"
	@echo "make lint              ruff, import contracts, mypy"
	@echo "make bench             time and memory; table and test-results/bench.json"
	@echo "make mutation          does a test see each change of the core? An hour or two"
	@echo "make oracles           the environment of the outside programs"
	@echo "make lock              choose newest versions again (.ci/lock)"
	@echo "make clean             remove environments and caches, never data"

demo: $(VENV)/.made-run
	@$(VENV)/bin/witnessmark demo --port $(PORT)

serve: $(VENV)/.made-run
	@$(VENV)/bin/witnessmark serve --port $(PORT)

test: $(VENV)/.made-test $(ORACLES)/.made
	@$(VENV)/bin/python -m tests.run all

thorough: export WITNESSMARK_LAWS = thorough
thorough: test

lint: $(VENV)/.made-test
	@$(VENV)/bin/python -m tests.run lint

bench: $(VENV)/.made-test
	@$(VENV)/bin/python -m tests.bench.run

mutation: $(MUTATION)/.made
	@$(MUTATION)/bin/python -m tests.mutation $(MODULES)

oracles: $(ORACLES)/.made

$(VENV)/.made-run: $(LOCK)/run.txt $(MAKING)
	@.ci/environment "$(PYTHON)" $(VENV) $(LOCK)/run.txt
	@$(VENV)/bin/python .ci/link.py
	@touch $@

$(VENV)/.made-test: $(LOCK)/test.txt $(MAKING)
	@.ci/environment "$(PYTHON)" $(VENV) $(LOCK)/test.txt
	@$(VENV)/bin/python .ci/link.py
	@touch $@ $(VENV)/.made-run

$(ORACLES)/.made: $(LOCK)/oracles.txt .ci/environment
	@.ci/environment "$(PYTHON)" $(ORACLES) $(LOCK)/oracles.txt
	@touch $@

$(MUTATION)/.made: $(LOCK)/test.txt $(LOCK)/mutation.txt $(MAKING)
	@.ci/environment "$(PYTHON)" $(MUTATION) $(LOCK)/test.txt
	@.ci/environment "$(PYTHON)" $(MUTATION) $(LOCK)/mutation.txt
	@touch $@

lock:
	@$(PYTHON) -m venv .venv-lock
	@.venv-lock/bin/python -m pip install --quiet --disable-pip-version-check uv
	@$(COMPILE) pyproject.toml --extra postgres -o $(LOCK)/run.txt
	@$(COMPILE) pyproject.toml --extra postgres --extra test \
		--constraint $(LOCK)/run.txt -o $(LOCK)/test.txt
	@$(COMPILE) $(LOCK)/oracles.in -o $(LOCK)/oracles.txt
	@$(COMPILE) $(LOCK)/mutation.in --constraint $(LOCK)/test.txt \
		-o $(LOCK)/mutation.txt
	@rm -rf .venv-lock
	@! grep -n '://' $(LOCK)/*.txt

clean:
	rm -rf $(VENV) $(ORACLES) $(MUTATION) .venv-lock mutants .mypy_cache .ruff_cache .pytest_cache \
		.hypothesis .import_linter_cache test-results
	find . -name __pycache__ -type d -prune -exec rm -rf {} +

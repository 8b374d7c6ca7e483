# `make demo` and `make test` do all the set-up there is.
PYTHON ?= python3
VENV   ?= .venv
ifeq ($(OS),Windows_NT)
BIN := $(VENV)/Scripts
else
BIN := $(VENV)/bin
endif
# what `make demo` installs beside the logger and its pages; EXTRAS= for none, or [pictures] where others have no wheel
EXTRAS ?= [all]
# Each package is held against its hash, which takes uv: pip does so only where it is told every package by name. Where
# uv is not installed it is fetched into the environment, held against its own.
UV := $(shell command -v uv 2>/dev/null)
ifdef UV
MAKE_VENV := $(UV) venv --quiet --allow-existing --python $(PYTHON) $(VENV)
else
UV := $(BIN)/uv
MAKE_VENV := $(PYTHON) -m venv $(VENV) && \
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r config/uv.txt
endif
HASHED  := config/hashed.txt
INSTALL := $(UV) pip install --quiet --python $(BIN)/python -c $(HASHED) -b $(HASHED)
COMPILE := $(UV) pip compile --quiet --universal --no-header --no-annotate

# Python keeps what it compiled: each worker of the tests and each program that they start would else do it all again
unexport PYTHONDONTWRITEBYTECODE

.PHONY: demo test test-postgres claims coverage mutants fuzz lint bench bench-plain bench-call bench-learn bench-messages bench-real soak interfaces told shipped pins clean

demo: $(VENV)/.ready
	$(BIN)/shotlog demo $(ARGS)

test: lint $(VENV)/.compiled
	$(BIN)/pytest -n 5 --dist worksteal $(ARGS)

# every test, with the logs on a PostgreSQL server; what is about files of SQLite, or about no log, is left out
test-postgres: $(VENV)/.ready-test
	$(BIN)/pytest -n 5 --dist worksteal --engine postgresql tests \
		$(addprefix --ignore=tests/,charts collectors fuzz learning long mutants parts reference said simulators wear wording) $(ARGS)

# statistical claims over many simulated lives, marked long and left out of `test`
claims: $(VENV)/.ready-test
	$(BIN)/pytest -n 3 --dist worksteal -m long $(ARGS)

coverage: $(VENV)/.ready-test
	$(BIN)/pytest -n 5 --dist worksteal --cov --cov-report=term $(ARGS)

mutants: $(VENV)/.ready-test
	$(BIN)/python -m tests.mutants.sample $(ARGS)

fuzz: $(VENV)/.ready-test
	$(BIN)/python -m tests.fuzz.fuzz $(ARGS)

lint: $(VENV)/.ready-test
	$(BIN)/ruff format --check .
	$(BIN)/ruff check .
	$(BIN)/mypy
	$(BIN)/lint-imports

# every claim of speed and size beside its limit, in one table; some 12 minutes, ARGS="--only store" for a part
bench: $(VENV)/.ready-test
	$(BIN)/python -m tests.benchmark.table $(ARGS)

# whole days judged with the compiler and without: equal to the last bit, and what a shot costs; some 15 minutes
bench-plain: $(VENV)/.ready-test
	$(BIN)/python -m tests.benchmark.bench_plain $(ARGS)

bench-call: $(VENV)/.ready-test
	$(BIN)/python -m tests.benchmark.examiner.examine $(EXAMINE)
	$(BIN)/python -m tests.benchmark.examiner.trials
	$(BIN)/python -m tests.benchmark.bench_call $(ARGS)

# odd presses that `learn` was not written for, each learnt without help, with one shot and with two: some 8 minutes
bench-learn: $(VENV)/.ready-test
	$(BIN)/python -m tests.learned.examine $(ARGS)

# from a shot in the log to its message, and what sending costs the logger, with brokers that fail in each way; some 6 minutes
bench-messages: $(VENV)/.ready-test
	$(BIN)/python -m tests.benchmark.bench_messages $(ARGS)

bench-real: $(VENV)/.ready-test
	$(BIN)/python -m tests.benchmark.bench_real $(ARGS)

# the table of what was done to the logger, power cuts, and 72 hours of three presses under faults: some 40 minutes
soak: $(VENV)/.ready-test
	-$(BIN)/python -m tests.faults.table
	$(BIN)/python -m tests.faults.cuts
	$(BIN)/python -m tests.faults.soak $(ARGS)

# presses on open interfaces, 10,000 shots of each under faults, counted from outside: some 20 minutes
interfaces: $(VENV)/.ready-test
	$(BIN)/python -m tests.faults.opc $(ARGS)
	$(BIN)/python -m tests.faults.files $(ARGS)

$(VENV)/.ready: pyproject.toml config/hashed.txt config/uv.txt
	$(MAKE_VENV)
	$(INSTALL) -e ".$(EXTRAS)"
	$(BIN)/shotlog --version
	@touch $@

$(VENV)/.ready-test: $(VENV)/.ready
	$(INSTALL) -e ".[test]"
	@touch $@

# who is told how often, with broker, inbox, messenger, logger and log failing in each way: some 20 minutes
told: $(VENV)/.ready-test
	$(BIN)/python -m tests.faults.messages $(ARGS)

# The first that collects the tests compiles them, the first that judges a shot the inner loops: one here, beside `lint`
# where make may do two things, not five workers at a time. What is wrong with either, the run itself says.
$(VENV)/.compiled: $(VENV)/.ready-test
	@$(BIN)/pytest --collect-only -q >/dev/null 2>&1 || true
	@$(BIN)/python -c "from shotlog.recorder.compiling import compile_apart_then_rehearse as ready; ready()" || true
	@touch $@

# two edges and a centre whose server is killed, 100,000 shots, counted from outside: some 15 minutes
shipped: $(VENV)/.ready-test
	$(BIN)/python -m tests.faults.ship $(ARGS)

# what is pinned, anew: ARGS=--upgrade takes the newest, else only what pyproject.toml asks for changes
pins: $(VENV)/.ready
	$(COMPILE) --all-extras $(ARGS) pyproject.toml -o config/constraints.txt
	$(COMPILE) --all-extras --generate-hashes -c config/constraints.txt pyproject.toml -o $(HASHED)
	echo uv | $(COMPILE) --generate-hashes --python-version 3.11 $(ARGS) - -o config/uv.txt

clean:
	rm -rf $(VENV) .pytest_cache .mypy_cache .ruff_cache .coverage build *.egg-info

# Where there is no make: `python make.py run` (on Windows `py make.py run`), and so on.
PYTHON ?= python3

.PHONY: run test check bench mutants nightly words lock setup
run test check bench mutants nightly words lock setup:
	@$(PYTHON) make.py $@

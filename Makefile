# Where there is no make: `python make.py run` (on Windows `py make.py run`), and so on.
PYTHON ?= python3

.PHONY: run test check docs bench mutants fuzz nightly words lock setup
run test check docs bench mutants fuzz nightly words lock setup:
	@$(PYTHON) make.py $@

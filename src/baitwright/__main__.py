"""`python -m baitwright` is the command line."""

from __future__ import annotations

from baitwright.cli.main import main

if __name__ == "__main__":
    main()

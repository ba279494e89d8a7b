"""A server for what is tried on one."""

from __future__ import annotations

from tests.notebook.conftest import cluster  # noqa: F401 - a server for those who share one

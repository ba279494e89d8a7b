"""Every target by its name."""

from __future__ import annotations

from tests.fuzzing import book_targets, file_targets, typed_targets

TARGETS = {
    one.name: one for one in (*typed_targets.TARGETS, *file_targets.TARGETS, *book_targets.TARGETS)
}

"""The small tables beside the sheets say when they are broken."""

from __future__ import annotations

from pathlib import Path

import pytest

from baitwright.sheets import tables


@pytest.mark.parametrize(
    ("content", "complaint"),
    [
        ("id,words\na,b\n", "the columns are id, words, not id, text"),
        ("id,text\na,\n", "not one word in every column"),
        ("id,text\na,b,c\n", "not one word in every column"),
    ],
)
def test_a_broken_table_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, content: str, complaint: str
) -> None:
    (tmp_path / "words.csv").write_text(content, encoding="utf-8")
    monkeypatch.setattr(tables, "DATA", tmp_path)
    with pytest.raises(ValueError, match=complaint):
        tables.lines_of("words", ("id", "text"))


def test_a_table_may_be_empty(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "words.csv").write_text("id,text\n", encoding="utf-8")
    monkeypatch.setattr(tables, "DATA", tmp_path)
    assert tables.lines_of("words", ("id", "text")) == []

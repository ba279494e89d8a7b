"""Every source says who, what, where and how much of it was seen."""

from __future__ import annotations

import pytest

from baitwright.sources import (
    BIBLIOGRAPHY,
    Seen,
    SourceKind,
    UnknownSourceError,
    _entry,
    source,
    source_keys,
    sources,
)

OURS = {"judgement", "common-practice", "recalled", "definition"}


def test_the_headings_are_the_keys() -> None:
    assert source_keys() == sources().keys()
    assert BIBLIOGRAPHY.read_text(encoding="utf-8").count("\n[") == len(source_keys())


@pytest.mark.parametrize("key", sorted(source_keys()))
def test_an_entry_is_whole(key: str) -> None:
    entry = source(key)
    assert entry.key == key
    assert entry.title
    assert entry.where or key == "definition"
    assert entry.authors or entry.seen is not Seen.MEMORY or key in OURS | {"metal-densities"}
    assert entry.year is None or 1500 < entry.year <= 2026
    assert entry.title in entry.citation
    assert entry.citation.endswith(".")
    assert not entry.where.endswith(".")


def test_a_citation_is_one_line() -> None:
    assert source("gum-2008").citation == (
        "Joint Committee for Guides in Metrology (2008): Evaluation of measurement data: guide to "
        "the expression of uncertainty in measurement. JCGM 100:2008."
    )
    assert source("definition").citation == "True by definition."


def test_nothing_of_ours_passes_for_a_document() -> None:
    judged = {key for key, entry in sources().items() if entry.seen is Seen.NOTHING}
    assert judged == OURS - {"recalled"}
    assert source("common-practice").kind is SourceKind.PRACTICE
    assert source("judgement").kind is SourceKind.JUDGEMENT


def test_an_unknown_key_says_where_to_add_it() -> None:
    with pytest.raises(UnknownSourceError, match=r"nobody-1900.*sources\.toml") as caught:
        source("nobody-1900")
    assert isinstance(caught.value, KeyError)
    assert caught.value.key == "nobody-1900"


@pytest.mark.parametrize(
    ("fields", "error"),
    [
        ({"title": "A", "kind": "rumour", "seen": "read"}, ValueError),
        ({"title": "A", "kind": "paper", "seen": "dreamt"}, ValueError),
        ({"title": "A", "kind": "paper"}, ValueError),
        ({"kind": "paper", "seen": "read"}, TypeError),
        ({"title": "A", "kind": "paper", "seen": "read", "price": 3}, TypeError),
    ],
)
def test_a_bad_entry_is_refused(fields: dict[str, object], error: type[Exception]) -> None:
    with pytest.raises(error):
        _entry("a", fields)

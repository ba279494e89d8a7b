"""`docs/numbers.md` is what the program declares, whole and up to date."""

from __future__ import annotations

from pathlib import Path

import pytest

from baitwright.materials.defaults import defaults
from baitwright.materials.factors import factor_priors
from baitwright.sheets import numbers, tables
from baitwright.sources import source
from baitwright.terms.quantity import declarations

HEADER = "check,trade_figure,model,suspect,measurement\n"


def test_the_document_is_up_to_date() -> None:
    assert numbers.main(["--check"]) == 0, "python -m baitwright.sheets.numbers"


def test_every_declaration_stands_in_it_with_its_equation_and_source() -> None:
    text = numbers.numbers_document()
    rooms = ("baitwright.batch.", "baitwright.blending.", "baitwright.recipe.")
    held = [one for one in declarations() if one.function.__module__.startswith(rooms)]
    assert len(held) > 80
    for one in held:
        row = next(line for line in text.splitlines() if line.startswith(f"| `{one.name}` |"))
        assert one.label in row
        assert f"[{one.source}](#{one.source})" in row
        assert " ".join(one.equation.replace("|", "\\|").split()) in row
        assert f'<a id="{one.source}"></a>' in text
        assert source(one.source).citation in text


def test_every_default_and_factor_stands_in_it_with_what_would_settle_it() -> None:
    text = numbers.numbers_document().partition("## What is assumed")[2]
    for row in (*defaults().values(), *factor_priors().values()):
        line = next(line for line in text.splitlines() if line.startswith(f"| `{row.id}` |"))
        assert row.label in line
        assert f"{row.evidence}, [{row.source}]" in line
    assert numbers.settling().keys() == defaults().keys()
    for prior in factor_priors().values():
        assert prior.measurement in text


def test_check_tells_a_stale_document_from_a_fresh_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(numbers, "DOCUMENT", tmp_path / "numbers.md")
    assert numbers.main(["--check"]) == 1
    assert numbers.main([]) == 0
    assert numbers.main(["--check"]) == 0
    (tmp_path / "numbers.md").write_text("by hand", encoding="utf-8")
    assert numbers.main(["--check"]) == 1
    assert numbers.main(["--something"]) == 2


def test_each_doubt_stands_in_it_and_names_a_default_of_ours(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(tables, "DATA", tmp_path)
    table = tmp_path / "doubts.csv"
    table.write_text(f"{HEADER}8 mm core,all float,half do,air_left; core_density,a cup\n")
    (doubt,) = numbers.doubts()
    assert (doubt.check, doubt.model) == ("8 mm core", "half do")
    table.write_text(f"{HEADER}8 mm core,all float,half do,the moon,a cup\n")
    with pytest.raises(ValueError, match="no default or factor named the moon"):
        numbers.doubts()


def test_the_doubts_of_the_tree_can_be_read_and_are_told() -> None:
    text = numbers.numbers_document()
    section = text.partition("## Where the defaults doubt themselves")[2].partition("## Sources")[0]
    for doubt in numbers.doubts():
        assert doubt.check in section
        assert doubt.measurement in section
    assert section.strip()

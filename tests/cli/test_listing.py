"""The lists of commands tell every first sentence to its end."""

from __future__ import annotations

import click
import pytest
from click.testing import CliRunner

from baitwright.cli.main import cli


@pytest.mark.parametrize(
    "group", ["", "ask", "batch", "cautions", "complaint", "cost", "mix", "sell", "shelf", "trial"]
)
def test_no_sentence_is_cut_short(group: str) -> None:
    told = CliRunner().invoke(cli, [*filter(None, (group,)), "--help"], terminal_width=80).output
    assert "Commands:" in told
    assert "..." not in told.partition("Commands:")[2]
    room = cli.get_command(click.Context(cli), group) if group else cli
    assert isinstance(room, click.Group)
    for name in room.list_commands(click.Context(room)):
        assert f"\n  {name} " in told

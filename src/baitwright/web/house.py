"""What every page of an open workshop shares."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated

from fastapi import Depends, Request

from baitwright.notebook.where import Where
from baitwright.web.lan import Lan
from baitwright.workshop.standing import Standing


@dataclass(frozen=True, slots=True)
class House:
    """An open workshop.

    Parameters
    ----------
    notebook: the maker's own, or that of the demonstration.
    key: the secret that tokens are made with.
    hosts: the names by which browsers may call this machine, with the port where there is one.
    is_demo: whether the notebook is invented.
    lan: the door to other devices; none where only this machine may ask.
    """

    notebook: Standing
    key: bytes = field(repr=False)
    hosts: tuple[str, ...]
    is_demo: bool = False
    lan: Lan | None = None

    @property
    def place(self) -> Where:
        """Where the notebook is."""
        return self.notebook.place


def _house(request: Request) -> House:
    house: House = request.app.state.house
    return house


InHouse = Annotated[House, Depends(_house)]
"""An argument of a page that is handed the house."""

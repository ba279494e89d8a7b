"""How a page, or a program's question, is handed the house it is asked in."""

from __future__ import annotations

from typing import Annotated

from fastapi import Depends, Request

from baitwright.web.house import House, house_of


def _house(request: Request) -> House:
    return house_of(request)


InHouse = Annotated[House, Depends(_house)]
"""An argument of a page that is handed the house."""

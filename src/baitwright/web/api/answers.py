"""What the API answers: data as it is, and each way of refusing."""

from __future__ import annotations

import json
from typing import Any

from fastapi import Depends, Request, Security
from fastapi.responses import JSONResponse, Response
from fastapi.security import APIKeyHeader
from pydantic import BaseModel

from baitwright.terms.errors import InputError
from baitwright.web.guard import HEADER, holds_token


class Answer(JSONResponse):
    """JSON of plain letters, which any reader takes."""

    def render(self, content: Any) -> bytes:
        """The bytes of an answer."""
        return json.dumps(content, allow_nan=False).encode()


class Wrong(BaseModel):
    """What was wrong: at which field, what would be accepted there, and the whole message."""

    field: str
    accepted: str
    message: str


class NotTaken(BaseModel):
    """Something that was told cannot be used."""

    detail: Wrong


class Refused(BaseModel):
    """Why something was refused."""

    detail: str


def _in_words(description: str) -> dict[str, Any]:
    """A refusal that the door says as JSON, or the guard before it as text."""
    text = {"text/plain": {"schema": {"type": "string"}}}
    return {"model": Refused, "description": description, "content": text}


LOOKS: dict[int | str, dict[str, Any]] = {
    400: _in_words("Another host's name, or what cannot be read at all"),
    401: {"model": Refused, "description": "Another device's, or this one's, without a sign-in"},
    422: {"model": NotTaken, "description": "A field that cannot be used"},
}
"""401 is said only where the workshop is open to other devices: then every one signs in."""
SENDS: dict[int | str, dict[str, Any]] = {**LOOKS, 413: _in_words("More than may be sent at once")}
WRITES: dict[int | str, dict[str, Any]] = {
    **SENDS,
    403: _in_words("No token, another one, or a page of another site"),
}
_KEY = APIKeyHeader(name=HEADER, auto_error=False, description="As /token tells it.")


async def sound_body(request: Request) -> None:
    """Refuse a body with numbers or letters that nothing can keep.

    Raises
    ------
    InputError: not a number, infinity, or half a letter.
    """
    try:
        told = json.loads(await request.body())
    except (ValueError, RecursionError):
        return  # told by whoever reads it next
    try:
        json.dumps(told, ensure_ascii=False, allow_nan=False).encode()
    except UnicodeEncodeError:
        raise InputError("body", "half a letter", "text in whole letters") from None
    except ValueError:
        raise InputError("body", "not a number, or infinity", "numbers that end") from None


SOUND = [Depends(sound_body)]
HOLDS = [Security(_KEY), Depends(holds_token), *SOUND]
"""What every route that changes something depends on."""


def said(data: Any, status: int = 200) -> Response:
    """An answer; text is JSON already."""
    if isinstance(data, str):
        return Response(data, status, media_type="application/json")
    return Answer(data, status)

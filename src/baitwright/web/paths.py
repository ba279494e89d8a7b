"""Paths of this workshop, as a page asks for them and as a form may send them back."""

from __future__ import annotations

from urllib.parse import urlsplit

from starlette.requests import Request


def whole_path(request: Request) -> str:
    """What was asked, with what stands behind the question mark."""
    return request.url.path + (f"?{request.url.query}" if request.url.query else "")


def own_path(told: str) -> str:
    """A path of this workshop; anything else is the first page."""
    try:
        parts = urlsplit(told.replace("\\", "/")) if told.isprintable() else urlsplit("")
    except ValueError:  # half of an address in brackets
        return "/"
    is_ours = not parts.scheme and not parts.netloc and parts.path.startswith("/")
    return told if is_ours and not told.startswith("//") else "/"

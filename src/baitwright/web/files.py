"""Files that a page hands out: made in a folder of their own, sent, and gone."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory
from urllib.parse import quote

from starlette.responses import Response

from baitwright.terms.errors import InputError
from baitwright.web.deeds import Doing
from baitwright.web.uploads import Upload

TABLE, ARCHIVE, PLAIN = "text/csv; charset=utf-8", "application/zip", "text/plain; charset=utf-8"


def kept_upload(doing: Doing, kept_as: str = "file") -> Upload:
    """The file that came with a form, kept under a name of ours.

    Raises
    ------
    InputError: none came.
    """
    came = doing.files.get("file")
    if came is None or not came.size:
        raise InputError("file", None, "a file: choose one")
    return doing.house.uploads.keep(came.file, came.filename or "", kept_as=kept_as)


PAPERS = ("a4", "a5")
"""What lists are printed on."""


def paper_of(told: str) -> str:
    """The paper that a page asks for.

    Raises
    ------
    InputError: there is no such paper.
    """
    if told not in PAPERS:
        raise InputError("paper", told, f"one of: {', '.join(PAPERS)}")
    return told


def pdf_download(name: str, write: Callable[[Path], object]) -> Response:
    """Pages that are made for this answer alone."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / name
        write(path)
        return download(path.read_bytes(), name, "application/pdf")


def table_download(name: str, write: Callable[[Path], object]) -> Response:
    """A table that is written for this answer alone."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / name
        write(path)
        return download(path.read_bytes(), name, TABLE)


def download(data: bytes, name: str, kind: str) -> Response:
    """Bytes to keep under a name of ours; a browser shows none of it."""
    head = {"content-disposition": f"attachment; filename*=UTF-8''{quote(name, safe='')}"}
    return Response(data, media_type=kind, headers=head)

"""Files that a page hands out: made in a folder of their own, sent, and gone."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory
from urllib.parse import quote

from fastapi.responses import Response

TABLE, ARCHIVE, PLAIN = "text/csv; charset=utf-8", "application/zip", "text/plain; charset=utf-8"


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

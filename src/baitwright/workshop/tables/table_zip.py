"""What an XLSX file must be before anything opens it: a small zip, without entities or secrets."""

from __future__ import annotations

import io
import zipfile
import zlib

from baitwright.terms.errors import InputError

_MEMBERS, _UNPACKED, _RATIO = 1_000, 100_000_000, 200
"""Parts, bytes unpacked, and how much smaller a large part may be packed (judgement): a workbook
of tables at its largest packs some 30 to 1, and what packs a thousandfold is a bomb."""
_LARGE = 1_000_000
_ENCRYPTED = 0x1
ACCEPTED = "a workbook saved as .xlsx, or the table as CSV"


def refuse_bomb(data: bytes) -> None:
    """Refuse a workbook that would unpack to too much, or whose XML declares entities.

    No more is ever unpacked than the sizes its directory states, and these are checked first.

    Raises
    ------
    InputError: it is no zip, too large, locked, damaged, or declares entities.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            members = packed.infolist()
            _refuse_large(members)
            for member in members:
                if member.filename.lower().endswith((".xml", ".rels", ".vml")):
                    _refuse_entities(member.filename, packed.read(member))
    except (zipfile.BadZipFile, zlib.error, EOFError, OSError, ValueError) as error:
        raise InputError("file", "a damaged workbook", ACCEPTED, hint=f"{error}.") from None
    except RuntimeError as error:  # a way of packing that the standard library does not know
        got = "a workbook packed otherwise"
        raise InputError("file", got, ACCEPTED, hint=f"{error}.") from None


def _refuse_large(members: list[zipfile.ZipInfo]) -> None:
    if len(members) > _MEMBERS:
        raise InputError("file", f"{len(members)} parts", f"a workbook of {_MEMBERS} parts at most")
    total = sum(member.file_size for member in members)
    if total > _UNPACKED:
        most = f"{_UNPACKED // 1_000_000} MB unpacked at most"
        raise InputError("file", f"a workbook of {total / 1e6:.0f} MB unpacked", most)
    for member in members:
        if member.flag_bits & _ENCRYPTED:
            raise InputError("file", "a workbook with a password", "one without")
        if member.file_size > max(_LARGE, _RATIO * member.compress_size):
            ratio = member.file_size // max(1, member.compress_size)
            got = f"{member.filename[:60]} packed {ratio}:1"
            raise InputError("file", got, f"parts packed {_RATIO}:1 at most")


def _refuse_entities(name: str, xml: bytes) -> None:
    """A workbook has no use for a document type; the NULs of UTF-16 hide none from us."""
    plain = xml.replace(b"\0", b"")
    if b"<!DOCTYPE" in plain or b"<!ENTITY" in plain:
        raise InputError("file", f"entities in {name[:60]}", "a workbook without them")

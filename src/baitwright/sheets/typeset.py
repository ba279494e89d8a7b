"""Pages set by the typesetter: data as text into a template, the same bytes for the same data."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import UTC, datetime
from pathlib import Path
from typing import Any


def pdf_of(template: Path, data: Mapping[str, Any], *, moment: datetime) -> bytes:
    """A template filled in, as a PDF tagged for screen readers (PDF/UA-1).

    A name in a script that the typesetter's own fonts lack still prints, and the file is then
    tagged without claiming the standard.

    Parameters
    ----------
    template: of the page; it reads its data as JSON text in ``sys.inputs.sheet``.
    data: everything the page prints.
    moment: the file is dated by it and not by the machine, so that it gives the same bytes.

    Raises
    ------
    typst.TypstError: the template itself refuses the data.
    """
    import typst  # loads a compiler and its fonts, so only those who print pay

    try:
        return typeset(template, data, moment=moment, format="pdf", pdf_standards="ua-1")
    except typst.TypstError:
        return typeset(template, data, moment=moment, format="pdf")


def typeset(template: Path, data: Mapping[str, Any], *, moment: datetime, **how: Any) -> bytes:
    """A template filled in, as the typesetter is told; one file."""
    import typst

    made: bytes = typst.compile(
        template,
        sys_inputs={"sheet": json.dumps(data, ensure_ascii=True)},
        ignore_system_fonts=True,
        timestamp=moment.replace(microsecond=0, tzinfo=UTC),  # the maker's own clock
        **how,
    )
    return made

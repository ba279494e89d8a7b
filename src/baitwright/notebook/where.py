"""Where a notebook is: a file of one's own, or a database on a server that several share."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import parse_qsl, quote

from baitwright.terms.errors import InputError

# What ends a part is written otherwise inside one (%40 for @), so that no password is taken for
# something that may be shown.
_HOST = r"(?:\[[0-9A-Fa-f:.%]*\]|[^][:@/?#,]*)(?::\d*)?"
_URL = re.compile(
    r"postgres(?:ql)?://(?:([^:@/?#]*)(?::[^@/?#]*)?@)?"
    rf"({_HOST}(?:,{_HOST})*)(?:/([^@/?#]*))?(?:\?([^@#]*))?"
)
_ACCEPTED = "a file, or a database such as postgresql://maker@shop.example/bait"


@dataclass(frozen=True, slots=True)
class Server:
    """A PostgreSQL database; shown without its password.

    Parameters
    ----------
    url: as PostgreSQL's own programs take it.
    home: the folder of one's own account in which its copies lie.

    Raises
    ------
    InputError: no such URL.
    """

    url: str = field(repr=False)
    home: Path

    def __post_init__(self) -> None:
        """Refuse what is no URL, without repeating it: it may hold a password."""
        if not _URL.fullmatch(self.url):
            kind = self.url.partition("://")[0]
            hint = "Inside a name or password @ is written %40, / is %2F, ? is %3F, # is %23."
            raise InputError("notebook", f"{kind}://...", _ACCEPTED, hint=hint)

    def __str__(self) -> str:
        """The URL without password and settings."""
        user, host, database, _ = self._parts()
        return f"postgresql://{f'{user}@' if user else ''}{host}/{database}"

    @property
    def name(self) -> str:
        """What its copies are named by: host and database, and what else tells it from others."""
        _, host, database, more = self._parts()
        told = dict(parse_qsl(more))
        which = (
            told.get("host", host),
            told.get("dbname", database),
            told.get("port", ""),
            told.get("options", ""),
        )
        return "+".join(quote(part, safe="") for part in which).rstrip("+")

    def _parts(self) -> tuple[str, str, str, str]:
        found = _URL.fullmatch(self.url)
        user, host, database, more = found.groups("") if found else ("", "", "", "")
        return user, host, database, more


Where = Path | Server


def where_is(told: str, *, home: Path) -> Where:
    """The place that a maker named.

    Parameters
    ----------
    told: a path or a URL.
    home: where the copies of a server's notebook lie.

    Raises
    ------
    InputError: the URL of something else.
    """
    return Server(told, home) if re.match(r"\w+://", told) else Path(told)


def folder_of(place: Where) -> Path:
    """The folder in which lies what belongs to a notebook: copies, pages, photos."""
    return place.home if isinstance(place, Server) else place.parent


def name_of(place: Where) -> str:
    """What everything that lies beside a notebook is named by."""
    return place.name if isinstance(place, Server) else place.stem

"""What went into what, on a page."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from sqlalchemy import Column, Row, select, text, union

from baitwright.ledger.trace import Link, Place, Stop
from baitwright.notebook.hidden import refuse_hidden
from baitwright.notebook.leaf import Leaf, in_parts
from baitwright.notebook.tables import links

_End = tuple[Column[str], Column[str]]
_SOURCE: _End = (links.c.source_stop, links.c.source_name)
_INTO: _End = (links.c.into_stop, links.c.into_name)
_LINKED = text(
    "INSERT INTO links (source_stop, source_name, into_stop, into_name)"
    " VALUES (:source_stop, :source_name, :into_stop, :into_name) ON CONFLICT DO NOTHING"
)


class Traces(Leaf):
    """The links of a page."""

    def link(self, *made: Link) -> None:
        """Write that something of places went into others; once is enough.

        Raises
        ------
        InputError: a control character in a name.
        """
        refuse_hidden("trace", [(one.source.name, one.into.name) for one in made])
        if made:
            self._connection.execute(_LINKED, [_row(one) for one in made])

    def unlink(self, into: Place, *, source: Place | None = None) -> None:
        """Forget what went into a place, or one source of it, because it was not so after all."""
        this = (links.c.into_stop == into.stop.value) & (links.c.into_name == into.name)
        if source is not None:
            this &= links.c.source_stop == source.stop.value
            this &= links.c.source_name == source.name
        self._connection.execute(links.delete().where(this))

    def links(self) -> tuple[Link, ...]:
        """What went into what, as it was written."""
        rows = self._connection.execute(select(links).order_by(links.c.id))
        return tuple(_link(row) for row in rows)

    def places(self, name: str) -> tuple[Place, ...]:
        """Places of a name, or else supplies whose lot it is, whoever the supplier.

        Those of exactly the name go before those of the same in other capitals.
        """
        for as_end in (False, True):
            if found := self._places(name, as_end=as_end):
                return found
        return self._in_other_capitals(name)

    def supplies_with(self, words: str) -> tuple[str, ...]:
        """Names of suppliers' lots that have these words."""
        stop, name = _SOURCE
        told = name.icontains(words, autoescape=True)
        found = select(name).distinct().where(stop == Stop.SUPPLIED.value, told).order_by(name)
        return tuple(self._connection.scalars(found))

    def _places(self, name: str, *, as_end: bool = False) -> tuple[Place, ...]:
        """Every stop is asked by its name, which the tables are sorted by."""
        found = []
        for stop, named in (_SOURCE, _INTO):
            is_it = named.endswith(f" {name}", autoescape=True) if as_end else named == name
            stops = [Stop.SUPPLIED] if as_end else Stop
            found.append(select(stop, named).where(stop.in_([one.value for one in stops]), is_it))
        rows = self._connection.execute(union(*found))
        return tuple(sorted(Place(Stop(stop), told) for stop, told in rows))

    def _in_other_capitals(self, name: str) -> tuple[Place, ...]:
        """The whole table is looked through: databases fold the capitals of few alphabets."""
        wanted = name.casefold()
        every = union(*(select(stop, named) for stop, named in (_SOURCE, _INTO)))
        places = [Place(Stop(stop), told) for stop, told in self._connection.execute(every)]
        exact = [one for one in places if one.name.casefold() == wanted]
        ends = (
            one
            for one in places
            if one.stop is Stop.SUPPLIED and one.name.casefold().endswith(f" {wanted}")
        )
        return tuple(sorted(exact or ends))

    def links_into(self, stop: Stop, names: Iterable[str]) -> tuple[Link, ...]:
        """The links by which something came straight into places of one kind."""
        wanted = (
            select(links)
            .where(links.c.into_stop == stop.value, links.c.into_name.in_(part))
            .order_by(links.c.id)
            for part in in_parts(names)
        )
        return tuple(_link(row) for one in wanted for row in self._connection.execute(one))

    def links_onward(self, start: Place) -> tuple[Link, ...]:
        """The links by which something of a place went on, however far."""
        return self._followed(start, _SOURCE, _INTO)

    def links_back(self, start: Place) -> tuple[Link, ...]:
        """The links by which something came into a place, from however far."""
        return self._followed(start, _INTO, _SOURCE)

    def _followed(self, start: Place, near: _End, far: _End) -> tuple[Link, ...]:
        """One query that walks from place to place; each is visited once, circles or not."""
        begun = select(near[0].label("stop"), near[1].label("name"))
        begun = begun.where(near[0] == start.stop.value, near[1] == start.name)
        here = begun.cte("here", recursive=True)
        step = select(far[0], far[1]).join(
            here, (near[0] == here.c.stop) & (near[1] == here.c.name)
        )
        here = here.union(step)
        passed = select(links).join(here, (near[0] == here.c.stop) & (near[1] == here.c.name))
        return tuple(_link(row) for row in self._connection.execute(passed.order_by(links.c.id)))


def _row(made: Link) -> dict[str, str]:
    return {
        "source_stop": made.source.stop.value,
        "source_name": made.source.name,
        "into_stop": made.into.stop.value,
        "into_name": made.into.name,
    }


def _link(row: Row[Any]) -> Link:
    source = Place(Stop(row.source_stop), row.source_name)
    return Link(source, Place(Stop(row.into_stop), row.into_name))

"""People of the notebook: the one table with names and addresses, which can be erased."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from sqlalchemy import select

from baitwright.notebook.hidden import refuse_hidden
from baitwright.notebook.leaf import Leaf, written
from baitwright.notebook.tables import people
from baitwright.terms.errors import InputError

PERSON = "person"
"""Begins every code."""
_NUMBERED = re.compile(rf"{PERSON} (\d+)")


class People(Leaf):
    """The people of a page; records mention them by a code that says nothing of them."""

    def add_person(self, body: Mapping[str, Any], *, time: datetime) -> str:
        """Write a person down; the code that records are to mention, after the highest ever given.

        Raises
        ------
        InputError: a control character.
        """
        refuse_hidden(PERSON, body)
        given = map(_NUMBERED.fullmatch, self._connection.scalars(select(people.c.code)))
        code = f"{PERSON} {1 + max((int(found[1]) for found in given if found), default=0)}"
        told = json.dumps(body, ensure_ascii=False, allow_nan=False)
        row = {"code": code, "time": written(time), "body": told}
        self._connection.execute(people.insert().values(**row))
        return code

    def change_person(self, code: str, body: Mapping[str, Any], *, time: datetime) -> None:
        """Write anew what is known of a person; what was written before is gone.

        Raises
        ------
        InputError: no such person, or a control character.
        """
        refuse_hidden(code, body)
        self._set_person(code, json.dumps(body, ensure_ascii=False, allow_nan=False), time)

    def erase_person(self, code: str, *, time: datetime) -> None:
        """Empty what is known of a person for good; the code stays.

        Raises
        ------
        InputError: no such person.
        """
        self._set_person(code, None, time)

    def persons(self) -> Mapping[str, Mapping[str, Any] | None]:
        """What is known of everybody by code; nothing of those who were erased.

        An empty entry is a code that was given after the copy that was put back.
        """
        rows = self._connection.execute(select(people.c.code, people.c.body).order_by(people.c.id))
        return {code: None if body is None else json.loads(body) for code, body in rows}

    def _set_person(self, code: str, body: str | None, time: datetime) -> None:
        row = {"time": written(time), "body": body}
        changed = people.update().where(people.c.code == code).values(**row)
        if not self._connection.execute(changed).rowcount:
            raise InputError("person", code, "a code of the notebook, such as person 3")

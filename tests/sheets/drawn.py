"""Drawings read back: their parts, their words, and values off their axes."""

from __future__ import annotations

import re
from typing import Any
from xml.etree import ElementTree

import numpy as np

from baitwright.sheets import svg
from baitwright.sheets.svg import Picture

NAMESPACE = "{http://www.w3.org/2000/svg}"


def read(picture: Picture) -> Any:
    """The picture's file, read back."""
    return ElementTree.fromstring(picture.svg)


def parts(drawing: Any, name: str) -> list[Any]:
    return [one for one in drawing.iter() if one.get("class") == name]


def number(part: Any, key: str) -> float:
    return float(part.get(key))


def points(part: Any) -> list[tuple[float, float]]:
    found = re.findall(r"(-?[\d.]+) (-?[\d.]+)", part.get("d"))
    return [(float(x), float(y)) for x, y in found]


def words_of(drawing: Any) -> str:
    return " ".join(one.text for one in drawing.iter(f"{NAMESPACE}text"))


def inverted(drawing: Any, *, plot: int = 0) -> Any:
    """From the paper to hours and values, read off the words at the axes of one plot."""
    lines = parts(drawing, "grid")
    starts = [0] + [
        at for at in range(1, len(lines)) if number(lines[at], "y1") > number(lines[at - 1], "y1")
    ]
    bounds = [*starts, len(lines)]
    rows = lines[bounds[plot] : bounds[plot + 1]]
    heights = [number(row, "y1") for row in rows]
    left, right = number(rows[0], "x1"), number(rows[0], "x2")
    said = {
        number(one, "y"): one.text
        for one in drawing.iter(f"{NAMESPACE}text")
        if one.get("text-anchor") == "end"
    }
    values = [float(said[y + 6.0].replace(" %", "")) for y in heights]
    return lambda point, hours: (
        hours * (point[0] - left) / (right - left),
        float(np.interp(-point[1], [-y for y in heights], values)),
    )


def check_well_made(picture: Picture) -> None:
    """Whole, named, told in words, without a style or a script, and nothing off the paper."""
    drawing = read(picture)
    assert drawing.tag == f"{NAMESPACE}svg"
    assert (drawing.get("role"), drawing.get("lang")) == ("img", "en")
    title, said = drawing.find(f"{NAMESPACE}title"), drawing.find(f"{NAMESPACE}desc")
    assert drawing.get("aria-labelledby") == f"{title.get('id')} {said.get('id')}"
    assert (title.text, said.text) == (picture.title, picture.description)
    assert len(said.text) > 60
    assert not re.search(r"\b(nan|inf|None)\b", picture.svg)
    assert drawing.get("viewBox").startswith("0 0 480 ")
    for part in drawing.iter():
        assert part.tag.removeprefix(NAMESPACE) not in {"style", "script", "image", "foreignObject"}
        assert not {key for key in part.attrib if key == "style" or key.startswith("on")}
    ids = [part.get("id") for part in drawing.iter() if part.get("id")]
    assert len(ids) == len(set(ids))
    assert all(one.startswith(f"{picture.name}-") for one in ids)
    assert set(re.findall(r"url\(#([^)]*)\)", picture.svg)) <= set(ids)
    for table in picture.tables:
        assert table.rows
        assert all(len(row) == len(table.heads) for row in table.rows)
    check_words(drawing)


def check_words(drawing: Any) -> None:
    """Words lie on the paper and not over each other, on a phone 320 pixels wide as elsewhere.

    They are measured by the width of a mean letter, which the wider typefaces keep to; a drawing
    is scaled as a whole, so that what fits its own width fits any.
    """
    assert svg.TEXT * 320.0 / svg.WIDTH >= 12.0
    height = float(drawing.get("viewBox").split()[3])
    boxes = []
    for one in drawing.iter(f"{NAMESPACE}text"):
        x, y, long = number(one, "x"), number(one, "y"), svg.width_of(one.text)
        left = x - {"end": long, "middle": 0.5 * long}.get(one.get("text-anchor"), 0.0)
        assert left >= -1.0, one.text
        assert left + long <= svg.WIDTH + 1.0, one.text
        assert 10.0 < y < height - 3.0, one.text
        boxes.append((left + 0.05 * long, left + 0.95 * long, y, one.text))
    for at, (left, right, y, said) in enumerate(boxes):
        for other_left, other_right, other_y, other in boxes[at + 1 :]:
            apart = right < other_left or other_right < left
            assert apart or abs(y - other_y) > 0.85 * svg.TEXT, (said, other)

"""The map of imports in ``docs/architecture.md``, drawn from the code.

``python -m tests.architecture.import_map`` writes two pictures and the table of the workshop's
rooms; a test fails while they tell of another house. An arrow is left out where others lead there
already (transitive reduction), so that each that is drawn is needed.
"""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Iterable, Mapping
from html import escape
from pathlib import Path

import grimp

from tests.architecture.tree import PACKAGE, ROOT

DOCUMENT = ROOT / "docs" / "architecture.md"
PICTURES = ROOT / "docs" / "pictures"
BEGIN, END = "<!-- rooms: begin -->", "<!-- rooms: end -->"
_HIGH, _STEP, _MARGIN, _LETTER, _WIDEST = 26, 74, 14, 8.4, 1000

Imports = Mapping[str, frozenset[str]]


def imports_within(parent: str) -> Imports:
    """What each room directly below a package imports of its siblings, by name."""
    graph = grimp.build_graph("baitwright")
    rooms = {room.rpartition(".")[2] for room in graph.find_children(parent)} - {"__main__"}
    found: dict[str, set[str]] = {room: set() for room in rooms}
    depth = parent.count(".") + 1
    for module in graph.find_descendants(parent):
        room = module.split(".")[depth]
        for other in graph.find_modules_directly_imported_by(module):
            if other.startswith(f"{parent}.") and room in rooms:
                found[room].add(other.split(".")[depth])
    return {room: frozenset(others - {room}) for room, others in sorted(found.items())}


def reached(imports: Imports, room: str) -> frozenset[str]:
    """Every room that an import leads to, at once or by others."""
    return imports[room].union(*(reached(imports, other) for other in imports[room]))


def needed(imports: Imports) -> Imports:
    """The imports without those that others imply."""
    return {
        room: others - frozenset().union(*(reached(imports, other) for other in others))
        for room, others in imports.items()
    }


def floors(imports: Imports) -> list[list[str]]:
    """Rooms by how far they are from those that import nothing, the farthest first."""
    heights: dict[str, int] = {}

    def height(room: str) -> int:
        if room not in heights:
            heights[room] = 1 + max(map(height, imports[room]), default=-1)
        return heights[room]

    by_height = defaultdict(list)
    for room in imports:
        by_height[height(room)].append(room)
    return [sorted(by_height[at]) for at in sorted(by_height, reverse=True)]


def placed(imports: Imports) -> dict[str, tuple[float, float]]:
    """The middle of every room: floor by floor, each near the middle of those that import it."""
    importers = {room: [other for other in imports if room in imports[other]] for room in imports}
    places: dict[str, tuple[float, float]] = {}

    def wish(room: str) -> tuple[float, str]:
        above = [places[other][0] for other in importers[room] if other in places]
        return (sum(above) / len(above) if above else _WIDEST / 2, room)

    for at, rooms in enumerate(floors(imports)):
        order = sorted(rooms, key=wish)
        gap = _WIDEST / len(order)
        for turn, room in enumerate(order):
            places[room] = (gap * (turn + 0.5), _MARGIN + _HIGH / 2 + at * _STEP)
    return places


def drawn(imports: Imports, *, title: str) -> str:
    """The map as an SVG picture that carries its own light and dark colours."""
    arrows, places = needed(imports), placed(needed(imports))
    high = max(y for _, y in places.values()) + _HIGH / 2 + _MARGIN
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDEST} {high:.0f}" role="img">',
        f"<title>{escape(title)}</title>",
        "<style>rect{fill:#fff;stroke:#1b1b1b}text{font:14px sans-serif;fill:#1b1b1b;"
        "text-anchor:middle}path{stroke:#0b4f8a;stroke-width:1.2;fill:none;opacity:.7}"
        "@media(prefers-color-scheme:dark){rect{fill:#1b1b1b;stroke:#ddd}text{fill:#eee}"
        "path{stroke:#8fc3f0}}</style>",
        '<defs><marker id="tip" viewBox="0 0 8 8" refX="8" refY="4" markerWidth="7" '
        'markerHeight="7" orient="auto"><path d="M0 1L8 4L0 7"/></marker></defs>',
    ]
    for room, others in arrows.items():
        for other in sorted(others):
            (x, y), (to_x, to_y) = places[room], places[other]
            start, end = y + _HIGH / 2, to_y - _HIGH / 2
            bend = (end - start) / 2
            lines.append(
                f'<path marker-end="url(#tip)" d="M{x:.0f} {start:.0f}C{x:.0f} {start + bend:.0f} '
                f'{to_x:.0f} {end - bend:.0f} {to_x:.0f} {end:.0f}"/>'
            )
    for room, (x, y) in places.items():
        wide = _LETTER * len(room) + 14
        lines.append(
            f'<rect x="{x - wide / 2:.0f}" y="{y - _HIGH / 2:.0f}" width="{wide:.0f}" '
            f'height="{_HIGH}" rx="3"/><text x="{x:.0f}" y="{y + 5:.0f}">{room}</text>'
        )
    return "\n".join([*lines, "</svg>", ""])


def about(room: Path) -> str:
    """The sentence that a package says of itself."""
    told = ast.get_docstring(ast.parse((room / "__init__.py").read_text(encoding="utf-8")))
    return (told or "").split("\n\n")[0].replace("\n", " ")


def table(imports: Imports) -> str:
    """The workshop's rooms from the top down: what each is about, its files, what it needs."""
    arrows = needed(imports)
    rows = ["| room | about | files | stands on |", "|---|---|---|---|"]
    for room in (room for floor in floors(imports) for room in floor):
        folder = PACKAGE / "workshop" / room
        files = len(list(folder.glob("*.py"))) - 1
        rows.append(f"| `{room}` | {about(folder)} | {files} | {listed(arrows[room])} |")
    return "\n".join(rows)


def listed(rooms: Iterable[str]) -> str:
    """Names for a cell of a table."""
    return ", ".join(f"`{room}`" for room in sorted(rooms)) or "-"


def made() -> dict[Path, str]:
    """Every file of the map with what it should hold."""
    rooms = imports_within("baitwright.workshop")
    before, _, rest = DOCUMENT.read_text(encoding="utf-8").partition(BEGIN)
    after = rest.partition(END)[2]
    return {
        DOCUMENT: f"{before}{BEGIN}\n{table(rooms)}\n{END}{after}",
        PICTURES / "imports.svg": drawn(
            imports_within("baitwright"), title="The house: who imports whom, downwards"
        ),
        PICTURES / "imports-workshop.svg": drawn(
            rooms, title="The workshop: which room imports which, downwards"
        ),
    }


if __name__ == "__main__":
    for path, text in made().items():
        path.write_text(text, encoding="utf-8", newline="\n")

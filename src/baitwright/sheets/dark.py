"""The house's colours on a dark page: a rule for each, so that drawings stay as they are.

A drawing tells its colours as attributes, and attributes give way to any rule of a page's own
sheet. Whoever prints, or opens the file alone, has the light ones.
"""

from __future__ import annotations

from baitwright.sheets import svg

DARK = {
    svg.PAPER: "#14171a",
    svg.INK: "#f2f2f2",
    svg.GRID: "#8c9196",
    svg.EDGE: "#7fb4e6",
    svg.WIDEST_BAND: "#1a242e",
    svg.WIDE_BAND: "#1f3041",
    svg.HALF_BAND: "#284560",
    svg.PASTE: "#3a3220",
    svg.SET: "#574522",
    svg.WET: "#1b3245",
    svg.CORE: "#38302a",
    svg.CRUST: "#6b4f1d",
    **dict(
        zip(
            svg.LIQUIDS,
            ("#9ccbff", "#ffa980", "#8fdca0", "#d7b3f5", "#e8c95c", "#ff9cc2"),
            strict=True,
        )
    ),
}
"""What each colour becomes; lines of the middle bait and of a hook are those of two liquids."""


def dark_rules(within: str = 'svg[role="img"]') -> str:
    """Rules of style that turn drawings dark, for a page to put where its own dark ones stand.

    Parameters
    ----------
    within: selects the drawings.
    """
    rules = []
    for light, dark in DARK.items():
        for part in ("fill", "stroke"):
            told = f'[{part}="{light}"]'
            rules.append(f"{within} {told}, {within}{told} {{ {part}: {dark}; }}")
    return "\n".join(rules) + "\n"

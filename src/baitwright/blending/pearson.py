"""Two ingredients for one wanted figure: the square every feed book begins with."""

from __future__ import annotations

from baitwright.terms.errors import RangeError


def pearson_square(first: float, second: float, wanted: float) -> tuple[float, float]:
    """Shares of two ingredients that together have a figure wanted.

    Parameters
    ----------
    first, second: the figure of each.
    wanted: that of the mix.

    Returns
    -------
    The share of the first and of the second.

    Raises
    ------
    RangeError: the figure wanted does not lie between theirs; a share would be less than nothing.

    Notes
    -----
    share of the first = (wanted - second) / (first - second)
    """
    low, high = sorted((first, second))
    if not low <= wanted <= high or low == high:
        raise RangeError("wanted", wanted, low=low, high=high)
    share = (wanted - second) / (first - second)
    return share, 1.0 - share

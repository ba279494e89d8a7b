"""The nonlinear march as machine code; imported only where numba is installed and pays.

The same schedule as ``radial_march`` for 32 draws at a time. Everything lies in one flat array with
offsets known when it is compiled, which is what lets the compiler take 8 draws in one instruction.
"""

from __future__ import annotations

import numba
import numpy as np

from baitwright.physics.moist_shells import CELLS

LANES = 32
"""Draws taken together [1]."""
_COEFFICIENTS = (
    np.polynomial.Chebyshev.interpolate(np.exp, 8, domain=[-0.26, 0.26])
    .convert(kind=np.polynomial.Polynomial)
    .coef
)
C0, C1, C2, C3, C4, C5, C6, C7, C8 = (float(value) for value in _COEFFICIENTS)

N, L = CELLS, LANES
# Where each array starts, in the order they lie: contents have a last row for the surface.
VOLUME = 0  # what the cells hold per content
REACH = VOLUME + N * L  # conductances of their outer faces per conductivity
LAG_IN = REACH + N * L
LAG_OUT = LAG_IN + N * L
NEW = LAG_OUT + N * L  # contents of this level and the two before it
LAST = NEW + (N + 1) * L
LAST2 = LAST + (N + 1) * L
LOAD = LAST2 + (N + 1) * L
FOLDED = LOAD + N * L
RATIO = FOLDED + N * L
GROWN = RATIO + N * L  # roots of the conductivities at the cells and the surface
BASE = GROWN + (N + 1) * L  # from here on rows of one number per draw
STEEP = BASE + L
MIDDLE = STEEP + L
LOW = MIDDLE + L
HIGH = LOW + L
OUTSIDE = HIGH + L
EASE = OUTSIDE + L
WALL0 = EASE + L
WALL1 = WALL0 + L
HELD = WALL1 + L
CARRY = HELD + L
LOST = CARRY + L
LOST1 = LOST + L
LOST2 = LOST1 + L
BEFORE = LOST2 + L
FLOW = BEFORE + L
RING = FLOW + L  # four levels of the series
SERIES = 5
READ = RING + 4 * SERIES * L
SIZE = READ + SERIES * L

_compile = numba.njit(cache=True, fastmath={"contract"}, error_model="numpy", nogil=True)
_inline = numba.njit(inline="always", fastmath={"contract"}, error_model="numpy")


@_inline
def _exp(x):  # type: ignore[no-untyped-def]
    y = x * (1.0 / 16.0)
    y = C0 + y * (C1 + y * (C2 + y * (C3 + y * (C4 + y * (C5 + y * (C6 + y * (C7 + y * C8)))))))
    y *= y
    y *= y
    y *= y
    return y * y


@_inline
def _foretell(ws, size, place):  # type: ignore[no-untyped-def]
    """What the last levels foretell of the next, and the load they leave it; gives the rate."""
    if place == 1:
        rate, a, b, c, d, e, f = 1.0 / size**3, 1.0, 0.0, 0.0, 1.0, 0.0, 0.0
    elif place == 2:
        rate = 1.5 / (3.0 * (place * size) ** 2 * size)
        a, b, c, d, e, f = 2.0 / 1.5, -0.5 / 1.5, 0.0, 2.0, -1.0, 0.0
    else:
        weight = 11.0 / 6.0
        rate = weight / (3.0 * (place * size) ** 2 * size)
        a, b, c = 3.0 / weight, -1.5 / weight, (1.0 / 3.0) / weight
        d, e, f = 3.0, -3.0, 1.0
    for i in range(N + 1):
        row = i * L
        for k in range(L):
            u, v, w = ws[NEW + row + k], ws[LAST + row + k], ws[LAST2 + row + k]
            if i < N:
                ws[FOLDED + row + k] = rate * (a * u + b * v + c * w)
            ws[NEW + row + k] = d * u + e * v + f * w
            ws[LAST + row + k] = u
            ws[LAST2 + row + k] = v
    for k in range(L):
        u, v, w = ws[LOST + k], ws[LOST1 + k], ws[LOST2 + k]
        ws[BEFORE + k] = a * u + b * v + c * w
        ws[LOST1 + k] = u
        ws[LOST2 + k] = v
        ws[CARRY + k] = 0.0
    for i in range(N - 1):
        row = i * L
        for k in range(L):
            inner, outer = ws[FOLDED + row + k], ws[FOLDED + row + L + k]
            lagging = ws[LAG_IN + row + k] * inner + ws[LAG_OUT + row + k] * outer
            ws[LOAD + row + k] = ws[VOLUME + row + k] * inner + (lagging - ws[CARRY + k])
            ws[CARRY + k] = lagging
    row = (N - 1) * L
    for k in range(L):
        ws[LOAD + row + k] = ws[VOLUME + row + k] * ws[FOLDED + row + k] - ws[CARRY + k]
    return rate


@_inline
def _solve(ws, rate):  # type: ignore[no-untyped-def]
    """The next level from a guess of it, which it replaces."""
    for i in range(N + 1):
        row = i * L
        for k in range(L):
            u = min(max(ws[NEW + row + k], ws[LOW + k]), ws[HIGH + k])
            ws[GROWN + row + k] = ws[BASE + k] * _exp(ws[STEEP + k] * (u - ws[MIDDLE + k]))
    for k in range(L):
        ws[HELD + k] = rate * ws[VOLUME + k]
        ws[CARRY + k] = ws[LOAD + k]
    for i in range(N - 1):
        row = i * L
        for k in range(L):
            g, h = ws[GROWN + row + k], ws[GROWN + row + L + k]
            through = ws[REACH + row + k] * (g * g + h * h + 4.0 * (g * h))
            outward = through + rate * ws[LAG_IN + row + k]
            inward = through - rate * ws[LAG_OUT + row + k]
            held, folded = ws[HELD + k], ws[CARRY + k]
            inverse = 1.0 / (outward + held)
            ratio = inward * inverse
            ws[RATIO + row + k] = ratio
            ws[FOLDED + row + k] = folded * inverse
            ws[HELD + k] = rate * ws[VOLUME + row + L + k] + held * ratio
            ws[CARRY + k] = ws[LOAD + row + L + k] + folded * outward * inverse
    row = (N - 1) * L
    for k in range(L):
        g, h = ws[GROWN + row + k], ws[GROWN + row + L + k]
        through = ws[REACH + row + k] * (g * g + h * h + 4.0 * (g * h))
        still = ws[CARRY + k] / ws[HELD + k]
        resistance = 1.0 / ws[HELD + k] + 1.0 / through
        flow = (still - ws[OUTSIDE + k]) / (resistance + ws[EASE + k])
        ws[NEW + row + L + k] = still - resistance * flow
        ws[NEW + row + k] = still - flow / ws[HELD + k]
        ws[LOST + k] = ws[BEFORE + k] + flow / rate
        ws[FLOW + k] = flow
    for i in range(N - 2, -1, -1):
        row = i * L
        for k in range(L):
            ws[NEW + row + k] = ws[FOLDED + row + k] + ws[RATIO + row + k] * ws[NEW + row + L + k]


@_inline
def _record(ws, place):  # type: ignore[no-untyped-def]
    """Total, wall, surface, loss and flow of this level into the ring."""
    at = RING + (place % 4) * SERIES * L
    for k in range(L):
        ws[at + k] = 0.0
        ws[at + L + k] = ws[WALL0 + k] * ws[NEW + k] + ws[WALL1 + k] * ws[NEW + L + k]
        ws[at + 2 * L + k] = ws[NEW + N * L + k]
        ws[at + 3 * L + k] = ws[LOST + k]
        ws[at + 4 * L + k] = ws[FLOW + k]
    for i in range(N):
        row = i * L
        for k in range(L):
            ws[at + k] += ws[VOLUME + row + k] * ws[NEW + row + k]


@_inline
def _read(ws, first, shares):  # type: ignore[no-untyped-def]
    """An output between four levels of the ring."""
    a = RING + (first % 4) * SERIES * L
    b = RING + ((first + 1) % 4) * SERIES * L
    c = RING + ((first + 2) % 4) * SERIES * L
    d = RING + ((first + 3) % 4) * SERIES * L
    p, q, r, s = shares[0], shares[1], shares[2], shares[3]
    for k in range(SERIES * L):
        ws[READ + k] = p * ws[a + k] + q * ws[b + k] + r * ws[c + k] + s * ws[d + k]


@_inline
def _load(ws, per_cell, per_draw, first):  # type: ignore[no-untyped-def]  # noqa: PLR0917
    """Lay 32 draws out; where fewer are left the last stands in."""
    draws = per_draw.shape[1]
    for k in range(L):
        draw = min(first + k, draws - 1)
        for kind in range(4):
            for i in range(N):
                ws[VOLUME + (kind * N + i) * L + k] = per_cell[kind, i, draw]
        for i in range(N):
            ws[NEW + i * L + k] = per_cell[4, i, draw]
        ws[NEW + N * L + k] = per_draw[9, draw]
        for kind in range(9):
            ws[BASE + kind * L + k] = per_draw[kind, draw]
        ws[LOST + k] = 0.0
        ws[FLOW + k] = per_draw[10, draw]
    for i in range((N + 1) * L):
        ws[LAST + i] = ws[NEW + i]
        ws[LAST2 + i] = ws[NEW + i]
    for k in range(L):
        ws[LOST1 + k] = 0.0
        ws[LOST2 + k] = 0.0


@_compile
def march(per_cell, per_draw, schedule, series, final):  # type: ignore[no-untyped-def]  # noqa: PLR0917
    """March all draws through one leg, 32 at a time; fills the last two arrays.

    Parameters
    ----------
    per_cell: volumes, reaches, lags inside and outside, contents, (5, cells, draws) [unit]
    per_draw: root of a sixth of the conductivity in the middle of the contents, half the steepness,
        the middle, lowest and highest content, content outside, resistance of the film, weights of
        the wall, content of the surface and flow at first, (11, draws) [unit]
    schedule: size and number of steps, how many are solved twice, first levels and shares of the
        outputs [record]
    series: total, wall, surface, lost and flow, (outputs, 5, draws) [unit]
    final: contents at the end, the surface last, (cells + 1, draws) [unit]
    """
    size, steps, corrected, firsts, shares = schedule
    draws = per_draw.shape[1]
    ws = np.empty(SIZE)
    for first in range(0, draws, L):
        _load(ws, per_cell, per_draw, first)
        _record(ws, 0)
        output = 0
        for place in range(1, steps + 1):
            rate = _foretell(ws, size, place)
            _solve(ws, rate)
            if place <= corrected:
                _solve(ws, rate)
            _record(ws, place)
            while output < firsts.size and firsts[output] + 3 <= place:
                _read(ws, firsts[output], shares[output])
                for kind in range(SERIES):
                    for k in range(min(L, draws - first)):
                        series[output, kind, first + k] = ws[READ + kind * L + k]
                output += 1
        for k in range(min(L, draws - first)):
            for i in range(N + 1):
                final[i, first + k] = ws[NEW + i * L + k]

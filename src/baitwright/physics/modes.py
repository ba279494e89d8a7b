"""The exact modes of balls of one or two layers, many draws at once.

In r times the value each layer is a plane wave, so that a mode is a few numbers; arrays are laid
out (modes, draws).
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace

import numpy as np

from baitwright.physics.limits import Array
from baitwright.terms.errors import ComputationError

_ROUNDS = 80  # of bracketed Newton steps; four or five do for a plain ball
_FREE_ROUNDS = 5  # of a plain ball, whose phase is all but straight
_CLOSE = 1e-8  # of the root; the step that was that small left its square


@dataclass(frozen=True, slots=True)
class Layers:
    """What a ball is made of, per draw: radii [m], conductivities and diffusivities [m2/s].

    Without a core's conductivity nothing passes its wall; a radius of 0 is a solid ball.
    Conductivities may be in any unit [W/m/K or m2/s], the same in both layers.
    """

    outer_radius: Array
    core_radius: Array
    conductivity: Array
    diffusivity: Array
    core_conductivity: Array | None = None
    core_diffusivity: Array | None = None

    def part(self, draws: slice) -> Layers:
        """The layers of some of the draws [1]."""
        values = ((one.name, getattr(self, one.name)) for one in fields(self))
        return replace(self, **{name: v[draws] for name, v in values if v is not None})

    @property
    def span(self) -> Array:
        """Thickness of the shell [m]."""
        return self.outer_radius - self.core_radius

    def phase_per_root(self) -> Array:
        """How much phase a root of rate 1 gathers from the centre to the surface [s^0.5]."""
        total = self.span / np.sqrt(self.diffusivity)
        if self.core_diffusivity is not None:
            total = total + self.core_radius / np.sqrt(self.core_diffusivity)
        return total

    def modes_needed(self, rate: Array) -> int:
        """Number of modes [1] that holds all those slower than a rate of decay [1/s]."""
        waves = np.sqrt(rate) * self.phase_per_root() / np.pi
        return int(np.ceil(2.0 + waves.max()))


@dataclass(frozen=True, slots=True)
class Modes:
    """Modes of a ball behind a film, (modes, draws).

    Rates of decay [1/s] and wave numbers in the shell [1/m]; at the wall, the mode (of r times the
    value) and its slope over the wave number [1]; the same at the surface; the wave number in the
    core [1/m], where the mode is its sine; the capacity-weighted integral of the square, over the
    shell's capacity [m].
    """

    layers: Layers
    biot: Array
    rate: Array
    wave: Array
    wall: tuple[Array, Array]
    surface: tuple[Array, Array]
    core_wave: Array | None
    norm: Array

    def uniform(self) -> Array:
        """Amplitudes of a uniform excess of 1 [m].

        Notes
        -----
        [U(b) - b U'(b)] / (mu^2 N), which holds for every Biot number.
        """
        return np.asarray(self._lift() / (self.wave**2 * self.norm))

    def _lift(self) -> Array:
        """U(b) - b U'(b), which a thin film makes Bi U(b) to the last digit."""
        value, slope = self.surface
        drop = value - self.layers.outer_radius * self.wave * slope
        return np.where(self.biot < 1.0, self.biot * value, drop)

    def overlap(self, other: Modes, *, row: int) -> Array:
        """Share of one mode of another film in each of these [1].

        Parameters
        ----------
        other: modes of the same layers behind another film [Modes]
        row: which of them [1]

        Returns
        -------
        Amplitudes of that mode, (modes, draws) [1]

        Notes
        -----
        Green's identity: the integral of U V is (U V' - U' V) at the surface over the difference of
        the squared wave numbers; one film has one set of modes, of which a mode is all of itself.
        """
        value, slope = self.surface
        theirs, bend = other.surface[0][row], other.surface[1][row] * other.wave[row]
        apart = other.wave[row] ** 2 - self.wave**2
        same = self.biot == other.biot
        crossed = theirs * slope * self.wave - bend * value
        share = crossed / np.where(same, 1.0, apart * self.norm)
        alone = np.zeros_like(share)
        alone[row : row + 1] = 1.0
        return np.asarray(np.where(same, alone, share))

    def at_wall(self) -> Array:
        """The value of each mode at the wall, or in the centre of a solid ball [1/m]."""
        radius = self.layers.core_radius
        if not radius.any():
            return np.asarray(self.wave * self.wall[1])
        return np.asarray(self.wall[0] / radius)

    def at_centre(self) -> Array:
        """The value of each mode in the centre of a conducting core [1/m]."""
        return self.at_wall() if self.core_wave is None else self.core_wave

    def at_surface(self) -> Array:
        """The value of each mode at the surface [1/m]."""
        return np.asarray(self.surface[0] / self.layers.outer_radius)

    def outflow(self) -> Array:
        """Fall of the value outward at the surface [1/m2]."""
        return np.asarray(self._lift() / self.layers.outer_radius**2)

    def shell_mean(self) -> Array:
        """The mean of each mode over the shell [1/m]."""
        outer, inner = self.layers.outer_radius, self.layers.core_radius
        whole = self._lift()
        if self.core_wave is not None:
            whole = whole - self.wall[0] + inner * self.wave * self.wall[1]
        return np.asarray(3.0 * whole / (self.wave**2 * (outer**3 - inner**3)))

    def core_mean(self) -> Array:
        """The mean of each mode over a conducting core [1/m]."""
        assert self.core_wave is not None
        inner = self.layers.core_radius
        angle = self.core_wave * inner
        return np.asarray(
            3.0 * (np.sin(angle) - angle * np.cos(angle)) / (self.core_wave**2 * inner**3)
        )

    def mean_between(self, inside: Array, outside: Array, *, core: bool) -> Array:
        """The mean of each mode [1/m] between two radii [m] and [m] of the core or of the shell."""
        wave = self.core_wave if core else self.wave
        assert wave is not None
        whole = self._moment(outside, wave, core=core) - self._moment(inside, wave, core=core)
        return np.asarray(3.0 * whole / (wave**2 * (outside**3 - inside**3)))

    def _moment(self, radius: Array, wave: Array, *, core: bool) -> Array:
        """U - r U', the integral of r U over the wave number squared."""
        angle = wave * (radius if core else radius - self.layers.core_radius)
        sine, cosine = np.sin(angle), np.cos(angle)
        first, second = (0.0, 1.0) if core else self.wall
        slope = radius * wave * (second * cosine - first * sine)
        return np.asarray(first * cosine + second * sine - slope)

    def at(self, radius: Array) -> Array:
        """The value of each mode at one radius [m] above zero per draw [1/m]."""
        angle = self.wave * (radius - self.layers.core_radius)
        value = self.wall[0] * np.cos(angle) + self.wall[1] * np.sin(angle)
        if self.core_wave is not None:
            inside = np.sin(self.core_wave * radius)
            value = np.where(radius < self.layers.core_radius, inside, value)
        return np.asarray(value / radius)


def find_modes(layers: Layers, biot: Array, *, count: int) -> Modes:
    """The slowest modes of each ball.

    Parameters
    ----------
    layers: what the balls are made of, (draws,) [Layers]
    biot: film coefficient times outer radius over the shell's conductivity, finite [1]
    count: how many modes [1]

    Returns
    -------
    The modes [Modes]

    Notes
    -----
    The phase of the mode at the surface rises with the root, from one multiple of pi to the next
    between neighbouring modes (Sturm), so that no root is missed: it is where that phase is
    atan2(mu b, 1 - Bi) + (n - 1) pi, which holds for every Biot number.

    Reference: carslaw-jaeger-1959, sec. 9.4 (a solid ball); derived here for the sealed and the
    conducting core.
    """
    root = _roots(layers, biot, count)
    wave, core_wave, first, second = _waves(layers, root)
    angle = wave * layers.span
    sine, cosine = np.sin(angle), np.cos(angle)
    value, slope = first * cosine + second * sine, second * cosine - first * sine
    norm = 0.5 * layers.span * (first**2 + second**2)
    norm += (0.5 * sine * cosine * (first**2 - second**2) + first * second * sine**2) / wave
    if core_wave is not None:
        angle = 2.0 * core_wave * layers.core_radius
        capacity = _core_capacity(layers)
        norm += capacity * 0.5 * (layers.core_radius - 0.5 * np.sin(angle) / core_wave)
    return Modes(layers, biot, root**2, wave, (first, second), (value, slope), core_wave, norm)


def _core_capacity(layers: Layers) -> Array:
    """The core's capacity per volume over the shell's."""
    assert layers.core_conductivity is not None
    assert layers.core_diffusivity is not None
    core = layers.core_conductivity / layers.core_diffusivity
    return np.asarray(core * layers.diffusivity / layers.conductivity)


def _waves(layers: Layers, root: Array) -> tuple[Array, Array | None, Array, Array]:
    """Wave numbers in shell and core, and the mode and its slope at the wall."""
    wave = root / np.sqrt(layers.diffusivity)
    inner = layers.core_radius
    if layers.core_conductivity is None or layers.core_diffusivity is None:
        return wave, None, inner * wave, np.ones_like(wave)
    core_wave = root / np.sqrt(layers.core_diffusivity)
    angle = core_wave * inner
    sine, cosine = np.sin(angle), np.cos(angle)
    conducts = layers.core_conductivity / layers.conductivity
    second = (sine + conducts * (angle * cosine - sine)) / (inner * wave)
    return wave, core_wave, sine, second


def _miss(layers: Layers, biot: Array, root: Array, *, base: Array) -> tuple[Array, Array]:
    """How far the phase is beyond the one a root has, and the Newton step toward that root."""
    if layers.core_conductivity is None:
        return _plain_miss(layers, biot, root, base=base)
    wave, core_wave, first, second = _waves(layers, root)
    assert core_wave is not None
    inner, outer = layers.core_radius, layers.outer_radius
    reach, slack = wave * outer, 1.0 - biot
    turns = np.floor(core_wave * inner / np.pi)
    sign = np.where(turns % 2.0 == 0.0, 1.0, -1.0)
    phase = turns * np.pi + np.arctan2(sign * first, sign * second)
    miss = wave * layers.span + phase - np.arctan2(reach, slack) - base
    steepness = wave * layers.span - reach * slack / (slack * slack + reach * reach)
    angle = core_wave * inner
    cosine = np.cos(angle)
    climb = angle * cosine
    conducts = layers.core_conductivity / layers.conductivity
    bend = (climb - conducts * angle * angle * first) / (inner * wave) - second
    square = first**2 + second**2
    steepness += (second * climb - first * bend) / square
    # Where the core rings alone the phase leaps; the mode itself, whose zero is wanted, does not.
    grows = (first * climb + second * bend) / square + reach**2 / (slack * slack + reach * reach)
    tangent = np.tan(np.clip(miss, -1.3, 1.3))
    return miss, root * tangent / (steepness + tangent * grows)


def _plain_miss(layers: Layers, biot: Array, root: Array, *, base: Array) -> tuple[Array, Array]:
    """The same without a conducting core: both phases in one arc tangent, and no leaps."""
    wave = root / np.sqrt(layers.diffusivity)
    first, reach, slack = wave * layers.core_radius, wave * layers.outer_radius, 1.0 - biot
    miss = wave * layers.span
    steepness = miss - reach * slack / (slack * slack + reach * reach)
    steepness += first / (1.0 + first * first)
    miss -= base
    miss -= np.arctan2(reach - slack * first, slack + reach * first)
    steepness /= root
    return miss, miss / steepness


def _roots(layers: Layers, biot: Array, count: int) -> Array:
    """Square roots of the rates of decay: Newton steps that stay inside their bracket."""
    number = np.arange(1.0, count + 1.0)[:, None]
    base = (number - 1.0) * np.pi
    total = layers.phase_per_root()
    low = np.maximum(number - 2.0, 0.0) * np.pi / total
    high = (number + 1.0) * np.pi / total
    root = _first_guess(layers, biot, (number - 0.5) * np.pi / total)
    plain = layers.core_conductivity is None
    for number_of_round in range(_ROUNDS):
        miss, step = _miss(layers, biot, root, base=base)
        # The first mode of a slow ball lies beside the root 0 that all films share: divide it out.
        step[0] /= 1.0 - step[0] / root[0]
        after = root - step
        far = np.abs(step) > _CLOSE * root
        if not far.any():
            return np.asarray(after)
        if not plain or number_of_round >= _FREE_ROUNDS:
            above = miss > 0.0
            np.copyto(high, root, where=above)
            np.copyto(low, root, where=~above)
            lost = ~((after > low) & (after < high)) & far
            after = np.where(lost, 0.5 * (low + high), after)
        root = after
    raise ComputationError("the roots of a ball's modes were not found")


def _first_guess(layers: Layers, biot: Array, root: Array) -> Array:
    """Near the middles of the brackets; the first as a lump and a held ball in series."""
    outer, inner = layers.outer_radius, layers.core_radius
    lump = layers.diffusivity * 3.0 * biot * outer / (outer**3 - inner**3)
    if layers.core_conductivity is not None:
        lump = lump / (1.0 + _core_capacity(layers) * inner**3 / (outer**3 - inner**3))
        root[0] = 1.0 / np.sqrt(1.0 / lump + 0.25 / root[0] ** 2)
        return root
    across = np.sqrt(layers.diffusivity) / layers.span
    wave = root / np.sqrt(layers.diffusivity)
    first, reach, slack = wave * inner, wave * outer, 1.0 - biot
    phase = np.arctan2(reach - slack * first, slack + reach * first)
    root += (phase - 0.5 * np.pi) * across
    held = across * (np.pi - np.arctan(inner / layers.span * 2.2))
    root[0] = 1.0 / np.sqrt(1.0 / lump + 1.0 / held**2)
    return root

"""What closes a moist ball's equations at its surface: drying air, or water it is held in."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from baitwright.physics.constants import VAPOUR_GAS_CONSTANT
from baitwright.physics.limits import Array, Values, within
from baitwright.physics.radial_laws import Diffusivity
from baitwright.terms.errors import ComputationError

Curve: TypeAlias = Callable[[Array], Values]

_COLDEST_SURFACE = 253.15  # K; the saturation line ends there
_TOLERANCE = 1e-10  # of the saturation pressure in the air


@dataclass(frozen=True, slots=True)
class AirLeg:
    """A stretch of time in the same air.

    Duration [s]; temperature [K]; relative humidity [1]; mass coefficient [m/s]; heat coefficient,
    radiation included [W/m2/K].
    """

    duration: float
    temperature: Values
    humidity: Values
    mass_coefficient: Values
    heat_coefficient: Values

    def values(self) -> list[Values]:
        """Everything that may be one number per draw [unit]."""
        return [self.temperature, self.humidity, self.mass_coefficient, self.heat_coefficient]


@dataclass(frozen=True, slots=True)
class WaterLeg:
    """A stretch of time in water: duration [s], temperature [K], surface water content [kg/kg]."""

    duration: float
    temperature: Values
    surface: Values

    def values(self) -> list[Values]:
        """Everything that may be one number per draw [unit]."""
        return [self.temperature, self.surface]


@dataclass(frozen=True, slots=True)
class MoistureLaws:
    """What a drying material obeys, as functions of arrays.

    Diffusivity [m2/s] from temperature [K] and water content [kg/kg]; water activity [1] from water
    content, never falling; saturation pressure [Pa] from temperature; latent heat [J/kg].
    """

    diffusivity: Diffusivity
    water_activity: Curve
    saturation_pressure: Curve
    latent_heat: float = 2.45e6


class HeldSurface:
    """A surface held at one water content and temperature."""

    def __init__(self, leg: WaterLeg, shape: tuple[int, ...]) -> None:
        temperature = within("leg.temperature", leg.temperature, low=255.0, high=400.0, unit="K")
        content = within("leg.surface", leg.surface, low=0.0, high=20.0, unit="kg/kg")
        self.temperature: Array = np.broadcast_to(temperature, shape)
        self.content: Array = np.broadcast_to(content, shape)
        self.activity: Array = np.full(shape, np.nan)

    def meet(self, content: Array) -> None:
        """Take over a ball whose surface has another water content [kg/kg]: nothing to find."""

    def flow(self, still: Array, resistance: Array, area: Array) -> Array:
        """Water leaving through the surface.

        Parameters
        ----------
        still: water content the surface would have if none left [kg/kg]
        resistance: fall of the surface's content per flow out [s/kg]
        area: of the surface, which does not matter here [m2]

        Returns
        -------
        Flow out, negative where water enters [kg/s]
        """
        return np.asarray((still - self.content) / resistance)


class OpenSurface:
    """A surface in air, where the vapour leaving and the heat arriving settle its temperature."""

    def __init__(self, leg: AirLeg, laws: MoistureLaws, shape: tuple[int, ...]) -> None:
        air = within("leg.temperature", leg.temperature, low=255.0, high=400.0, unit="K")
        humidity = within("leg.humidity", leg.humidity, low=0.0, high=1.0)
        mass = within("leg.mass_coefficient", leg.mass_coefficient, low=1e-6, high=10.0, unit="m/s")
        heat = within(
            "leg.heat_coefficient", leg.heat_coefficient, low=1e-3, high=1e9, unit="W/m2/K"
        )
        within("laws.latent_heat", laws.latent_heat, low=0.0, high=3e6, unit="J/kg")
        self._laws = laws
        self._air: Array = np.broadcast_to(air, shape)
        self._cooling: Array = np.broadcast_to(laws.latent_heat / heat, shape)
        self._ease: Array = np.broadcast_to(VAPOUR_GAS_CONSTANT / mass, shape)
        saturation = np.asarray(laws.saturation_pressure(self._air))
        self._vapour = humidity * saturation
        self._tolerance = _TOLERANCE * saturation
        self._flux = np.zeros(shape)
        self._steepness = self._ease * self._air
        self.temperature: Array = self._air
        self.content: Array = np.zeros(shape)
        self.activity: Array = np.zeros(shape)

    def meet(self, content: Array) -> None:
        """Find the temperature of a surface whose water content [kg/kg] is known."""
        nothing = np.zeros_like(content)
        self.flow(content, nothing, nothing)

    def flow(self, still: Array, resistance: Array, area: Array) -> Array:
        """Water leaving through the surface.

        Parameters
        ----------
        still: water content the surface would have if none left [kg/kg]
        resistance: fall of the surface's content per flow out [s/kg]
        area: of the surface [m2]

        Returns
        -------
        Flow out, negative where vapour condenses [kg/s]

        Raises
        ------
        ComputationError: no surface temperature above 253 K closes the balance.

        Notes
        -----
        One equation in the flux, rising in it, by secants kept inside a bracket.
        """
        fall = resistance * area
        low, high = self._bracket(still, fall)
        flux = np.clip(self._flux, low, high)
        excess = self._excess(flux, still, fall)
        gentlest = 0.5 * self._ease * self._air
        for _ in range(100):
            open_draws = np.abs(excess) > self._tolerance
            if not open_draws.any():
                self._flux = flux
                return np.asarray(flux * area)
            low = np.where(excess < 0.0, flux, low)
            high = np.where(excess > 0.0, flux, high)
            trial = flux - excess / self._steepness
            trial = np.where((trial > low) & (trial < high), trial, 0.5 * (low + high))
            trial = np.where(open_draws, trial, flux)
            moved = trial - flux
            after = self._excess(trial, still, fall)
            np.divide(after - excess, moved, out=self._steepness, where=moved != 0.0)
            np.maximum(self._steepness, gentlest, out=self._steepness)
            flux, excess = trial, after
        raise ComputationError(
            "the drying surface found no temperature above 253 K that balances heat and vapour"
        )

    def _bracket(self, still: Array, fall: Array) -> tuple[Array, Array]:
        """Fluxes between which the balance lies: all vapour condenses, or the surface is dry."""
        low = -1.01 * self._vapour / (self._ease * self._air) - 1e-30
        high = np.asarray((self._air - _COLDEST_SURFACE) / np.maximum(self._cooling, 1e-30))
        dry = np.divide(still, fall, out=np.full_like(high, np.inf), where=fall > 0.0)
        return low, np.maximum(np.minimum(high, dry), low)

    def _excess(self, flux: Array, still: Array, fall: Array) -> Array:
        """Pressure a flux needs beyond what the surface offers for it [Pa]."""
        laws = self._laws
        self.temperature = self._air - self._cooling * flux
        self.content = np.maximum(still - fall * flux, 0.0)
        self.activity = np.asarray(laws.water_activity(self.content))
        offered = self.activity * laws.saturation_pressure(self.temperature) - self._vapour
        return np.asarray(self._ease * 0.5 * (self._air + self.temperature) * flux - offered)

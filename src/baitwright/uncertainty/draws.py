"""Where draws come from: one named stream per unknown, stratified, on two levels.

Latin hypercube sampling (mckay-1979): each unknown's range is cut into as many strata of equal
probability as there are draws, one draw in each, in an order shuffled by a generator seeded with
the unknown's own name. Adding an unknown to the program therefore leaves all other draws as they
were, and the same request gives the same numbers.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass

import numpy as np

from baitwright.terms.quantity import PerBait, PerBatch
from baitwright.uncertainty.gum import WIDEST
from baitwright.uncertainty.spreads import Floats, Spread, standard_normal


@dataclass(frozen=True, slots=True)
class Draws:
    """How many batches are imagined, how many baits of each, and from which seed."""

    batches: int = 256
    baits: int = 4
    seed: int = 20_26

    @property
    def total(self) -> int:
        """Baits imagined in all."""
        return self.batches * self.baits

    def _generator(self, name: str) -> np.random.Generator:
        digest = hashlib.blake2b(f"{self.seed}/{name}".encode(), digest_size=8).digest()
        return np.random.Generator(np.random.PCG64(int.from_bytes(digest, "big")))

    def shuffled(self, name: str, count: int) -> tuple[int, ...]:
        """The numbers from 0 up to a count, in an order of their own name."""
        return tuple(int(one) for one in self._generator(name).permutation(count))

    def _strata(self, name: str, count: int) -> Floats:
        generator = self._generator(name)
        return np.asarray((generator.permutation(count) + generator.random(count)) / count)

    def per_batch(self, name: str, spread: Spread) -> PerBatch:
        """Draws of something unknown once per batch, shape (batches, 1)."""
        return PerBatch(spread.quantile(self._strata(name, self.batches))[:, None])

    def per_bait(self, name: str, spread: Spread) -> PerBait:
        """Draws of something that varies from bait to bait, shape (batches, baits)."""
        flat = spread.quantile(self._strata(name, self.total))
        return PerBait(flat.reshape(self.batches, self.baits))

    def student_log(self, name: str, *, mu: float, scale: float, nu: float) -> PerBatch:
        """Draws of e to a Student t variable, for a factor known from few batches.

        Kept within ``WIDEST`` scales of the middle.
        """
        normal = standard_normal(self._strata(name, self.batches))
        chi2 = self._generator(f"{name}/spread").chisquare(nu, self.batches)
        student = np.clip(normal * np.sqrt(nu / chi2), -WIDEST, WIDEST)
        return PerBatch(np.exp(mu + scale * student)[:, None])

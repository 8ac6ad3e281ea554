"""What the readings say of the maker and of the pleats: one joint normal distribution, in closed form.

Pleats are counted in the order they are sewn, from 1.  A pleat comes out at its told size + b + e_i.  Reading
k, across the n_k pleats of its stretch, exceeds what was told there by

    X_k = n_k b + (sum of its e_i) + its own reading error

so that, with variances B of b, S of an e and R of a reading error,

    cov(X_k, X_l) = B n_k n_l + S |pleats in both| + R [k = l]

and the excess T of any first j of all pleats, sewn or still to be sewn, has

    cov(T, X_k) = B j n_k + S |pleats of k among the first j|

Everything else is conditioning T or b on the readings [derived].  Overlapping and repeated readings need no
case of their own: what they share stands in the first formula.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from pleatwright.bench.sewing.maker import Maker

Numbers = NDArray[np.float64]


@dataclass(frozen=True)
class Stretch:
    """A reading in the order of sewing: pleats `first` to `last`, and its inches over what was told."""

    first: int
    last: int
    excess: float

    def among(self, first: int, last: int) -> int:
        """How many of its pleats lie among these."""
        return max(0, min(self.last, last) - max(self.first, first) + 1)

    @property
    def pleats(self) -> int:
        """How many pleats it spans."""
        return self.last - self.first + 1


@dataclass(frozen=True)
class Expected:
    """A mean and a standard deviation, in inches."""

    mean: float
    sd: float


class Belief:
    """The maker's bias and the pleats' excess, given what was read; all in inches."""

    def __init__(self, maker: Maker, read: Sequence[Stretch]) -> None:
        self._maker, self._read = maker, tuple(read)
        self._pleats = np.array([one.pleats for one in read], dtype=float)
        shared = np.array([[one.among(other.first, other.last) for other in read] for one in read], float)
        shared = shared.reshape(len(read), len(read))
        covariance = maker.bias**2 * np.outer(self._pleats, self._pleats) + maker.scatter**2 * shared
        self._inverse = np.linalg.inv(covariance + maker.reading**2 * np.eye(len(read)))
        self._weighed = self._inverse @ np.array([one.excess for one in read], dtype=float)

    @property
    def bias(self) -> Expected:
        """By how much this maker sews a pleat too wide."""
        return self._given(self._maker.bias**2 * self._pleats, self._maker.bias**2)

    def excess(self, first: int, last: int) -> Expected:
        """By how much these pleats together are, or will be, wider than told."""
        number = max(0, last - first + 1)
        among = np.array([one.among(first, last) for one in self._read], dtype=float)
        bias, scatter = self._maker.bias**2, self._maker.scatter**2
        return self._given(
            bias * number * self._pleats + scatter * among, bias * number**2 + scatter * number
        )

    def reading(self, first: int, last: int) -> Expected:
        """By how much the tape, laid across these pleats, would read more than told."""
        true = self.excess(first, last)
        return Expected(true.mean, sqrt(true.sd**2 + self._maker.reading**2))

    def _given(self, covariances: Numbers, variance: float) -> Expected:
        left = variance - float(covariances @ self._inverse @ covariances)
        return Expected(float(covariances @ self._weighed), sqrt(max(0.0, left)))

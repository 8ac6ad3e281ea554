"""How bodies are spread: means, deviations and correlations of a survey, and bodies drawn from them.

ANSUR II, survey of US Army personnel, 2012, public release (4,082 men, 1,986 women), computed from its public
files.  The waist is taken at the navel, which lies below many a strap line; the kneecap stands for the drop,
since a kilt ends about the middle of the knee.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from pleatwright.lengths import MILLIMETRE, Grid, on_grid
from pleatwright.wearer.body import Body

MEASURES = ("waist", "hips", "fell_drop", "drop")
"""The measures of a body in the order of the survey's table, which says seat and kneecap for the drops."""

Sex = Literal["man", "woman"]


@dataclass(frozen=True)
class Population:
    """A multivariate normal over `MEASURES`; means and standard deviations in millimetres."""

    mean: tuple[float, float, float, float]
    deviation: tuple[float, float, float, float]
    waist_hips: float
    waist_seat: float
    waist_kneecap: float
    hips_seat: float
    hips_kneecap: float
    seat_kneecap: float

    @property
    def covariance(self) -> NDArray[np.float64]:
        """Covariances of the four measures, in square millimetres."""
        wh, ws, wk = self.waist_hips, self.waist_seat, self.waist_kneecap
        hs, hk, sk = self.hips_seat, self.hips_kneecap, self.seat_kneecap
        correlation = np.array([[1, wh, ws, wk], [wh, 1, hs, hk], [ws, hs, 1, sk], [wk, hk, sk, 1]])
        deviation = np.array(self.deviation)
        return np.asarray(correlation * np.outer(deviation, deviation))


POPULATIONS: dict[Sex, Population] = {
    "man": Population(
        mean=(940.6, 1019.5, 168.6, 568.1),
        deviation=(111.7, 76.7, 26.4, 31.0),
        waist_hips=0.876,
        waist_seat=-0.188,
        waist_kneecap=-0.118,
        hips_seat=-0.016,
        hips_kneecap=0.082,
        seat_kneecap=0.546,
    ),
    "woman": Population(
        mean=(860.9, 1021.2, 146.4, 531.1),
        deviation=(99.9, 75.9, 24.9, 29.8),
        waist_hips=0.803,
        waist_seat=-0.405,
        waist_kneecap=-0.134,
        hips_seat=-0.090,
        hips_kneecap=0.149,
        seat_kneecap=0.603,
    ),
}


@dataclass(frozen=True)
class Spread:
    """How some of the measures are spread together: their means (mm) and the inverse of their covariance."""

    measures: tuple[str, ...]
    mean: NDArray[np.float64]
    precision: NDArray[np.float64]

    def distance(self, millimetres: NDArray[np.float64]) -> float:
        """Squared Mahalanobis distance from the mean body."""
        off = millimetres - self.mean
        return float(off @ self.precision @ off)

    def expected(self, millimetres: NDArray[np.float64], measure: str) -> tuple[float, float]:
        """What the other measures lead to expect of this one: mean and standard deviation, in mm."""
        i = self.measures.index(measure)
        own = float(self.precision[i, i])
        pull = float(self.precision[i] @ (millimetres - self.mean))
        return float(millimetres[i]) - pull / own, own**-0.5


@cache
def spread_of(sex: Sex, measures: tuple[str, ...]) -> Spread:
    """The spread of some of `MEASURES`, as far as they were taken."""
    population = POPULATIONS[sex]
    chosen = [MEASURES.index(measure) for measure in measures]
    covariance = population.covariance[np.ix_(chosen, chosen)]
    precision = np.asarray(np.linalg.inv(covariance), dtype=np.float64)
    return Spread(measures, np.array(population.mean)[chosen], precision)


def draw_bodies(count: int, seed: int, sex: Sex) -> list[Body]:
    """Bodies drawn from the survey's normal distribution, to the nearest 1/16"; one seed, the same bodies."""
    population = POPULATIONS[sex]
    drawn = np.random.default_rng(seed).multivariate_normal(
        population.mean, population.covariance, size=count, method="cholesky"
    )
    bodies = []
    for row in drawn:
        waist, hips, fell_drop, drop = (
            on_grid(Fraction(float(value)) * MILLIMETRE, Grid.SIXTEENTH) for value in row
        )
        bodies.append(Body(waist, hips, drop, fell_drop, woman=sex == "woman"))
    return bodies

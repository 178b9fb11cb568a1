"""Samples of the errors of the weights and the lines.

A Latin hypercube with a fixed seed, so that the same document gives the same answer. Both boats
of a condition use the same draws of what they have in common.

Source: McKay, Beckman and Conover 1979, Technometrics 21, for the hypercube (from memory).
"""

from dataclasses import dataclass

import numpy as np

from hullchange.afloat.at_rest import ConditionWeights
from hullchange.cache import cached
from hullchange.geometry.frame import FloatArray
from hullchange.survey.lines_error import NUMBERS

COUNT = 500
SEED, SEED_OF_LINES = 20_251, 20_261


@dataclass(frozen=True, eq=False)
class Draws:
    """Sampled errors of mass [kg], its moments [kg m] and the lines.

    Attributes:
        shared: (n, 4 + m) [kg], [kg m] of the boat as found, her lines and her loads, which
            both boats have.
        changed: (n, 4 + m) [kg], [kg m] of what the refit changes.
    """

    shared: FloatArray
    changed: FloatArray

    @property
    def together(self) -> FloatArray:
        """(n, 4 + m) [kg], [kg m] of everything."""
        return self.shared + self.changed


def draws_of(weights: ConditionWeights) -> Draws:
    """The errors of a boat, sampled by their covariance."""
    of_survey, of_loads, of_refit = np.hsplit(_normal(SEED, 3 * NUMBERS), 3)
    lines = _normal(SEED_OF_LINES, weights.shape.errors.count)
    found = weights.as_surveyed
    besides = weights.shared.covariance - found.solid.covariance
    shared = found.drawn(of_survey) + of_loads @ symmetric_root(besides)
    changed = of_refit @ symmetric_root(weights.changed.covariance)
    return Draws(np.hstack([shared, lines]), np.hstack([changed, np.zeros_like(lines)]))


@cached(8)
def _normal(seed: int, count: int) -> FloatArray:
    """(n, count) of mean 0 and standard deviation 1, every column spread evenly."""
    draw = np.random.default_rng(seed)
    strata = draw.permuted(np.tile(np.arange(COUNT), (count, 1)), axis=1)
    from scipy.special import ndtri  # loaded by what is drawn alone

    return np.asarray(ndtri((strata + draw.random(strata.shape)) / COUNT).T)


def symmetric_root(covariance: FloatArray) -> FloatArray:
    """(4, 4) symmetric root of a covariance (4, 4), both of mass [kg] and moments [kg m].

    It is the same whatever the signs of the eigenvectors it is made from.
    """
    values, vectors = np.linalg.eigh(covariance)
    return np.asarray(vectors * np.sqrt(np.maximum(0.0, values)) @ vectors.T)

"""The ways the weights may fall out: what is not known of them, drawn.

A Latin hypercube with a fixed seed, so that the same document gives the same answer. Both boats
of a condition take the same draws of what they have in common.

Source: McKay, Beckman and Conover 1979, Technometrics 21, for the hypercube (from memory).
"""

from dataclasses import dataclass
from functools import cache

import numpy as np

from hullchange.geometry.frame import FloatArray
from hullchange.study.floats import Weighing

COUNT = 500
SEED = 20_251
NUMBERS = 4


@dataclass(frozen=True, eq=False)
class Draws:
    """Errors of mass [kg] and its moments [kg m], each (n, 4).

    Attributes:
        shared: of the boat as found and her loads, which both boats have.
        changed: of what the refit changes.
    """

    shared: FloatArray
    changed: FloatArray

    @property
    def together(self) -> FloatArray:
        """(n, 4) of everything aboard."""
        return self.shared + self.changed


def draws_of(weighing: Weighing) -> Draws:
    """What is not known of a boat's weights, drawn by its covariance."""
    normal = _normal()
    return Draws(
        normal[:, :NUMBERS] @ _root(weighing.shared.covariance),
        normal[:, NUMBERS:] @ _root(weighing.changed.covariance),
    )


@cache
def _normal() -> FloatArray:
    """(n, 8) of mean 0 and standard deviation 1, every column spread evenly."""
    draw = np.random.default_rng(SEED)
    strata = draw.permuted(np.tile(np.arange(COUNT), (2 * NUMBERS, 1)), axis=1)
    from scipy.special import ndtri  # loaded by what is drawn alone

    return np.asarray(ndtri((strata + draw.random(strata.shape)) / COUNT).T)


def _root(covariance: FloatArray) -> FloatArray:
    """(4, 4) symmetric root: the same whatever the signs of the vectors it is made from."""
    values, vectors = np.linalg.eigh(covariance)
    return np.asarray(vectors * np.sqrt(np.maximum(0.0, values)) @ vectors.T)

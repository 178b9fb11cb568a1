"""A hull whose every answer is a formula, so that parts can be tried without the real one."""

from dataclasses import dataclass

import numpy as np
import pytest
from hulls import demo_hull

from hullchange.errors import ModelError

CHINES = np.array([[0.0, -0.80], [0.65, -0.50], [0.94, 0.05], [1.0, 1.0]])


@dataclass(frozen=True)
class FormulaHost:
    """Double-chine hull of parabolic breadth; every section a scaled copy of one polygon."""

    length: float = 10.0
    half_breadth: float = 1.85
    sheer_sag: float = 0.25
    camber: float = 0.06
    plating: float = 0.005

    @property
    def key(self):
        return repr(self)

    @property
    def fore_x(self):
        return self.stem_x

    @property
    def stem_x(self):
        return -0.9

    @property
    def transom_x(self):
        return self.length + 0.9

    def _breadth(self, x):
        share = (np.asarray(x, float) - 5.6) / 7.5
        return self.half_breadth * (1.0 - share**2)

    def _sheer_z(self, x):
        share = (np.asarray(x, float) - 7.0) / 8.0
        return 1.10 + self.sheer_sag * share**2

    def sheer(self, x):
        x = np.asarray(x, float)
        return np.stack([x, self._breadth(x), self._sheer_z(x)], axis=-1)

    def deck_z(self, x, y):
        breadth = self._breadth(x)
        across = np.asarray(y, float) / breadth
        return self._sheer_z(x) + self.camber * breadth / 1.80 * (1.0 - across**2)

    def lines_up(self):
        return ("centreline", "lower-chine", "upper-chine", "sheer")

    def line(self, name, x):
        corner = self.lines_up().index(name)
        return np.array([[a, *self.section(float(a))[corner]] for a in np.asarray(x, float)])

    def section(self, x):
        rise = 0.9 * ((x - 5.0) / 6.0) ** 2
        y = CHINES[:, 0] * float(self._breadth(x))
        low = -0.80 + rise
        z = low + (CHINES[:, 1] + 0.80) / 1.80 * (float(self._sheer_z(x)) - low)
        return np.stack([y, z], axis=1)

    def bottom_z(self, x, y):
        x, y = np.broadcast_arrays(np.asarray(x, float), np.asarray(y, float))
        heights = [
            np.interp(abs(b), *self.section(float(a)).T)
            for a, b in zip(x.ravel(), y.ravel(), strict=True)
        ]
        return np.array(heights).reshape(x.shape)

    def sections(self, x):
        return np.array([self.section(float(a)) for a in np.clip(x, self.fore_x, 99.0)])

    def bottom_thickness(self, x, y):
        return np.full(np.broadcast(x, y).shape, self.plating)

    def transom_outline(self):
        outline = self.section(self.transom_x)
        return np.column_stack([np.full(len(outline), self.transom_x), outline])


@pytest.fixture(scope="session")
def host():
    return FormulaHost()


@pytest.fixture(scope="session")
def demo():
    """Saltmarrow's hull."""
    return demo_hull()


@pytest.fixture
def refusal():
    """What is refused by a call, with a whole sentence."""

    def refused(build):
        with pytest.raises(ModelError) as problem:
            build()
        assert problem.value.sentence.endswith(".")
        return problem.value

    return refused

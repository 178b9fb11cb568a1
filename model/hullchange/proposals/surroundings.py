"""What a new part is proposed from: the deck, the old part it replaces, its neighbours."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from hullchange.geometry.frame import FloatArray
from hullchange.geometry.host import Host
from hullchange.parts.fields import PartDimensions, Span
from hullchange.parts.parameters import Cockpit, Deckhouse
from hullchange.parts.part import Part

STATIONS = 201
FOOT = 0.05  # [m] how far the foot of a raked front reaches forward on a cambered deck
STEEP, BESIDE = 0.25, 0.15
"""Slope from which a deck's edge is a step, and how far beside it the deck is not even [m]."""


@dataclass(frozen=True, eq=False)
class Surroundings:
    """Where a new part goes.

    Attributes:
        host: the boat it is fitted to.
        neighbours: dimensions of the parts that stay beside it, by name.
        roofs: the built parts among them that something can stand on, by name.
        old: dimensions of the part whose place it takes, if any.
        old_ground: what that part stands on, if it is a house.
        raised: by how much the old house is to be raised forward and aft [m], if that is asked.
    """

    host: Host
    neighbours: Mapping[str, PartDimensions] = field(default_factory=dict)
    roofs: Mapping[str, Part] = field(default_factory=dict)
    old: PartDimensions | None = None
    old_ground: Host | None = None
    raised: tuple[float, float] | None = None

    @cached_property
    def deck(self) -> "DeckMeasures":
        """What the deck measures."""
        sheer = self.host.sheer(np.linspace(self.host.stem_x, self.host.transom_x, STATIONS))
        return DeckMeasures(self.host, sheer)

    @cached_property
    def taken(self) -> tuple[Span, ...]:
        """Stretches of the deck [m], from forward aft, that houses and wells stand on."""
        return tuple(sorted(s for p in self.neighbours.values() for s in _stretch(p)))

    def free(self, within: Span, beside: tuple[Span, ...] = ()) -> tuple[Span, ...]:
        """Stretches [m] of a stretch of deck that nothing stands on, from forward aft.

        Args:
            within: which stretch [m].
            beside: further stretches [m] that are left out.
        """
        start, end = within
        found: list[Span] = []
        for fore, aft in sorted((*self.taken, *beside)):
            if start < min(fore, end):
                found.append((start, min(fore, end)))
            start = max(start, aft)
        return (*found, (start, end)) if start < end else tuple(found)

    def of_kind(self, kind: type[PartDimensions]) -> tuple[str, ...]:
        """Names of the neighbours of a kind."""
        return tuple(name for name, p in self.neighbours.items() if isinstance(p, kind))


def _stretch(part: PartDimensions) -> tuple[Span, ...]:
    match part:
        case Deckhouse(stand=None):
            return ((part.x_forward_m - FOOT, part.x_aft_m),)
        case Cockpit():
            return ((part.x_forward_m, part.x_forward_m + part.seat_well_m[0]),)
    return ()


@dataclass(frozen=True, eq=False)
class DeckMeasures:
    """A deck's breadths and heights, and the bottom below it.

    Attributes:
        host: the hull.
        edge: (n, 3) [m] its starboard edge from the stem aft.
    """

    host: Host
    edge: FloatArray

    @property
    def length(self) -> float:
        """From the stem to the transom [m]."""
        return self.host.transom_x - self.host.stem_x

    @property
    def beam(self) -> float:
        """Greatest breadth [m]."""
        return 2.0 * float(self.edge[:, 1].max())

    @property
    def side_deck(self) -> float:
        """Breadth [m] to walk on beside a house: a tenth of the beam, 0.22 to 0.45 m.

        Common practice, no source.
        """
        return float(np.clip(0.10 * self.beam, 0.22, 0.45))

    def x(self, share: float) -> float:
        """x [m] at a share of the deck's length."""
        return self.host.stem_x + share * self.length

    @property
    def steps(self) -> tuple[Span, ...]:
        """Stretches [m] at steps of the deck's edge, where no wall fits."""
        x, z = self.edge[:, 0], self.edge[:, 2]
        steep = np.abs(np.diff(z)) > STEEP * np.diff(x)
        return tuple(
            (float(x[k]) - BESIDE, float(x[k + 1]) + BESIDE) for k in np.flatnonzero(steep)
        )

    def half_breadth(self, fore: float, aft: float | None = None) -> float:
        """Half-breadth [m] at x, or the least between two."""
        x = np.linspace(fore, fore if aft is None else aft, 41)
        return float(np.interp(x, self.edge[:, 0], self.edge[:, 1]).min())

    def z(self, x: float, y: float = 0.0) -> float:
        """Height [m] of the deck at a place."""
        return float(self.host.deck_z(np.array([x]), np.array([y]))[0])

    def heights(self, along: Span, y: float) -> FloatArray:
        """Heights (9,) [m] of the deck along a stretch, at a half-breadth."""
        return self.host.deck_z(np.linspace(*along, 9), np.full(9, y))

    def bottom(self, along: Span, half: float) -> float:
        """Highest place [m] of the bottom below a rectangle on the centreline."""
        x, y = np.meshgrid(np.linspace(*along, 9), np.linspace(0.0, half, 5))
        return float(self.host.bottom_z(x.ravel(), y.ravel()).max())


def rounded(value: float, step: float = 0.01) -> float:
    """A dimension to its step, as one writes it, both in one unit."""
    return round(round(float(value) / step) * step, 4)

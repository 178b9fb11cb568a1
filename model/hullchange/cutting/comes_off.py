"""What comes off for the refit: old plates with lifting points, and weights of the ledger."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot

import numpy as np

from hullchange.boat.boat import Boat
from hullchange.boat.weights import Weight
from hullchange.document.items import FillAboard
from hullchange.findings import Finding, Severity
from hullchange.geometry.frame import FloatArray
from hullchange.geometry.surface import mass_properties
from hullchange.materials import STEEL_DENSITY
from hullchange.plain_words import id_in_words
from hullchange.shop.lifts import lifting_points
from hullchange.shop.piece import PlatePiece, steel_of

BOTH_DOUBTS = 2.0  # standard deviations beyond which drawing and ledger disagree
DRAWN_DOUBT = 0.10  # of the mass by the old part's dimensions: plate thickness worn or guessed


@dataclass(frozen=True, eq=False)
class OldPlate:
    """An old plate as it is cut out.

    Attributes:
        piece: its outline, by the dimensions of the existing part.
        mass: [kg] of the bare plate.
        centre: of gravity, in the boat's frame [m].
        hung: (n, 2) lifting points in the drawing [m]; none where a sling goes round.
    """

    piece: PlatePiece
    mass: float
    centre: tuple[float, float, float]
    hung: FloatArray

    @property
    def hung_aboard(self) -> FloatArray:
        """(n, 3) the same points in the boat's frame [m]."""
        if not len(self.hung):
            return np.zeros((0, 3))
        return np.asarray(self.piece.plate.map.to_boat(self.piece.drawing.back(self.hung)))


@dataclass(frozen=True, eq=False)
class ComesOff:
    """Everything that one change takes off.

    Attributes:
        change: its name.
        plates: of the existing part it replaces, and of the hull where new plates go, in the
            order of cutting, highest first.
        bars: mass of its stiffeners and tubes, which go with the plates [kg].
        weights: by the ledger, with the part that takes their place or "".
        pumped: paths of those weights that are liquids.
    """

    change: str
    plates: tuple[OldPlate, ...]
    bars: float
    weights: tuple[tuple[Weight, str], ...]
    pumped: frozenset[str]

    @property
    def drawn(self) -> float:
        """[kg] of the old steel by its dimensions."""
        return self.bars + sum(plate.mass for plate in self.plates)

    @property
    def finding(self) -> Finding | None:
        """Said where dimensions and ledger disagree on the steel that is replaced."""
        steel = [weight for weight, by in self.weights if by]
        if not self.plates or not steel:
            return None
        ledger = sum(weight.mass for weight in steel)
        doubt = hypot(DRAWN_DOUBT * self.drawn, *(weight.sd_mass for weight in steel))
        if abs(ledger - self.drawn) <= BOTH_DOUBTS * doubt:
            return None
        sentence = (
            f"For {id_in_words(self.change)} the ledger removes {ledger:.0f} kg of steel, but "
            f"the old plates weigh {self.drawn:.0f} kg by their dimensions: rig the slings "
            "for the larger, and weigh the first piece."
        )
        return Finding("old-steel-differs", Severity.WARN, f"changes.{self.change}", sentence)


def coming_off(boat: Boat) -> tuple[ComesOff, ...]:
    """What every change takes off, in the document's order; none for one that takes nothing."""
    return tuple(_each(boat))


def _each(boat: Boat) -> Iterator[ComesOff]:
    document = boat.document
    for name, change in document.changes.items():
        entries = [e for e in boat.entries if e.change == name and e.role == "removed"]
        old = (change.replaces or "").removeprefix("existing.")
        if not entries and not old:
            continue
        plates, bars = _old_steel(boat, name, old)
        aboard = document.survey.aboard
        pumped = (
            e.weight.path
            for e in entries
            if e.aboard in document.tanks or isinstance(aboard.get(e.aboard), FillAboard)
        )
        weights = tuple((e.weight, e.replaced_by) for e in entries)
        yield ComesOff(name, plates, bars, weights, frozenset(pumped))


def _old_steel(boat: Boat, change: str, old: str) -> tuple[tuple[OldPlate, ...], float]:
    """Old plates of a change, highest first, and the mass of the bars on them [kg]."""
    parts = {
        f"old-{p.id}": p.part.old_plates for p in boat.parts.values() if p.change == change
    }
    if old:
        parts[old] = boat.existing[old].part.plates
    steel = steel_of(parts, ())
    plates = []
    for piece in steel.pieces:
        known = mass_properties(piece.plate.surface(), STEEL_DENSITY)
        hung = lifting_points(piece, known.mass)
        plates.append(OldPlate(piece, known.mass, known.centroid, hung))
    bars = sum(bar.plate.mass(STEEL_DENSITY) for bar in steel.bars)
    # to a millimetre, so that a pair of plates keeps its order on every machine
    return tuple(sorted(plates, key=lambda plate: -round(plate.centre[2], 3))), bars

"""The CAD record: every plate as a solid, weighed, and held against the plates' own meshes."""

from collections.abc import Iterable, Mapping

import numpy as np

from hullchange.answer.assessment import RecordPart, RecordResult
from hullchange.boat.boat import Boat
from hullchange.geometry.surface import MassProperties
from hullchange.units import mm_of_m

MASS_PERCENT, CENTROID_MM = 0.1, 1.0
WeighedSolids = Iterable[tuple[str, MassProperties]]


def record_result(boat: Boat, solids: Mapping[str, WeighedSolids]) -> RecordResult:
    """The record of all new parts, and whether it and the meshes hold each other."""
    parts = tuple(_part(boat, name, solids[name]) for name in boat.parts)
    differs = any(part.differs for part in parts)
    return RecordResult(state="differs" if differs else "held", parts=parts)


def _part(boat: Boat, name: str, solids: WeighedSolids) -> RecordPart:
    weighed = [found for _, found in solids]
    masses = np.array([w.mass for w in weighed])
    mass = float(masses.sum())
    centre = masses @ np.array([w.centroid for w in weighed]) / mass
    mesh = boat.parts[name].steel
    off_percent = 100.0 * (mass / mesh.mass - 1.0)
    off_mm = mm_of_m(float(np.linalg.norm(centre - np.array(mesh.centroid))))
    x, y, z = (float(c) for c in centre)
    return RecordPart(
        id=name,
        solids=len(weighed),
        mass_kg=mass,
        centroid_m=(x, y, z),
        mass_difference_percent=off_percent,
        centroid_difference_mm=off_mm,
        differs=abs(off_percent) > MASS_PERCENT or off_mm > CENTROID_MM,
    )

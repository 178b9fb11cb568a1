"""Mass and centroid of a part from its plates' own meshes: what answers while one drags."""

from hullchange.geometry.surface import MassProperties, joined, mass_properties
from hullchange.parts.part import Part


def weigh(part: Part, density: float) -> MassProperties:
    """Volume, mass and centroid of all plates of a part, weighed by trimesh in one go.

    Args:
        part: built.
        density: [kg/m^3].
    """
    return mass_properties(joined(tuple(plate.surface() for plate in part.plates)), density)

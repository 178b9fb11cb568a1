"""What the kernel's functions hand one another, field by field.

Only named tuples, arrays and floats: numba compiles all three. Lengths are in metres, angles in
radians, and weights are given as volumes of the water that the boat floats in, so that neither
density nor gravity is met in here.
"""

from typing import NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from hullchange.geometry.frame import FloatArray, IntArray

Corners: TypeAlias = NDArray[np.uint32]

Vector: TypeAlias = tuple[float, float, float]
"""Three coordinates, or three values: by offset, heel and trim, say."""


def vector(array: FloatArray) -> Vector:
    """The three values of an array (3,) [of any unit]."""
    x, y, z = array.tolist()
    return x, y, z


SIX_VOLUME, AREA_VECTOR, MOMENT, MIXED, AREA = 0, 1, 4, 7, 16
"""First columns of `Mesh.block_sums`. For a face with corners a, b, c from the mesh's centre,
n = (b - a) x (c - a) and s = a + b + c they are: a . n (1 column), n (3), s (a . n) (3),
the products s_i n_j (9, row by row) and the area (1)."""

MIDDLE, HALF_SIZE = 0, 1
"""Second index of `Mesh.block_boxes`."""

ROWS = np.array([0, 1, 2, 0, 0, 1])
COLUMNS = np.array([0, 1, 2, 1, 2, 2])
"""Where each of `Integrals.area_second` stands in a symmetric 3 x 3 matrix."""

LENGTHS_PER_BEAM = 10.0
"""Offsets are counted in tenths of the beam. A radian of heel and a tenth of the beam in height
then change the energy by like amounts, and one trust region can be round for both."""


class Mesh(NamedTuple):
    """A closed surface, its faces sorted into blocks of neighbours with their moments summed.

    A plane cuts few blocks: the others are wet or dry as a whole, and are not looked into.
    Everything is counted from a centre near by, because about a far origin the sums cancel.

    Attributes:
        vertices: (n, 3) [m] from the centre.
        faces: (m, 3) numbers of their corners, outside seen counter-clockwise.
        areas: (m,) [m^2] of the faces.
        block_starts: (k + 1,) the first face of each block, and one past the last of all.
        block_sums: (k, 17) [m^2 to m^4] moments of whole blocks; columns as `SIX_VOLUME` says.
        block_boxes: (k, 2, 3) [m] middle and half size of each block's bounding box.
        centre: [m] in the boat's frame.
        radius: [m] of a ball about the centre that holds everything.
    """

    vertices: FloatArray
    faces: Corners
    areas: FloatArray
    block_starts: IntArray
    block_sums: FloatArray
    block_boxes: FloatArray
    centre: Vector
    radius: float


class Tanks(NamedTuple):
    """Slack liquids: the surfaces of t tanks, each from its own centre, in one set of arrays.

    Attributes:
        surfaces: all of them, one after the other.
        first_blocks: (t + 1,) where the blocks of each begin, and the number of blocks.
        centres: (t, 3) [m] in the boat's frame.
        radii: (t,) [m] of balls that hold them.
        volumes: (t,) [m^3] of liquid.
        densities: (t,) [-] of the liquids, over the water's.
    """

    surfaces: Mesh
    first_blocks: NDArray[np.int64]
    centres: FloatArray
    radii: FloatArray
    volumes: FloatArray
    densities: FloatArray


class WaterWeight(NamedTuple):
    """A weight, as the volume of water that weighs as much.

    Attributes:
        volume: [m^3].
        moment: [m^4] that volume times its centre, from the mesh's centre.
    """

    volume: float
    moment: Vector


class FloatingBody(NamedTuple):
    """A boat that floats: what the water carries, and what weighs.

    Attributes:
        mesh: the surface of what floats.
        tanks: liquids that find their own level.
        weight: everything but these liquids.
        length: [m] a tenth of the beam, the unit in which steps of offset are counted.
        heel_is_free: [-] 1.0, or 0.0 where she is held at her heel.
    """

    mesh: Mesh
    tanks: Tanks
    weight: WaterWeight
    length: float
    heel_is_free: float


class Integrals(NamedTuple):
    """Integrals over what of a surface lies below a plane.

    All moments are about the point of the plane that is nearest to the mesh's centre.

    Attributes:
        volume: [m^3].
        moment: [m^4] first moments of the volume.
        area: [m^2] of the waterplane.
        area_moment: [m^3] its first moments.
        area_second: [m^4] its second moments xx, yy, zz, xy, xz, yz.
        wetted_area: [m^2] of the faces below the plane.
    """

    volume: float
    moment: Vector
    area: float
    area_moment: Vector
    area_second: tuple[float, float, float, float, float, float]
    wetted_area: float


class State(NamedTuple):
    """The energy at an attitude and its derivatives by offset [tenths of the beam], heel, trim.

    Attributes:
        energy: [m^4] over water density and gravity.
        residual: [-] what of the volume is missing over the volume, or what of a lever is left
            over the beam, whichever is larger.
        gradient: [m^4] first derivatives.
        hessian: (3, 3) [m^4] second derivatives.
        below: integrals over what is under water.
        weight: with the liquids as they lie.
        free_surface: (3, 3) [m^4] second moments of the liquids' surfaces, each about its own
            middle, times the liquid's density over the water's.
    """

    energy: float
    residual: float
    gradient: Vector
    hessian: FloatArray
    below: Integrals
    weight: WaterWeight
    free_surface: FloatArray


class AtRest(NamedTuple):
    """Where a boat that was let go comes to rest.

    Attributes:
        up: unit vector.
        offset: [m] of the water along it, from the mesh's centre.
        steps: that were tried on the way.
        state: there.
    """

    up: Vector
    offset: float
    steps: int
    state: State


class HeldRow(NamedTuple):
    """A boat held at a heel, in twelve numbers: the columns of the rows of a lever curve.

    Attributes:
        heel: [rad] positive to starboard.
        to_port: [m] arm of the couple that turns her to port.
        slope: [m/rad] of it by heel, trim and water going along.
        trim: [rad] positive by the stern.
        offset: [m] of the water along up.
        trim_rate: [rad/rad] of the trim by heel.
        offset_rate: [m/rad] of the offset by heel.
        energy: [m^4] as `State.energy`.
        trim_stiffness: [m] metacentric height lengthwise: what resists a change of trim.
        evaluations: how many states were taken to find it.
        residual: [-] as `State.residual`, of volume and trim alone.
        leapt: [-] 1.0 where the trim does not lead on from that at the heel before, else 0.0.
    """

    heel: float
    to_port: float
    slope: float
    trim: float
    offset: float
    trim_rate: float
    offset_rate: float
    energy: float
    trim_stiffness: float
    evaluations: float
    residual: float
    leapt: float


(
    HEEL,
    TO_PORT,
    SLOPE,
    TRIM,
    OFFSET,
    TRIM_RATE,
    OFFSET_RATE,
    ENERGY,
    TRIM_STIFFNESS,
    EVALUATIONS,
    RESIDUAL,
    LEAPT,
) = range(len(HeldRow._fields))
"""Columns of a row, in the order of `HeldRow`."""

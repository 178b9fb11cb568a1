"""Integrals over what lies below a plane, and the plane that has a volume below it.

Exact for flat faces. The volume is the sum of the tetrahedra between a point of the plane and
every wet face, so that the waterplane itself adds nothing; the waterplane is summed along its
edges (Green). Both faces at an edge agree on which of its ends is wet, so that the waterplane's
outline closes without any tolerance.
"""

import numpy as np

from hullchange.floating.kernel import below_plane_numpy
from hullchange.floating.kernel.below_plane_numpy import MARGIN
from hullchange.floating.kernel.compiled import COMPILES, entry, inner
from hullchange.floating.kernel.shapes import (
    AREA,
    AREA_VECTOR,
    COLUMNS,
    HALF_SIZE,
    MIDDLE,
    MIXED,
    MOMENT,
    ROWS,
    SIX_VOLUME,
    Integrals,
    Mesh,
    Tanks,
    Vector,
)
from hullchange.floating.kernel.vectors import cross, dot, minus
from hullchange.geometry.frame import FloatArray

SUMS = 15
VOLUME_6, MOMENT_24_X, MOMENT_24_Y, MOMENT_24_Z = 0, 1, 2, 3
AREA_2, AREA_6_X, AREA_6_Y, AREA_6_Z = 4, 5, 6, 7
AREA_24_XX, AREA_24_YY, AREA_24_ZZ, AREA_24_XY, AREA_24_XZ, AREA_24_YZ = 8, 9, 10, 11, 12, 13
WETTED = 14
"""The running sums of a pass: `Integrals` times the number in the name, divided at the end."""

SIXTH, TWENTY_FOURTH = 1.0 / 6.0, 1.0 / 24.0

FULL = 1e-9
"""of a tank: with less air than that it is full and has no free surface. Newton would divide by
a waterplane that shrinks to a corner. Tried: 1e-12 to 1e-6 are alike."""

MOST_LEVELS = 100
"""Planes tried for a volume. Of 750 levels in odd bodies 747 took 2 to 18, the others all."""

FINEST = 1e-16
"""of the radius: a bracket as narrow as that is two numbers next to each other."""


@inner
def _between(a: Vector, b: Vector, part: float) -> Vector:
    return (
        a[0] + (b[0] - a[0]) * part,
        a[1] + (b[1] - a[1]) * part,
        a[2] + (b[2] - a[2]) * part,
    )


@inner
def _add_tetrahedron(sums: FloatArray, a: Vector, b: Vector, c: Vector) -> None:
    """Adds the signed tetrahedron between the reference point and a face, and the face."""
    normal = cross(minus(b, a), minus(c, a))
    six_volume = dot(a, normal)
    sums[VOLUME_6] += six_volume
    sums[MOMENT_24_X] += six_volume * (a[0] + b[0] + c[0])
    sums[MOMENT_24_Y] += six_volume * (a[1] + b[1] + c[1])
    sums[MOMENT_24_Z] += six_volume * (a[2] + b[2] + c[2])
    sums[WETTED] += 0.5 * np.sqrt(normal[0] ** 2 + normal[1] ** 2 + normal[2] ** 2)


@inner
def _add_edge(sums: FloatArray, p: Vector, q: Vector, up: Vector) -> None:
    """Adds the signed triangle of the waterplane over its edge from q to p."""
    w = dot(up, cross(q, p))
    sx, sy, sz = p[0] + q[0], p[1] + q[1], p[2] + q[2]
    sums[AREA_2] += w
    sums[AREA_6_X] += w * sx
    sums[AREA_6_Y] += w * sy
    sums[AREA_6_Z] += w * sz
    sums[AREA_24_XX] += w * (sx * sx + p[0] * p[0] + q[0] * q[0])
    sums[AREA_24_YY] += w * (sy * sy + p[1] * p[1] + q[1] * q[1])
    sums[AREA_24_ZZ] += w * (sz * sz + p[2] * p[2] + q[2] * q[2])
    sums[AREA_24_XY] += w * (sx * sy + p[0] * p[1] + q[0] * q[1])
    sums[AREA_24_XZ] += w * (sx * sz + p[0] * p[2] + q[0] * q[2])
    sums[AREA_24_YZ] += w * (sy * sz + p[1] * p[2] + q[1] * q[2])


@inner
def _add_cut_face(
    sums: FloatArray, corners: tuple[Vector, Vector, Vector], heights: Vector, up: Vector
) -> None:
    """Adds what is wet of a face that the plane cuts."""
    a, b, c = corners
    ha, hb, hc = heights
    if (ha < 0.0) == (hc < 0.0):
        a, b, c, ha, hb, hc = b, c, a, hb, hc, ha
    elif (ha < 0.0) == (hb < 0.0):
        a, b, c, ha, hb, hc = c, a, b, hc, ha, hb
    # now a is alone on its side
    p = _between(a, b, ha / (ha - hb))
    q = _between(a, c, ha / (ha - hc))
    if ha < 0.0:
        _add_tetrahedron(sums, a, p, q)
        _add_edge(sums, p, q, up)
    else:
        _add_tetrahedron(sums, p, b, c)
        _add_tetrahedron(sums, p, c, q)
        _add_edge(sums, q, p, up)


@inner
def _add_whole_block(
    sums: FloatArray, block_sums: FloatArray, block: int, reference: Vector
) -> None:
    """Adds a block that is wet as a whole: its moments, moved to the reference point."""
    px, py, pz = reference
    six_volume = (
        block_sums[block, SIX_VOLUME]
        - px * block_sums[block, AREA_VECTOR]
        - py * block_sums[block, AREA_VECTOR + 1]
        - pz * block_sums[block, AREA_VECTOR + 2]
    )
    sums[VOLUME_6] += six_volume
    for axis in range(3):
        mixed = MIXED + 3 * axis
        across = (
            px * block_sums[block, mixed]
            + py * block_sums[block, mixed + 1]
            + pz * block_sums[block, mixed + 2]
        )
        moment = block_sums[block, MOMENT + axis] - across
        sums[MOMENT_24_X + axis] += moment - 3.0 * reference[axis] * six_volume
    sums[WETTED] += block_sums[block, AREA]


@inner
def _corner(vertices: FloatArray, number: int, reference: Vector) -> Vector:
    return (
        vertices[number, 0] - reference[0],
        vertices[number, 1] - reference[1],
        vertices[number, 2] - reference[2],
    )


@inner
def _add_faces(sums: FloatArray, mesh: Mesh, block: int, up: Vector, reference: Vector) -> None:
    """Adds the faces of a block one by one: a corner below zero, strictly, is wet."""
    vertices, faces, areas = mesh.vertices, mesh.faces, mesh.areas
    volume = mx = my = mz = area = 0.0
    for f in range(mesh.block_starts[block], mesh.block_starts[block + 1]):
        a = _corner(vertices, faces[f, 0], reference)
        b = _corner(vertices, faces[f, 1], reference)
        c = _corner(vertices, faces[f, 2], reference)
        ha, hb, hc = dot(a, up), dot(b, up), dot(c, up)
        if ha < 0.0 and hb < 0.0 and hc < 0.0:
            # a . (b x c) is a . (b - a) x (c - a)
            six_volume = dot(a, cross(b, c))
            volume += six_volume
            mx += six_volume * (a[0] + b[0] + c[0])
            my += six_volume * (a[1] + b[1] + c[1])
            mz += six_volume * (a[2] + b[2] + c[2])
            area += areas[f]
        elif ha < 0.0 or hb < 0.0 or hc < 0.0:
            _add_cut_face(sums, (a, b, c), (ha, hb, hc), up)
    sums[VOLUME_6] += volume
    sums[MOMENT_24_X] += mx
    sums[MOMENT_24_Y] += my
    sums[MOMENT_24_Z] += mz
    sums[WETTED] += area


@inner
def _extent(boxes: FloatArray, block: int, up: Vector) -> tuple[float, float]:
    """Height of the middle of a block's box, and how far the block reaches from it at most."""
    reach = MARGIN
    height = 0.0
    for axis in range(3):
        height += boxes[block, MIDDLE, axis] * up[axis]
        reach += boxes[block, HALF_SIZE, axis] * abs(up[axis])
    return height, reach


@inner
def _integrals(sums: FloatArray) -> Integrals:
    return Integrals(
        sums[VOLUME_6] * SIXTH,
        (
            sums[MOMENT_24_X] * TWENTY_FOURTH,
            sums[MOMENT_24_Y] * TWENTY_FOURTH,
            sums[MOMENT_24_Z] * TWENTY_FOURTH,
        ),
        sums[AREA_2] * 0.5,
        (sums[AREA_6_X] * SIXTH, sums[AREA_6_Y] * SIXTH, sums[AREA_6_Z] * SIXTH),
        (
            sums[AREA_24_XX] * TWENTY_FOURTH,
            sums[AREA_24_YY] * TWENTY_FOURTH,
            sums[AREA_24_ZZ] * TWENTY_FOURTH,
            sums[AREA_24_XY] * TWENTY_FOURTH,
            sums[AREA_24_XZ] * TWENTY_FOURTH,
            sums[AREA_24_YZ] * TWENTY_FOURTH,
        ),
        sums[WETTED],
    )


@entry
def integrals_by_blocks(mesh: Mesh, up: Vector, offset: float) -> Integrals:
    """The integrals; only blocks of faces that the plane cuts are looked into.

    Args:
        mesh: a closed surface.
        up: unit vector.
        offset: [m] of the plane along ``up``, from the mesh's centre.
    """
    reference = (up[0] * offset, up[1] * offset, up[2] * offset)
    sums = np.zeros(SUMS)
    for block in range(len(mesh.block_sums)):
        height, reach = _extent(mesh.block_boxes, block, up)
        if height + reach < offset:
            _add_whole_block(sums, mesh.block_sums, block, reference)
        elif height - reach <= offset:
            _add_faces(sums, mesh, block, up, reference)
    return _integrals(sums)


integrals = integrals_by_blocks if COMPILES else below_plane_numpy.integrals


@entry
def level(mesh: Mesh, up: Vector, volume: float, nearly: float) -> tuple[float, Integrals]:
    """The offset that holds a volume below the plane, and the integrals there.

    Newton on a function that only rises, kept between brackets that halve where it leads out.

    Args:
        mesh: a closed surface.
        up: unit vector.
        volume: [m^3].
        nearly: fraction of the volume that may be missing.

    Returns:
        [m] from the mesh's centre, and the integrals.
    """
    low, high, offset = -mesh.radius, mesh.radius, 0.0
    below = integrals(mesh, up, high)
    if volume >= (1.0 - FULL) * below.volume:
        return high, below
    for _ in range(MOST_LEVELS):
        below = integrals(mesh, up, offset)
        excess = below.volume - volume
        if excess > 0.0:
            high = offset
        else:
            low = offset
        if abs(excess) <= nearly * volume or high - low <= FINEST * mesh.radius:
            break
        offset = offset - excess / below.area if below.area > 0.0 else low
        if not low < offset < high:
            offset = 0.5 * (low + high)
    return offset, below


@inner
def tank(tanks: Tanks, number: int) -> Mesh:
    """The surface of one of several tanks."""
    every, first, end = (
        tanks.surfaces,
        tanks.first_blocks[number],
        tanks.first_blocks[number + 1],
    )
    return Mesh(
        every.vertices,
        every.faces,
        every.areas,
        every.block_starts[first : end + 1],
        every.block_sums[first:end],
        every.block_boxes[first:end],
        (tanks.centres[number, 0], tanks.centres[number, 1], tanks.centres[number, 2]),
        tanks.radii[number],
    )


@inner
def add_second_moments(
    out: FloatArray, below: Integrals, factor: float, about_middle: float
) -> None:
    """Adds the waterplane's second moments, times a factor.

    Args:
        out: (3, 3) [m^4] that is added to.
        below: whose waterplane.
        factor: [-].
        about_middle: [-] 1.0 about the waterplane's own middle, 0.0 about the reference point.
    """
    area = below.area if below.area > 0.0 else 1.0
    first = below.area_moment
    for m in range(6):
        i, j = ROWS[m], COLUMNS[m]
        moved = about_middle * first[i] * first[j] / area
        out[i, j] += factor * (below.area_second[m] - moved)
        out[j, i] = out[i, j]

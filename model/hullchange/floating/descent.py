"""The inner loops: integrals below a plane, the way down to rest, the way round held at heels.

Written so that the same lines run compiled or as plain Python; everything compiled is in this
one file, longer than others, because kept machine code does not notice that another file has
changed.
"""

from typing import TypeAlias

import numpy as np

from hullchange.floating import integrals_numpy
from hullchange.floating.compiled import COMPILES, compiled
from hullchange.floating.integrals_numpy import COLUMNS, MARGIN, ROWS
from hullchange.floating.mesh import TENTHS, Case, Mesh, State, Tanks
from hullchange.geometry.frame import FloatArray

Point: TypeAlias = tuple[float, float, float]

TOLERANCE = 1e-12
ROUND_OFF = 1e-13
FIRST_RADIUS = 0.2
LARGEST_RADIUS = 0.5
NUDGE = np.pi / 180.0
MOST_STEPS = 200
UPRIGHT = 0.98  # of up: a start within 11 degrees of it
CREEP = 2.0 * np.pi / 180.0  # heel of one step from there
SMALLEST_RADIUS = 1e-13
FULL = 1e-9
NEUTRAL = 1e-11
CLOSE = 1e-8
MOST_TRIES = 8
ASTRAY = np.pi / 36.0
SAME = 1e-6
FAR = 0.1
STIR = 3e-4
SHARE = np.array([4.0] + 3 * [1.0] + [12.0] + 3 * [4.0] + 6 * [1.0] + [24.0]) / 24.0


@compiled
def _cross(a: Point, b: Point) -> Point:
    return (
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    )


@compiled
def _between(a: Point, b: Point, part: float) -> Point:
    return (
        a[0] + (b[0] - a[0]) * part,
        a[1] + (b[1] - a[1]) * part,
        a[2] + (b[2] - a[2]) * part,
    )


@compiled
def _add_tetrahedron(out: FloatArray, a: Point, b: Point, c: Point) -> None:
    """Adds the signed tetrahedron between the reference point and a face."""
    square = _cross(
        (b[0] - a[0], b[1] - a[1], b[2] - a[2]), (c[0] - a[0], c[1] - a[1], c[2] - a[2])
    )
    six_volume = a[0] * square[0] + a[1] * square[1] + a[2] * square[2]
    out[0] += six_volume
    out[1] += six_volume * (a[0] + b[0] + c[0])
    out[2] += six_volume * (a[1] + b[1] + c[1])
    out[3] += six_volume * (a[2] + b[2] + c[2])
    out[14] += 0.5 * np.sqrt(square[0] ** 2 + square[1] ** 2 + square[2] ** 2)


@compiled
def _add_edge(out: FloatArray, p: Point, q: Point, up: Point) -> None:
    """Adds an edge q to p of the waterplane (Green)."""
    normal = _cross(q, p)
    w = up[0] * normal[0] + up[1] * normal[1] + up[2] * normal[2]
    sx, sy, sz = p[0] + q[0], p[1] + q[1], p[2] + q[2]
    out[4] += w
    out[5] += w * sx
    out[6] += w * sy
    out[7] += w * sz
    out[8] += w * (sx * sx + p[0] * p[0] + q[0] * q[0])
    out[9] += w * (sy * sy + p[1] * p[1] + q[1] * q[1])
    out[10] += w * (sz * sz + p[2] * p[2] + q[2] * q[2])
    out[11] += w * (sx * sy + p[0] * p[1] + q[0] * q[1])
    out[12] += w * (sx * sz + p[0] * p[2] + q[0] * q[2])
    out[13] += w * (sy * sz + p[1] * p[2] + q[1] * q[2])


@compiled
def _add_cut(
    out: FloatArray, corners: tuple[Point, Point, Point], heights: Point, up: Point
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
        _add_tetrahedron(out, a, p, q)
        _add_edge(out, p, q, up)
    else:
        _add_tetrahedron(out, p, b, c)
        _add_tetrahedron(out, p, c, q)
        _add_edge(out, q, p, up)


@compiled
def _add_block(out: FloatArray, sums: FloatArray, block: int, reference: Point) -> None:
    """Adds a block that is wet as a whole."""
    px, py, pz = reference
    six_volume = (
        sums[block, 0] - px * sums[block, 1] - py * sums[block, 2] - pz * sums[block, 3]
    )
    out[0] += six_volume
    for axis in range(3):
        row = 7 + 3 * axis
        across = px * sums[block, row] + py * sums[block, row + 1] + pz * sums[block, row + 2]
        out[1 + axis] += sums[block, 4 + axis] - across - 3.0 * reference[axis] * six_volume
    out[14] += sums[block, 16]


@compiled
def _add_faces(out: FloatArray, mesh: Mesh, block: int, up: Point, reference: Point) -> None:
    """Adds the faces of a block one by one: a corner below zero, strictly, is wet."""
    vertices, faces, areas = mesh[0], mesh[1], mesh[2]
    px, py, pz = reference
    volume = mx = my = mz = area = 0.0
    for f in range(mesh[3][block], mesh[3][block + 1]):
        i, j, k = faces[f, 0], faces[f, 1], faces[f, 2]
        a = (vertices[i, 0] - px, vertices[i, 1] - py, vertices[i, 2] - pz)
        b = (vertices[j, 0] - px, vertices[j, 1] - py, vertices[j, 2] - pz)
        c = (vertices[k, 0] - px, vertices[k, 1] - py, vertices[k, 2] - pz)
        ha = a[0] * up[0] + a[1] * up[1] + a[2] * up[2]
        hb = b[0] * up[0] + b[1] * up[1] + b[2] * up[2]
        hc = c[0] * up[0] + c[1] * up[1] + c[2] * up[2]
        if ha < 0.0 and hb < 0.0 and hc < 0.0:
            square = _cross(b, c)
            six_volume = a[0] * square[0] + a[1] * square[1] + a[2] * square[2]
            volume += six_volume
            mx += six_volume * (a[0] + b[0] + c[0])
            my += six_volume * (a[1] + b[1] + c[1])
            mz += six_volume * (a[2] + b[2] + c[2])
            area += areas[f]
        elif ha < 0.0 or hb < 0.0 or hc < 0.0:
            _add_cut(out, (a, b, c), (ha, hb, hc), up)
    out[0] += volume
    out[1] += mx
    out[2] += my
    out[3] += mz
    out[14] += area


@compiled
def _extent(boxes: FloatArray, block: int, up: Point) -> tuple[float, float]:
    """Height of the middle of a block's box, and how far the block reaches from it at most."""
    reach = MARGIN
    height = 0.0
    for axis in range(3):
        height += boxes[block, axis] * up[axis]
        reach += boxes[block, 3 + axis] * abs(up[axis])
    return height, reach


@compiled
def block_pass(mesh: Mesh, up: FloatArray, offset: float) -> FloatArray:
    """(15,) integrals below a plane; only blocks of faces that it cuts are looked into.

    Both faces at an edge agree on which of its ends is wet, so the waterplane's outline
    closes; no tolerance anywhere.

    Args:
        mesh: arrays of a closed surface.
        up: (3,) unit vector.
        offset: [m] of the plane along ``up``, from the mesh's centre.

    Returns:
        Volume; its first moment (3); waterplane area; its first (3) and second (xx, yy, zz, xy,
        xz, yz) moments; area of the faces. All about ``up * offset``. [m]
    """
    n = (up[0], up[1], up[2])
    reference = (n[0] * offset, n[1] * offset, n[2] * offset)
    out = np.zeros(15)
    for block in range(len(mesh[4])):
        height, reach = _extent(mesh[5], block, n)
        if height + reach < offset:
            _add_block(out, mesh[4], block, reference)
        elif height - reach <= offset:
            _add_faces(out, mesh, block, n, reference)
    for i in range(15):
        out[i] *= SHARE[i]
    return out


moments = block_pass if COMPILES else integrals_numpy.moments


@compiled
def level(mesh: Mesh, up: FloatArray, volume: float, nearly: float) -> tuple[float, FloatArray]:
    """The offset that holds a volume below the plane, and the integrals there.

    Newton on a function that only rises, kept between brackets; ``nearly`` is the fraction of
    the volume that may be missing. What is full has no surface.
    """
    low, high, offset = -mesh[7], mesh[7], 0.0
    below = moments(mesh, up, high)
    if volume >= (1.0 - FULL) * below[0]:
        return high, below
    for _ in range(100):
        below = moments(mesh, up, offset)
        excess = below[0] - volume
        if excess > 0.0:
            high = offset
        else:
            low = offset
        if abs(excess) <= nearly * volume or high - low <= 1e-16 * mesh[7]:
            break
        offset = offset - excess / below[4] if below[4] > 0.0 else low
        if not low < offset < high:
            offset = 0.5 * (low + high)
    return offset, below


@compiled
def _tank(tanks: Tanks, t: int) -> Mesh:
    v, f, b = tanks[7][t, 0], tanks[7][t, 1], tanks[7][t, 2]
    w, g, c = tanks[7][t + 1, 0], tanks[7][t + 1, 1], tanks[7][t + 1, 2]
    # each tank has one more block start than blocks
    own = tanks[3][b + t : c + t + 1], tanks[4][b:c], tanks[5][b:c], tanks[6][t, :3]
    return (tanks[0][v:w], tanks[1][f:g], tanks[2][f:g], *own, tanks[6][t, 3])


@compiled
def _add_second(out: FloatArray, values: FloatArray, share: float, about_centre: float) -> None:
    """Adds a share of second moments (3, 3), about the waterplane's centre where asked."""
    area = values[4] if values[4] > 0.0 else 1.0
    for m in range(6):
        i, j = ROWS[m], COLUMNS[m]
        moved = about_centre * values[5 + i] * values[5 + j] / area
        out[i, j] += share * (values[8 + m] - moved)
        out[j, i] = out[i, j]


@compiled
def _liquids(case: Case, up: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Weight (4,) with the liquids as they lie, and their give (3, 3)."""
    mesh, tanks = case[0], case[1]
    weight = case[2].copy()
    give = np.zeros((3, 3))
    for t in range(len(tanks[8])):
        volume, ratio = tanks[8][t, 0], tanks[8][t, 1]
        tank = _tank(tanks, t)
        offset, below = level(tank, up, volume, 1e-13)
        weight[0] += ratio * volume
        for i in range(3):
            arm = up[i] * offset + tank[6][i] - mesh[6][i]
            weight[1 + i] += ratio * (below[1 + i] + volume * arm)
        _add_second(give, below, ratio, 1.0)
    return weight, give


@compiled
def _dot(a: FloatArray, b: FloatArray) -> float:
    return float(a[0] * b[0] + a[1] * b[1] + a[2] * b[2])


@compiled
def _product(matrix: FloatArray, vector: FloatArray) -> FloatArray:
    out: FloatArray = matrix @ vector
    return out


@compiled
def tilts(up: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Unit vectors (3,) square to up: where heel to starboard and trim by the stern take it."""
    x, y, z = up[0], up[1], up[2]
    across = np.sqrt(y * y + z * z)
    hy, hz = (-z / across, y / across) if across > 1e-6 else (-1.0, 0.0)
    return np.array([0.0, hy, hz]), np.array([hy * z - hz * y, hz * x, -hy * x])


@compiled
def turned(up: FloatArray, heel: float, trim: float) -> FloatArray:
    """Up (3,) turned along the great circle that starts by both angles [rad]."""
    to_starboard, aft = tilts(up)
    angle = np.sqrt(heel * heel + trim * trim)
    share = np.sin(angle) / angle if angle > 0.0 else 1.0
    out = np.empty(3)
    for i in range(3):
        out[i] = up[i] * np.cos(angle) + (to_starboard[i] * heel + aft[i] * trim) * share
    unit: FloatArray = out / np.sqrt(_dot(out, out))
    return unit


@compiled
def state(case: Case, up: FloatArray, offset: float) -> State:
    """What the boat strives for at an attitude."""
    below = moments(case[0], up, offset)
    weight, give = _liquids(case, up)
    volume, unit = weight[0], case[3]
    energy = _dot(up, weight[1:4]) - volume * offset - _dot(up, below[1:4])
    lever, second = np.empty(3), np.zeros((3, 3))
    for i in range(3):
        lever[i] = weight[1 + i] - below[1 + i] - below[0] * offset * up[i]
    _add_second(second, below, 1.0, 0.0)
    second -= give
    ways = tilts(up)
    slope, bend = np.empty(3), np.empty((3, 3))
    slope[0] = unit * (below[0] - volume)
    bend[0, 0] = unit * unit * below[4]
    for i in range(2):
        slope[1 + i] = _dot(ways[i], lever)
        bend[0, 1 + i] = bend[1 + i, 0] = -unit * _dot(ways[i], below[5:8])
        pulled = second @ ways[i]
        bend[1 + i, 1] = _dot(ways[0], pulled)
        bend[1 + i, 2] = _dot(ways[1], pulled)
        bend[1 + i, 1 + i] -= _dot(up, lever)
    if case[4] == 0.0:
        slope[1] = bend[0, 1] = bend[1, 0] = bend[1, 2] = bend[2, 1] = 0.0
        bend[1, 1] = bend[0, 0] + abs(bend[2, 2])
    levers = max(abs(slope[1]), abs(slope[2])) / TENTHS
    residual = max(abs(slope[0]), levers) / (volume * unit)
    return energy, residual, slope, bend, below, weight, give


@compiled
def bounded_step(slope: FloatArray, bend: FloatArray, radius: float) -> FloatArray:
    """The step (3,) within a radius that takes a quadratic lowest.

    On a saddle, where nothing tells its two sides apart, it goes to starboard.
    """
    bends, axes = np.linalg.eigh(bend)
    along = -(axes.T @ slope)
    if bends[0] > 1e-14 * bends[2]:
        free = along / bends
        if _dot(free, free) <= radius * radius:
            return _product(axes, free)
    stiffer = max(0.0, -bends[0])
    if abs(along[0]) <= 1e-13 * bends[2]:
        along[0] = 0.0
        rest = along / np.maximum(bends + stiffer, 1e-14 * bends[2])
        over = radius * radius - _dot(rest, rest)
        if over >= 0.0:
            rest[0] = np.sqrt(over) if axes[1, 0] >= 0.0 else -np.sqrt(over)
            return _product(axes, rest)
    low, high = stiffer, stiffer + np.sqrt(_dot(along, along)) / radius
    for _ in range(60):
        stiffer = 0.5 * (low + high)
        step = along / (bends + stiffer)
        if _dot(step, step) > radius * radius:
            low = stiffer
        else:
            high = stiffer
    return _product(axes, along / (bends + high))


@compiled
def _off_the_saddle(bend: FloatArray) -> FloatArray:
    """One degree (3,) down from a point of rest, or nothing where it is a trough."""
    bends, axes = np.linalg.eigh(bend)
    if bends[0] > -NEUTRAL * bends[2]:
        return np.zeros(3)
    return _product(axes, np.array([NUDGE if axes[1, 0] >= 0.0 else -NUDGE, 0.0, 0.0]))


@compiled
def _share_of_promise(here: State, there: State, step: FloatArray, offset: float) -> float:
    """Share of the promised fall in energy that came; at round-off, by the residual."""
    promised = -_dot(here[2], step) - 0.5 * _dot(step, here[3] @ step)
    floor = 50.0 * ROUND_OFF * (abs(here[0]) + here[5][0] * abs(offset))
    if promised < floor:
        return 0.5 if there[1] < here[1] else 0.0
    return (here[0] - there[0]) / promised


@compiled
def _next_radius(radius: float, share: float, size: float) -> float:
    """Wider after a step that kept its promise, narrower after one that did not."""
    if share > 0.75 and size > 0.99 * radius:
        return min(2.0 * radius, LARGEST_RADIUS)
    if share < 0.25:
        return radius * (0.5 if share > 1e-4 else 0.25)
    return radius


@compiled
def descend(case: Case, up: FloatArray, offset: float) -> tuple[FloatArray, float, int, State]:
    """The trough below a start: up (3,), offset, steps taken, and the state there.

    Where a start is out by more than ``FAR`` of the volume, its offset is found first. Stops
    where volume and levers are right to ``TOLERANCE`` of the volume and of the beam, or where
    round-off stops it; the caller looks at the residual. Let go upright she heels in small
    steps, so that she comes to rest in the first trough on her way and not in one beyond it.
    """
    creeps, crept = up[2] > UPRIGHT, False
    here = state(case, up, offset)
    if not abs(here[4][0] - here[5][0]) < FAR * here[5][0]:
        offset, _ = level(case[0], up, here[5][0], FAR)
        here = state(case, up, offset)
    radius = FIRST_RADIUS
    steps = 0
    while steps < MOST_STEPS and radius > SMALLEST_RADIUS:
        at_rest = here[1] < TOLERANCE
        step = _off_the_saddle(here[3]) if at_rest else bounded_step(here[2], here[3], radius)
        if creeps and abs(step[1]) > CREEP:
            step, crept = step * (CREEP / abs(step[1])), True
        size = np.sqrt(_dot(step, step))
        if size == 0.0 and crept:  # the trough was reached slowly: once more, in full
            step, crept = bounded_step(here[2], here[3], radius), False
            size = np.sqrt(_dot(step, step))
        if size == 0.0:
            break
        steps += 1
        up_there, offset_there = turned(up, step[1], step[2]), offset + case[3] * step[0]
        there = state(case, up_there, offset_there)
        share = 1.0 if at_rest else _share_of_promise(here, there, step, offset)
        if share > 1e-4:
            up, offset, here = up_there, offset_there, there
        radius = _next_radius(radius, share, size)
    return up, offset, steps, here


@compiled
def metacentric_height(case: Case, up: FloatArray, offset: float) -> float:
    """Transverse [m] at an attitude, free surfaces taken off."""
    _, _, _, _, below, weight, give = state(case, up, offset)
    across = tilts(up)[0]
    inertia = np.zeros((3, 3))
    _add_second(inertia, below, 1.0, 1.0)
    inertia -= give
    above = below[1:4] / below[0] + offset * up - weight[1:4] / weight[0]
    height: float = _dot(across, _product(inertia, across)) / below[0] + _dot(above, up)
    return height


@compiled
def metacentric_slopes(case: Case, up: FloatArray, offset: float) -> FloatArray:
    """(3,) change of `metacentric_height` by rise [m], heel and trim [rad], weights at rest.

    The boat turns about the point of the plane nearest the mesh's centre. Central differences.
    """
    slopes = np.empty(3)
    for k in range(3):
        ends = np.empty(2)
        for side in range(2):
            step = STIR if side == 0 else -STIR
            there = turned(up, step if k == 1 else 0.0, step if k == 2 else 0.0)
            rise = step * case[3] if k == 0 else 0.0
            ends[side] = metacentric_height(case, there, offset * _dot(up, there) + rise)
        slopes[k] = (ends[0] - ends[1]) / (2.0 * STIR * (case[3] if k == 0 else 1.0))
    return slopes


@compiled
def _yielding(bend: FloatArray, pushed: float, trimmed: float, least: float) -> Point:
    """Offset in its unit and trim that answer two forces, and what resists the trim.

    Nothing answers where nothing resists by more than ``least``.
    """
    if not bend[0, 0] > 0.0:
        return 0.0, 0.0, 0.0
    resists = bend[2, 2] - bend[0, 2] * bend[0, 2] / bend[0, 0]
    trim = 0.0
    if resists > least:
        trim = (trimmed - bend[0, 2] * pushed / bend[0, 0]) / resists
    return (pushed - bend[0, 2] * trim) / bend[0, 0], trim, resists


@compiled
def _up_at(heel: float, trim: float) -> FloatArray:
    across = np.cos(trim)
    return np.array([-np.sin(trim), -across * np.sin(heel), across * np.cos(heel)])


@compiled
def _row(
    case: Case, attitude: Point, here: State, evaluations: int, leapt: float
) -> FloatArray:
    """What is kept of a boat held at a heel (12,): `hullchange.floating.heeled` names it."""
    heel, trim, offset = attitude
    slope, bend, volume, unit = here[2], here[3], here[5][0], case[3]
    least = NEUTRAL * volume * unit * TENTHS
    c, s = np.cos(trim), np.sin(trim)
    rise, turn, resists = _yielding(bend, -c * bend[0, 1], s * slope[1] - c * bend[1, 2], least)
    steeper = c * bend[1, 1] + bend[0, 1] * rise + bend[1, 2] * turn
    missing = max(abs(slope[0]), abs(slope[2]) / TENTHS) / (volume * unit)
    levers = (heel, slope[1] / volume, steeper / volume)
    rates = (turn, rise * unit, here[0], resists / volume)
    return np.array([*levers, trim, offset, *rates, float(evaluations), missing, leapt])


@compiled
def _settled(case: Case, heel: float, trim: float, offset: float) -> tuple[FloatArray, bool]:
    """Newton at a held heel: its row, and whether it came to rest near where it began.

    A last step that is no longer than ``CLOSE`` needs no look at where it leads.
    """
    first, unit = trim, case[3]
    row = np.zeros(12)
    for tries in range(MOST_TRIES):
        here = state(case, _up_at(heel, trim), offset)
        row = _row(case, (heel, trim, offset), here, tries + 1, 0.0)
        least = NEUTRAL * here[5][0] * unit * TENTHS
        rise, turn, resists = _yielding(here[3], -here[2][0], -here[2][2], least)
        if not resists > least or abs(trim + turn - first) > ASTRAY:
            return row, False
        trim, offset = trim + turn, offset + rise * unit
        if row[10] < CLOSE:
            row[1] += (here[3][0, 1] * rise + here[3][1, 2] * turn) / here[5][0]
            row[3], row[4], row[10] = trim, offset, row[10] * row[10]
            return row, True
    return row, False


@compiled
def _ahead(before: FloatArray, last: FloatArray, heel: float, value: int, rate: int) -> float:
    """A value further on, by the cubic through two rows and their rates, or straight on."""
    step, past = heel - last[0], last[0] - before[0]
    straight = last[value] + step * last[rate]
    if last[11] > 0.0 or abs(step) >= 2.0 * abs(past):
        return float(straight)
    mean = (last[value] - before[value]) / past
    second = (last[rate] - mean) / past
    third = (last[rate] - 2.0 * mean + before[rate]) / (past * past)
    return float(straight + step * step * (second + (step + past) * third))


@compiled
def counted_from(rows: FloatArray, centre: FloatArray, sign: float) -> FloatArray:
    """Rows (n, 12) with offsets counted from so much of a point (3,) nearer."""
    moved = rows.copy()
    for row in moved:
        up, ch, sh = _up_at(row[0], row[3]), np.cos(row[0]), np.sin(row[0])
        ct, st, trim = np.cos(row[3]), np.sin(row[3]), row[5]
        turning = -ct * trim * centre[0]
        turning += (st * sh * trim - ct * ch) * centre[1]
        turning -= (st * ch * trim + ct * sh) * centre[2]
        row[4] += sign * _dot(up, centre)
        row[6] += sign * turning
    return moved


@compiled
def swept(case: Case, start: FloatArray, heels: FloatArray) -> FloatArray:
    """Rows (n, 12) of a boat held at one heel after the other, free to sink and trim.

    Where Newton does not come to rest near by she is let down to a trough, and the row is
    marked where the way back from there does not lead to the row before: her trim leapt.

    Args:
        case: with its heel free.
        start: (12,) a row at a heel near the first one; of a guess all but heel, trim and
            offset is zero.
        heels: (n,) [rad] in small steps.
    """
    held = (case[0], case[1], case[2], case[3], 0.0)
    rows = np.empty((len(heels), 12))
    before, last = start, start
    for k in range(len(heels)):
        heel = heels[k]
        trim, offset = _ahead(before, last, heel, 3, 5), _ahead(before, last, heel, 4, 6)
        row, came = _settled(case, heel, trim, offset)
        if not came:
            tried = row[9]
            up, offset, steps, _ = descend(held, _up_at(heel, last[3]), last[4])
            row, _ = _settled(case, heel, -np.arcsin(up[0]), offset)
            back = last[0] - heel
            trim, offset = row[3] + back * row[5], row[4] + back * row[6]
            there, same = _settled(case, last[0], trim, offset)
            if back != 0.0 and not (same and abs(there[3] - last[3]) < SAME):
                row[11] = 1.0
            row[9] += tried + steps + 1.0 + there[9]
        rows[k] = row
        before, last = last, rows[k]
    return rows


@compiled
def weight_slopes(case: Case, rows: FloatArray, water_density: float) -> FloatArray:
    """(n, 3, 4) derivatives of a held boat's arm, trim and offset by what she weighs.

    Exact: sinkage, trim and liquids follow, the heel is held. Columns: mass [kg], and its
    moments about the frame's origin [kg m].

    Args:
        case: with its heel free.
        rows: (n, 12) of the boat held at heels, offsets from the mesh's centre.
        water_density: [kg/m^3].
    """
    out = np.empty((len(rows), 3, 4))
    centre = case[0][6]
    for k in range(len(rows)):
        up = _up_at(rows[k, 0], rows[k, 3])
        here = state(case, up, rows[k, 4])
        ways = tilts(up)
        bend, volume, unit = here[3], here[5][0], case[3]
        least = NEUTRAL * volume * unit * TENTHS
        for i in range(4):
            pull, more = np.zeros(3), 0.0
            if i == 0:
                pull[:] = -centre
                more = 1.0
            else:
                pull[i - 1] = 1.0
            rise, turn, _ = _yielding(bend, unit * more, -_dot(ways[1], pull), least)
            couple = _dot(ways[0], pull) + bend[0, 1] * rise + bend[1, 2] * turn
            out[k, 0, i] = (couple - more * here[2][1] / volume) / volume
            out[k, 1, i] = turn
            out[k, 2, i] = rise * unit
    return out / water_density

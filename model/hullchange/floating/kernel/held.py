"""The way round: a boat held at one heel after the other, free to sink and trim.

``method.md`` beside this folder says how her trim is followed and where it is lost.
"""

from typing import NamedTuple

import numpy as np

from hullchange.floating.kernel.compiled import entry, inner
from hullchange.floating.kernel.descent import descend, state
from hullchange.floating.kernel.shapes import (
    LENGTHS_PER_BEAM,
    OFFSET,
    OFFSET_RATE,
    FloatingBody,
    HeldRow,
    State,
    Vector,
)
from hullchange.floating.kernel.vectors import dot, tilts, up_at
from hullchange.geometry.frame import FloatArray

# "Tried" means what it means in `hullchange.floating.kernel.descent`

NO_STIFFNESS = 1e-11
"""of displacement times beam: what resists a trim by less than this is round-off. Tried: 1e-14
to 1e-8 are alike."""

LAST_RESIDUAL = 1e-8
"""Newton squares the residual: from here the next step ends at round-off, unchecked. The slope
is that before this step, and as good. Tried: 1e-6 saves a tenth of the states and spoils the
eighth digit of slopes, 1e-10 costs a sixth more states."""

MOST_TRIES = 8
"""States looked at for one heel: 2 or 3 are usual. Tried: 6 to 20 are alike."""

OTHER_TRIM = np.pi / 36.0
"""[rad] Five degrees, as the largest step of heel: a trim further than this from the one
foreseen is another one. Tried: 1 to 30 degrees are alike but for a neutral body."""

SAME_TRIM = 1e-6
"""[rad] Two trims found at one heel from two sides are the same one within this. Tried: 1e-9 to
1e-3 are alike but for a neutral body."""


class Response(NamedTuple):
    """What a boat held at a heel does under a force up and a couple that trims her.

    Attributes:
        rise: of the water's offset [tenths of the beam].
        trim: [rad] by the stern.
        stiffness: [m^4] what resists the trim, the offset following.
    """

    rise: float
    trim: float
    stiffness: float


@inner
def _response(hessian: FloatArray, force: float, couple: float, least: float) -> Response:
    """Solves two lines of the Hessian (3, 3), for offset and trim.

    No trim answers where it is not resisted by more than ``least``; nothing answers where no
    water is cut.
    """
    if not hessian[0, 0] > 0.0:
        return Response(0.0, 0.0, 0.0)
    stiffness = hessian[2, 2] - hessian[0, 2] * hessian[0, 2] / hessian[0, 0]
    trim = 0.0
    if stiffness > least:
        trim = (couple - hessian[0, 2] * force / hessian[0, 0]) / stiffness
    return Response((force - hessian[0, 2] * trim) / hessian[0, 0], trim, stiffness)


@inner
def _row(body: FloatingBody, attitude: Vector, here: State, evaluations: int) -> HeldRow:
    """What is kept of a boat held at heel, trim and offset."""
    heel, trim, offset = attitude
    slope, hessian, volume, length = (
        here.gradient,
        here.hessian,
        here.weight.volume,
        body.length,
    )
    least = NO_STIFFNESS * volume * length * LENGTHS_PER_BEAM
    c, s = np.cos(trim), np.sin(trim)
    couple = s * slope[1] - c * hessian[1, 2]
    by_heel = _response(hessian, -c * hessian[0, 1], couple, least)
    steeper = c * hessian[1, 1] + hessian[0, 1] * by_heel.rise + hessian[1, 2] * by_heel.trim
    residual = max(abs(slope[0]), abs(slope[2]) / LENGTHS_PER_BEAM) / (volume * length)
    return HeldRow(
        heel,
        slope[1] / volume,
        steeper / volume,
        trim,
        offset,
        by_heel.trim,
        by_heel.rise * length,
        here.energy,
        by_heel.stiffness / volume,
        float(evaluations),
        residual,
        0.0,
    )


@inner
def _after_last_step(row: HeldRow, here: State, step: Response, attitude: Vector) -> HeldRow:
    """A row whose last step is taken without looking where it leads."""
    more = here.hessian[0, 1] * step.rise + here.hessian[1, 2] * step.trim
    return HeldRow(
        row.heel,
        row.to_port + more / here.weight.volume,
        row.slope,
        attitude[1],
        attitude[2],
        row.trim_rate,
        row.offset_rate,
        row.energy,
        row.trim_stiffness,
        row.evaluations,
        row.residual * row.residual,
        row.leapt,
    )


@inner
def _settled(
    body: FloatingBody, heel: float, trim: float, offset: float
) -> tuple[HeldRow, bool]:
    """Newton at a held heel: its row, and whether it came to rest near where it began."""
    first, length, tries = trim, body.length, 0
    while True:
        here = state(body, up_at(heel, trim), offset)
        tries += 1
        row = _row(body, (heel, trim, offset), here, tries)
        least = NO_STIFFNESS * here.weight.volume * length * LENGTHS_PER_BEAM
        step = _response(here.hessian, -here.gradient[0], -here.gradient[2], least)
        if not step.stiffness > least or abs(trim + step.trim - first) > OTHER_TRIM:
            return row, False
        trim, offset = trim + step.trim, offset + step.rise * length
        if row.residual < LAST_RESIDUAL:
            return _after_last_step(row, here, step, (heel, trim, offset)), True
        if tries == MOST_TRIES:
            return row, False


@inner
def _ahead(before: Vector, last: Vector, heel: float, straight: bool) -> float:
    """A value at a heel further on, by the cubic through two heels, or straight on.

    Args:
        before: heel [rad], value and its rate by heel at the heel before the last.
        last: the same at the last heel.
        heel: [rad].
        straight: whether the cubic would lead across a leap.
    """
    step, past = heel - last[0], last[0] - before[0]
    ahead = last[1] + step * last[2]
    if straight or abs(step) >= 2.0 * abs(past):
        return ahead
    mean = (last[1] - before[1]) / past
    second = (last[2] - mean) / past
    third = (last[2] - 2.0 * mean + before[2]) / (past * past)
    return ahead + step * step * (second + (step + past) * third)


@inner
def _foreseen(before: HeldRow, last: HeldRow, heel: float) -> tuple[float, float]:
    """Trim and offset at a heel further on."""
    leapt = last.leapt > 0.0
    trim = _ahead(
        (before.heel, before.trim, before.trim_rate),
        (last.heel, last.trim, last.trim_rate),
        heel,
        leapt,
    )
    offset = _ahead(
        (before.heel, before.offset, before.offset_rate),
        (last.heel, last.offset, last.offset_rate),
        heel,
        leapt,
    )
    return trim, offset


@inner
def _found_anew(row: HeldRow, evaluations: float, leapt: bool) -> HeldRow:
    """A row to which the trim did not lead on."""
    return HeldRow(
        row.heel,
        row.to_port,
        row.slope,
        row.trim,
        row.offset,
        row.trim_rate,
        row.offset_rate,
        row.energy,
        row.trim_stiffness,
        row.evaluations + evaluations,
        row.residual,
        1.0 if leapt else 0.0,
    )


@inner
def _row_from(rows: FloatArray, k: int) -> HeldRow:
    return HeldRow(
        rows[k, 0],
        rows[k, 1],
        rows[k, 2],
        rows[k, 3],
        rows[k, 4],
        rows[k, 5],
        rows[k, 6],
        rows[k, 7],
        rows[k, 8],
        rows[k, 9],
        rows[k, 10],
        rows[k, 11],
    )


@entry
def swept(body: FloatingBody, start: FloatArray, heels: FloatArray) -> FloatArray:
    """Rows (n, 12) [in the units of `Heeled`] of a boat held at one heel after the other.

    She is free to sink and to trim. Where Newton does not come to rest near by she is let down
    to a trough, and the row is marked where the way back from there does not lead to the row
    before: her trim leapt.

    Args:
        body: with its heel free.
        start: (1, 12) [in the same units] a row at a heel near the first one, offset from the
            mesh's centre; of a guess all but heel, trim and offset is zero.
        heels: (n,) [rad] in small steps.
    """
    held = FloatingBody(body.mesh, body.tanks, body.weight, body.length, 0.0)
    rows = np.empty((len(heels), start.shape[1]))
    before = last = _row_from(start, 0)
    for k in range(len(heels)):
        heel = heels[k]
        trim, offset = _foreseen(before, last, heel)
        row, came = _settled(body, heel, trim, offset)
        if not came:
            tried = row.evaluations
            rest = descend(held, up_at(heel, last.trim), last.offset)
            row, _ = _settled(body, heel, -np.arcsin(rest.up[0]), rest.offset)
            back = last.heel - heel
            trim, offset = row.trim + back * row.trim_rate, row.offset + back * row.offset_rate
            there, came = _settled(body, last.heel, trim, offset)
            same = came and abs(there.trim - last.trim) < SAME_TRIM
            tried += rest.steps + 1.0 + there.evaluations
            row = _found_anew(row, tried, back != 0.0 and not same)
        for column in range(len(row)):
            rows[k, column] = row[column]
        before, last = last, row
    return rows


@entry
def counted_from(rows: FloatArray, centre: Vector, sign: float) -> FloatArray:
    """Rows (n, 12) [in the units of `Heeled`], their offsets counted from another point.

    Args:
        rows: (n, 12) [in the units of `Heeled`].
        centre: [m] in the boat's frame.
        sign: [-] 1.0 where offsets were counted from that point, -1.0 where they shall be.
    """
    moved = rows.copy()
    for k in range(len(rows)):
        row = _row_from(rows, k)
        ch, sh = np.cos(row.heel), np.sin(row.heel)
        ct, st, trim = np.cos(row.trim), np.sin(row.trim), row.trim_rate
        turning = -ct * trim * centre[0]
        turning += (st * sh * trim - ct * ch) * centre[1]
        turning -= (st * ch * trim + ct * sh) * centre[2]
        moved[k, OFFSET] += sign * dot(up_at(row.heel, row.trim), centre)
        moved[k, OFFSET_RATE] += sign * turning
    return moved


@entry
def weight_slopes(body: FloatingBody, rows: FloatArray, water_density: float) -> FloatArray:
    """(n, 3, 4) derivatives of a held boat's arm, trim and offset by what she weighs.

    Exact: sinkage, trim and liquids follow, the heel is held. Columns: mass [kg], and its
    moments about the frame's origin [kg m].

    Args:
        body: with its heel free.
        rows: (n, 12) [in the units of `Heeled`] held at heels, offsets from the mesh's centre.
        water_density: [kg/m^3].
    """
    out = np.empty((len(rows), 3, 4))
    x, y, z = body.mesh.centre
    pulls = ((-x, -y, -z), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    for k in range(len(rows)):
        row = _row_from(rows, k)
        up = up_at(row.heel, row.trim)
        here = state(body, up, row.offset)
        to_starboard, aft = tilts(up)
        hessian, volume, length = here.hessian, here.weight.volume, body.length
        least = NO_STIFFNESS * volume * length * LENGTHS_PER_BEAM
        for i in range(4):
            more = 1.0 if i == 0 else 0.0
            step = _response(hessian, length * more, -dot(aft, pulls[i]), least)
            couple = dot(to_starboard, pulls[i]) + hessian[0, 1] * step.rise
            couple += hessian[1, 2] * step.trim
            out[k, 0, i] = (couple - more * here.gradient[1] / volume) / volume
            out[k, 1, i] = step.trim
            out[k, 2, i] = step.rise * length
    return out / water_density

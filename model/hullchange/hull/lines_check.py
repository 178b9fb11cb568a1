"""What is wrong with the lines of a hull, all in one go."""

from itertools import pairwise

import numpy as np

from hullchange.errors import DocumentError, Fault
from hullchange.geometry.frame import BoolArray, FloatArray
from hullchange.hull.lines import READING_SD, HullLine, LineInput, Lines, point_place
from hullchange.plain_words import id_in_words
from hullchange.units import mm_of_m

KNUCKLE_REACH = 0.02  # [m] how far a knuckle may be from the point measured there
CLOSEST = 1e-4  # [m] lengthwise, of two points of a line
SAMPLES = 201
MAY_DIP = 4.0 * READING_SD  # [m] of a curve past the centreline, by errors of reading alone
MAY_CROSS = 4.0 * np.sqrt(2.0) * READING_SD
"""[m] of one line past another, across both, by the errors of both: they meet at stem and stern
post.  With one reading's error one sound hull in six was refused (own trial)."""
SWING = 0.25
"""Of the straight from one point to the next, how far the curve may leave it: a line that turns
by 100 degrees in between. Of 45 sound hulls none passed 0.15 (own trial)."""


def lines_of(inputs: tuple[LineInput, ...]) -> Lines:
    """The lines of a hull, examined, each turned bow to stern.

    Args:
        inputs: from the centreline to the sheer.

    Raises:
        DocumentError: with every fault of the lines (``line-missing``, ``line-too-short``,
            ``line-not-monotone``, ``negative-half-breadth``, ``knuckle-without-point``,
            ``centreline-off-centre``, ``line-swings``, ``lines-cross``); places are relative
            to the hull.
    """
    faults = [*_missing(inputs), *(fault for given in inputs for fault in _line_faults(given))]
    if faults:
        raise DocumentError(tuple(faults))
    lines = Lines(tuple(_line_of(given, given is inputs[0]) for given in inputs))
    faults = [fault for line in lines.lines for fault in _swings(line)]
    if faults:
        raise DocumentError(tuple(faults))
    faults = [
        *(fault for line in lines.lines[1:] for fault in _dips(line)),
        *_crossings(lines),
    ]
    if faults:
        raise DocumentError(tuple(faults))
    return lines


def _missing(inputs: tuple[LineInput, ...]) -> list[Fault]:
    faults = []
    if not inputs or not _is_centreline(inputs[0]):
        sentence = (
            "The first line must be the canoe body's centreline, named centreline or with "
            "every half-breadth 0: add it, or list the lines from centreline to sheer."
        )
        faults.append(Fault("line-missing", "lines", sentence))
    sheers = [given for given in inputs if given.kind == "sheer"]
    if len(sheers) != 1 or inputs[-1] is not sheers[0]:
        sentence = (
            "The last line, and no other, must be of kind sheer (the edge of the deck): add "
            "it, or list the lines from centreline to sheer."
        )
        faults.append(Fault("line-missing", "lines", sentence))
    return faults


def _is_centreline(given: LineInput) -> bool:
    named = given.name == "centreline"
    return given.kind != "sheer" and (
        named or all(abs(y) <= READING_SD for _, y, _ in given.points)
    )


def _line_faults(given: LineInput) -> list[Fault]:
    if len(given.points) < 2:
        sentence = (
            f"Line {id_in_words(given.name)} needs at least two points, one on the "
            "stem, one aft."
        )
        return [Fault("line-too-short", f"lines.{given.name}.points_m", sentence)]
    points = np.array(given.points)
    return [
        *_not_monotone(given, points[:, 0]),
        *_wrong_side(given, points),
        *_stray_knuckles(given, points[:, 0]),
    ]


def _not_monotone(given: LineInput, x: FloatArray) -> list[Fault]:
    onwards = np.diff(x) * (1.0 if x[-1] > x[0] else -1.0)
    faults = []
    for i in np.flatnonzero(onwards < CLOSEST):
        sentence = (
            f"Line {id_in_words(given.name)} goes back on itself: x {x[i + 1]:.3f} m follows "
            f"{x[i]:.3f} m. List its points in order, from bow to stern or the reverse."
        )
        if onwards[i] > 0.0:
            sentence = (
                f"Line {id_in_words(given.name)} has two points at x {x[i]:.3f} m, less than "
                f"{mm_of_m(CLOSEST):g} mm apart: delete one of them."
            )
        place = point_place(given.name, int(i) + 1)
        faults.append(Fault("line-not-monotone", place, sentence))
    return faults


def _wrong_side(given: LineInput, points: FloatArray) -> list[Fault]:
    faults = []
    for i, (x, half_breadth, _) in enumerate(points.tolist()):
        place = point_place(given.name, i)
        reading = (
            f"Line {id_in_words(given.name)} has half-breadth {half_breadth:.3f} m at x "
            f"{x:.3f} m"
        )
        if given.name == "centreline" and abs(half_breadth) > READING_SD:
            sentence = (
                f"{reading}; the centreline has half-breadth 0: correct it, or measure this "
                "line again."
            )
            faults.append(Fault("centreline-off-centre", place, sentence))
        if given.name != "centreline" and half_breadth < 0.0:
            sentence = (
                f"{reading}; half-breadths are measured outwards from the centreline and are "
                "never negative."
            )
            faults.append(Fault("negative-half-breadth", place, sentence))
    return faults


def _stray_knuckles(given: LineInput, x: FloatArray) -> list[Fault]:
    return [
        Fault(
            "knuckle-without-point",
            f"lines.{given.name}.knuckles_at_x_m[{i}]",
            f"Line {id_in_words(given.name)} has a knuckle at x {knuckle:.3f} m but no point "
            "there: measure the point at the knuckle and add it.",
        )
        for i, knuckle in enumerate(given.knuckles)
        if np.min(np.abs(x - knuckle)) > KNUCKLE_REACH
    ]


def _line_of(given: LineInput, is_centreline: bool) -> HullLine:
    points = np.array(given.points, dtype=np.float64)
    backwards = bool(points[0, 0] > points[-1, 0])
    if backwards:
        points = points[::-1].copy()
    if is_centreline:
        points[:, 1] = 0.0
    points.flags.writeable = False
    x = points[:, 0]
    knuckles = tuple(float(x[np.argmin(np.abs(x - k))]) for k in given.knuckles)
    return HullLine(given.name, given.kind, points, knuckles, backwards)


def _swings(line: HullLine) -> list[Fault]:
    """A curve that overshoots between sound points, as it does beside an upright stem."""
    start, way = line.points[:-1, None], np.diff(line.points, axis=0)[:, None]
    x = (start + np.linspace(0.1, 0.9, 9)[:, None] * way)[..., 0]
    from_start = np.concatenate([x[..., None], line.at(x)], axis=-1) - start
    length = np.linalg.norm(way, axis=-1)
    away = (np.linalg.norm(np.cross(from_start, way), axis=-1) / length).max(axis=1)
    worst = int(np.argmax(away / length[:, 0]))
    if away[worst] <= SWING * length[worst, 0]:
        return []
    ahead = way[:, 0] / length
    corner = int(np.argmin((ahead[1:] * ahead[:-1]).sum(axis=1))) + 1
    along = line.points[:, 0]
    sentence = (
        f"Line {id_in_words(line.name)} turns a corner at x {along[corner]:.2f} m, and the "
        f"smooth curve through its points bulges {mm_of_m(away[worst]):,.0f} mm between x "
        f"{along[worst]:.2f} and {along[worst + 1]:.2f} m: list the corner's x under "
        "knuckles_at_x_m, or add points there."
    )
    return [Fault("line-swings", line.place(corner), sentence)]


def _dips(line: HullLine) -> list[Fault]:
    x = np.linspace(line.fore_x, line.aft_x, SAMPLES)
    breadth = line.spline(x)[:, 0]
    lowest = int(np.argmin(breadth))
    if breadth[lowest] >= -MAY_DIP:
        return []
    nearest = int(np.argmin(np.abs(line.points[:, 0] - x[lowest])))
    sentence = (
        f"The curve through line {id_in_words(line.name)} crosses the centreline near x "
        f"{x[lowest]:.2f} m (half-breadth {breadth[lowest]:.3f} m): add a point there, or a "
        "knuckle where the line turns a corner."
    )
    return [Fault("negative-half-breadth", line.place(nearest), sentence)]


def _crossings(lines: Lines) -> list[Fault]:
    faults = [
        fault for lower, upper in pairwise(lines.lines[1:]) for fault in _below(lower, upper)
    ]
    return faults or _folds(lines)


def _below(lower: HullLine, upper: HullLine) -> list[Fault]:
    """Where the upper of two neighbours lies below the lower one at a common station.

    The centreline is left out: a hollow or tunnelled bottom rises towards it.
    """
    x = _common_stations((lower, upper))
    low, high = lower.at(x), upper.at(x)
    gap = high[:, 1] - low[:, 1]
    past = np.where(gap < 0.0, -gap / _may_cross(x, low, high), 0.0)
    worst = int(np.argmax(past))
    if past[worst] <= 1.0:
        return []
    nearest = int(np.argmin(np.abs(upper.points[:, 0] - x[worst])))
    sentence = (
        f"Line {id_in_words(upper.name)} passes {-mm_of_m(gap[worst]):.0f} mm below line "
        f"{id_in_words(lower.name)} near x {x[worst]:.2f} m. Lines are listed from centreline "
        "to sheer and must not cross: check their order, or measure these heights again."
    )
    return [Fault("lines-cross", upper.place(nearest), sentence)]


def _folds(lines: Lines) -> list[Fault]:
    """Where a half section, straight across between the lines, crosses itself."""
    x = _common_stations(lines.lines)
    each = [line.at(x) for line in lines.lines]
    section, slack = np.stack(each, axis=1), _may_cross(x, *each)
    count = len(lines.lines)
    for i in range(count - 1):
        for j in range(i + 2, count - 1):
            crossed = _meet(section[:, (i, i + 1)], section[:, (j, j + 1)], slack)
            if crossed.any():
                at = float(x[np.argmax(crossed)])
                low, high = lines.lines[i + 1], lines.lines[j]
                sentence = (
                    f"The half section near x {at:.2f} m crosses itself between lines "
                    f"{id_in_words(low.name)} and {id_in_words(high.name)}: check their "
                    "order, or measure again."
                )
                return [Fault("lines-cross", f"lines.{high.name}", sentence)]
    return []


def _common_stations(lines: tuple[HullLine, ...]) -> FloatArray:
    fore = max(line.fore_x for line in lines)
    aft = min(line.aft_x for line in lines)
    return np.linspace(fore, max(fore, aft), SAMPLES)


def _may_cross(x: FloatArray, *lines: FloatArray) -> FloatArray:
    """[m] (n,) that errors may carry one line past another, more where the lines are steep.

    Args:
        x: (n,) stations [m].
        lines: half-breadth and height (n, 2) [m] of each there.
    """
    if x[-1] <= x[0]:
        return np.full(len(x), MAY_CROSS)
    slopes = [np.abs(np.gradient(line, x, axis=0)).max(axis=1) for line in lines]
    return np.asarray(MAY_CROSS * np.hypot(1.0, np.max(slopes, axis=0)))


def _meet(one: FloatArray, other: FloatArray, slack: FloatArray) -> BoolArray:
    """Which pairs of segments (n, 2, 2) cross, every end further past the other than slack."""
    (a, b), (c, d) = one.transpose(1, 0, 2), other.transpose(1, 0, 2)

    def side(p: FloatArray, q: FloatArray, r: FloatArray) -> FloatArray:
        u, v = q - p, r - p
        turn = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
        return np.where(np.abs(turn) < slack * np.hypot(*u.T), 0.0, np.sign(turn))

    apart = side(a, b, c) * side(a, b, d) < 0.0
    return np.asarray(apart & (side(c, d, a) * side(c, d, b) < 0.0))

"""Lines of a hull from a scan or point cloud."""

from dataclasses import dataclass, field
from itertools import pairwise, product
from types import MappingProxyType

import numpy as np
from scipy.interpolate import make_smoothing_spline

from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray
from hullchange.hull.hull import HullInput, hull_of
from hullchange.hull.lines import LineInput, LineKind
from hullchange.hull_sources.cloud import Cloud, cleaned
from hullchange.hull_sources.cloud_sections import CloudSections, sections_of
from hullchange.hull_sources.found import FoundLines
from hullchange.hull_sources.girths import nearest_polygon, sharp_end
from hullchange.units import mm_of_m

GIRTHS = (
    10,
    9,
    8,
    7,
    6,
    5,
)  # strips of a section without chines; fewer where lines would cross
TRIANGLES = 4000
IN_A_PANEL = (2, 1)  # strips between chines
LEAST_SHARE = 0.5  # of the hull's sides that a scan must show
STEM_REACH, STEM_SLICE = 0.08, 0.005  # shares of the length
END_WEIGHT = 100.0  # of a line's ends against its other points
FP_REACH = 0.015  # of the length, about the forward perpendicular
AT_STEM = 0.05, 0.01  # of the length, ahead or behind and abreast, of a mark at the stem
STEP_SLOPE, STEP_FREE = 0.25, 4
"""By how much steeper than beside it [-] a piece of a line is a step, and how many pieces at
the ends are none."""
STERN_FIT = 0.2  # of the length, by which a line is carried on to a flat stern
POINT_SD = 0.005  # [m] of a point of the lines; own trial (tests/bench/bench_scan.py)


@dataclass(frozen=True, eq=False)
class ScanMarks:
    """What the owner picks on a scan, in its own axes.

    Attributes:
        waterline: (k, 3) [m] three marks or more on the waterline; one where it meets the
            stem is the forward perpendicular.
        bow: (3,) [m] a point at the bow, None to take the finer end.
        chines: (n, 3) [m] picks along each chine, by its name, the lowest first.
    """

    waterline: FloatArray
    bow: FloatArray | None = None
    chines: MappingProxyType[str, FloatArray] = field(
        default_factory=lambda: MappingProxyType({})
    )


def lines_of_scan(points: FloatArray, marks: ScanMarks) -> FoundLines:
    """The lines of the bare hull in a cloud, her sheer the upper edge of what was scanned.

    Args:
        points: (n, 3) [m].
        marks: picked on it.

    Raises:
        ModelError: ``no-hull`` where it is no hull, or its lines do not come out; those of
            ``cleaned``.
    """
    cloud = cleaned(points, marks.waterline, marks.bow)
    picks = {name: cloud.turn.of(given) for name, given in marks.chines.items()}
    sections = sections_of(cloud, tuple(picks.values()))
    if sections.share < LEAST_SHARE:
        sentence = (
            f"The scan shows only {100.0 * sections.share:.0f} % of the hull's sides: scan "
            "the rest, or cut away what is not hull."
        )
        raise ModelError("no-hull", sentence)
    lines = _closed_lines(cloud, sections, tuple(picks))
    return FoundLines(
        "scan",
        lines,
        POINT_SD,
        _worth(cloud),
        notes=_notes(cloud, sections, lines),
    )


def _closed_lines(
    cloud: Cloud, sections: CloudSections, chines: tuple[str, ...]
) -> tuple[LineInput, ...]:
    """Lines that make a hull, as many as do not cross."""
    trouble = ""
    counts = IN_A_PANEL if chines else GIRTHS
    for with_stem, strips in product((True, False), counts):
        lines = _lines(cloud, sections, chines, strips, with_stem=with_stem)
        try:
            hull_of(HullInput(lines), TRIANGLES)
        except ModelError as error:
            trouble = trouble or error.sentence
        else:
            return lines
    sentence = f"The lines of the scan do not make a hull: {trouble}"
    raise ModelError("no-hull", sentence)


def _lines(
    cloud: Cloud,
    sections: CloudSections,
    chines: tuple[str, ...],
    strips: int,
    *,
    with_stem: bool,
) -> tuple[LineInput, ...]:
    columns = np.stack([_columns(c, sections.corners, strips) for c in sections.curves])
    columns[:, 0, 0] = 0.0
    columns[:, :, 1] = np.maximum.accumulate(columns[:, :, 1], axis=1)
    lines = _with_ends(cloud, sections, columns, with_stem=with_stem)
    datum = _forward_perpendicular(cloud, lines[0])
    shift = np.array([datum, 0.0, 0.0])
    steps = {float(lines[-1][k, 0]) for k in _steps(lines[-1])}
    return tuple(
        LineInput(
            name,
            kind,
            tuple((x, max(y, 0.0), z) for x, y, z in (_smoothed(line, steps) - shift).tolist()),
            tuple(x - datum for x in _corners(line, steps)),
        )
        for (name, kind), line in zip(_names(chines, strips), lines, strict=True)
    )


def _columns(curve: FloatArray, corners: tuple[int, ...], strips: int) -> FloatArray:
    """(k, 2) [m] of every line on one section; on a chine the mean of both its panels."""
    bounds = [0, *corners, len(curve) - 1]
    whole = np.empty((0, 2))
    for a, b in pairwise(bounds):
        panel = nearest_polygon(curve[a : b + 1], strips)
        if len(whole):
            panel[0] = (panel[0] + whole[-1]) / 2.0
        whole = np.vstack([whole[:-1], panel])
    return whole


def _names(chines: tuple[str, ...], strips: int) -> list[tuple[str, LineKind]]:
    names: list[tuple[str, LineKind]] = [("centreline", "fair")]
    for after in (*chines, ""):
        names += [(f"girth-{len(names) + k}", "fair") for k in range(strips - 1)]
        names.append((after, "chine") if after else ("sheer", "sheer"))
    return names


def _stem(cloud: Cloud, sections: CloudSections, *, is_fore: bool) -> FloatArray | None:
    """(n, 2) x and z [m] of a sharp end, up from its foot; None where it cannot be seen.

    At every height the points beside it are carried on to the centreplane.
    """
    sign = 1.0 if is_fore else -1.0
    length = float(np.ptp(sections.x))
    end = sections.x[0] if is_fore else sections.x[-1]
    section = sections.curves[0 if is_fore else -1]
    ahead = sign * (cloud.points[:, 0] - end)
    near = cloud.points[ahead < STEM_REACH * length]
    found = []
    for z in np.linspace(section[0, 1], section[-1, 1], 13):
        here = near[np.abs(near[:, 2] - z) < STEM_SLICE * length]
        half, x = np.abs(here[:, 1]), sign * here[:, 0]
        close = half < max(0.012 * length, float(np.quantile(half, 0.3)) if len(half) else 0.0)
        if close.sum() >= 12:
            found.append((_intercept(half[close, None], x[close]) * sign, z))
    return np.array(found) if len(found) >= 4 else None


def _intercept(along: FloatArray, values: FloatArray) -> float:
    """Where all regressors (n, k) are 0, by a linear fit to values (n,) that is robust."""
    weight = np.ones(len(along))
    fit = np.zeros(1)
    design = np.column_stack([np.ones(len(along)), along])
    for _ in range(6):
        root = np.sqrt(weight)[:, None]
        fit = np.linalg.lstsq(design * root, values * root[:, 0])[0]
        miss = values - design @ fit
        weight = 1.0 / (1.0 + (miss / (3.0 * max(float(np.median(np.abs(miss))), 0.003))) ** 2)
    return float(fit[0])


def _with_ends(
    cloud: Cloud, sections: CloudSections, columns: FloatArray, *, with_stem: bool
) -> list[FloatArray]:
    """Lines (n, 3) [m] by their places (s, k, 2) [m] at the stations, from stem to stern."""
    x = sections.x
    lines = [np.column_stack([x, columns[:, k]]) for k in range(columns.shape[1])]
    fore = _stem(cloud, sections, is_fore=True) if with_stem else None
    if fore is not None:
        ends = sharp_end(columns[0], fore, float(x[0]), is_fore=True)
        lines = [np.vstack([end, line]) for end, line in zip(ends, lines, strict=True)]
    if cloud.stern is not None:
        return [_with_stern(line, cloud.stern) for line in lines]
    aft = _stem(cloud, sections, is_fore=False) if with_stem else None
    if aft is not None:
        ends = sharp_end(columns[-1], aft, float(x[-1]), is_fore=False)
        lines = [np.vstack([line, end[::-1]]) for end, line in zip(ends, lines, strict=True)]
    return lines


def _smoothed(line: FloatArray, steps: set[float]) -> FloatArray:
    """The line (n, 3) [m] without the noise of the sections; ends and steps stay.

    Args:
        line: [m].
        steps: x [m] of the points before the steps of the sheer.
    """
    if _corners(line, steps):
        return line
    weight = np.ones(len(line))
    weight[[0, -1]] = END_WEIGHT
    out = line.copy()
    for axis in (1, 2):
        if np.ptp(line[:, axis]) > 0.0:
            out[:, axis] = make_smoothing_spline(line[:, 0], line[:, axis], weight)(line[:, 0])
    return out


def _steps(line: FloatArray) -> set[int]:
    """Numbers of the pieces of a line (n, 3) [m] on which it steps up or down."""
    slope = np.diff(line[:, 2]) / np.diff(line[:, 0])
    away = np.zeros(len(slope))
    away[1:-1] = np.abs(slope[1:-1] - (slope[:-2] + slope[2:]) / 2.0)
    inner = np.arange(STEP_FREE, len(slope) - STEP_FREE)
    return {
        int(k)
        for k in inner
        if away[k] > STEP_SLOPE and away[k] >= max(away[k - 1], away[k + 1])
    }


def _corners(line: FloatArray, steps: set[float]) -> tuple[float, ...]:
    """x [m] of the points of a line (n, 3) between which it steps where the sheer does.

    Args:
        line: [m].
        steps: x [m] of the points before the steps of the sheer.
    """
    own = [k for k in _steps(line) if float(line[k, 0]) in steps]
    return tuple(float(line[k + more, 0]) for k in sorted(own) for more in (0, 1))


def _with_stern(line: FloatArray, stern: tuple[float, float]) -> FloatArray:
    """The line (n, 3) carried on to a flat stern, x = a + c z, by its curve before it."""
    last = line[-1, 0]
    late = line[line[:, 0] > last - STERN_FIT * (last - line[0, 0])]
    curve = np.polynomial.Polynomial.fit(late[:, 0], late[:, 2], 2)
    x = last
    for _ in range(4):
        x = stern[0] + stern[1] * float(curve(x))
    if x < last + 0.005:
        return line
    half = np.polynomial.Polynomial.fit(late[:, 0], late[:, 1], 2)
    return np.vstack([line, [x, max(float(half(x)), 0.0), float(curve(x))]])


def _forward_perpendicular(cloud: Cloud, centreline: FloatArray) -> float:
    """x [m] at which the stem goes under water: marked there, or by the points about it.

    Points tell it within 10 mm where both sides meet in an edge. Where she has a stem bar of
    some breadth they seem to meet ahead of it, by up to 50 mm (own trial).

    Args:
        cloud: cleaned.
        centreline: (n, 3) [m], which tells roughly where.
    """
    x, _, z = centreline.T
    wet = np.flatnonzero(z < 0.0)
    first = int(wet[0]) if len(wet) else 0
    if first == 0:
        return float(x[0])
    rough = float(np.interp(0.0, z[[first, first - 1]], x[[first, first - 1]]))
    ahead, abreast = np.array(AT_STEM) * float(np.ptp(x))
    away = np.abs(cloud.marks - np.array([rough, 0.0, 0.0]))
    at_stem = cloud.marks[(away[:, 0] < ahead) & (away[:, 1] < abreast), 0]
    if len(at_stem):
        return float(at_stem.mean())
    points = cloud.points
    half, reach = np.abs(points[:, 1]), FP_REACH * float(np.ptp(x))
    near = (
        (np.abs(points[:, 2]) < reach)
        & (half < reach)
        & (np.abs(points[:, 0] - rough) < 3 * reach)
    )
    if near.sum() < 60:
        return rough
    regressors = [half[near], half[near] ** 2, points[near, 2], points[near, 2] ** 2]
    found = _intercept(np.column_stack(regressors), points[near, 0])
    return found if abs(found - rough) < reach else rough


def _worth(cloud: Cloud) -> str:
    return (
        f"Points of the lines are accurate to ±{mm_of_m(POINT_SD):.0f} mm where the scan is "
        "dense, and the displacement usually to 1 %, at worst to 3 % (own trial on scans of "
        f"known hulls); the two sides of this one differ by {mm_of_m(cloud.off_mirror):.0f} "
        f"mm at points {mm_of_m(cloud.spacing):.0f} mm apart."
    )


def _notes(
    cloud: Cloud, sections: CloudSections, lines: tuple[LineInput, ...]
) -> tuple[str, ...]:
    stern = "a flat stern" if cloud.stern else "a pointed stern"
    notes = [
        f"Read as a hull with {stern}, bow and stern as in the picture; {len(lines)} lines.",
        "The sheer is the upper edge of what was scanned: the bare hull, without keel, rudder "
        "and bulwark.",
    ]
    bridged = 1.0 - sections.share
    if bridged > 0.01:
        notes.append(
            f"{100.0 * bridged:.0f} % of her sides are missing from the scan and "
            "were interpolated."
        )
    if len(lines) - 1 < GIRTHS[0] and all(line.kind != "chine" for line in lines):
        notes.append("Fewer lines than usual, since more would cross each other.")
    return tuple(notes)

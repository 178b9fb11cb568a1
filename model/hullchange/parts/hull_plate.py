"""A plate of the hull that is replaced: bent from flat between two measured lines.

The lines are taken as measured outside the plating. The plate is developed on its middle
surface, half its thickness inside them.
"""

from dataclasses import replace
from itertools import pairwise

import numpy as np

from hullchange.errors import ModelError
from hullchange.findings import Finding, Severity
from hullchange.geometry.frame import FloatArray
from hullchange.geometry.outline import FlatOutline, Line, Spline, flat_points
from hullchange.geometry.plate import Plate
from hullchange.geometry.ruled_plate import YIELD_STRAIN, Ruled
from hullchange.geometry.strip import Strip
from hullchange.geometry.surface import mass_properties
from hullchange.materials import STEEL_DENSITY
from hullchange.parts.parameters import HullPlate
from hullchange.parts.part import Part, Site
from hullchange.units import deg_of_rad, m_of_mm

RULINGS = 80
"""Points on each edge between which rulings are sought."""

ALONG = 33  # points of each edge, and of its outline in the flat
LEAST_LENGTH = 0.05  # [m]


def hull_plate(given: HullPlate, site: Site) -> Part:
    """The plate, on one side or both.

    Raises:
        ModelError: ``ends-the-wrong-way-round``, ``line-missing``, ``station-off-hull``,
            ``lines-not-neighbours``, ``plate-twisted``.
    """
    edges = _edges(given, site)
    strip = Strip(_bent(edges, given.plate_mm))
    outline = strip_outline(strip, ("lower", "upper"))
    starboard = Plate("starboard", "plate", outline, m_of_mm(given.plate_mm), strip)
    port = starboard.twin("port")
    plates = {
        "both": (starboard, port),
        "starboard": (starboard,),
        "port": (replace(port, twin_of=""),),
    }
    loop = np.concatenate([edges[0], edges[1][::-1]])
    return Part(
        given.kind,
        plates[given.side],
        side_view=(loop[:, [0, 2]],),
        old_plates=tuple(
            replace(plate, thickness=m_of_mm(given.old_plate_mm))
            for plate in plates[given.side]
        ),
        findings=(*_doubts(strip.ruled), _old(given, plates[given.side])),
    )


def _edges(given: HullPlate, site: Site) -> tuple[FloatArray, FloatArray]:
    """Both edges (n, 3) on the hull, from forward aft, the lower one first."""
    if given.x_aft_m - given.x_forward_m < LEAST_LENGTH:
        sentence = "The after end is forward of the forward end: x_aft_m must be the larger."
        raise ModelError("ends-the-wrong-way-round", sentence, "x_aft_m")
    x = np.linspace(given.x_forward_m, given.x_aft_m, ALONG)
    found = []
    for place in ("lower_line", "upper_line"):
        try:
            found.append(site.host.line(getattr(given, place), x))
        except ModelError as error:
            raise error.at(place if error.code == "line-missing" else "x_forward_m") from error
    if (given.lower_line, given.upper_line) not in pairwise(site.host.lines_up()):
        sentence = (
            f"{given.upper_line} is not the next line above {given.lower_line}: a hull plate "
            "spans two neighbouring lines, since it is bent and not folded."
        )
        raise ModelError("lines-not-neighbours", sentence, "upper_line")
    return found[0], found[1]


def _bent(edges: tuple[FloatArray, FloatArray], plate_mm: float) -> Ruled:
    """The plate's middle surface: that between the lines, half the thickness further in."""
    from hullchange.geometry.ruled import ruled  # takes a second to load

    try:
        outside = Strip(ruled(*edges, count=RULINGS))
        inward = _inward(outside) * m_of_mm(plate_mm) / 2.0
        low, high = (edge + inward * outside.normals(outside.to_flat(edge)) for edge in edges)
        return ruled(low, high, count=RULINGS)
    except ModelError as error:
        raise error.at("upper_line") from error


def _inward(strip: Strip) -> float:
    """1 where the normals look into the hull, -1 where they leave it, to the side or down."""
    mean = strip.node_normals.mean(axis=0)
    leaves = mean[1] if abs(mean[1]) > abs(mean[2]) else -mean[2]
    return -float(np.sign(leaves))


def strip_outline(strip: Strip, tags: tuple[str, str]) -> FlatOutline:
    """Both edges as splines through evenly spread points, the ends straight."""
    first, second = (_evenly(strip.ruled.flat[:, k]) for k in (0, 1))
    low, high = flat_points(first), flat_points(second[::-1])
    return FlatOutline(
        (
            Spline(low, tags[0]),
            Line(low[-1], high[0], "aft"),
            Spline(high, tags[1]),
            Line(high[-1], low[0], "forward"),
        )
    )


def _evenly(points: FloatArray) -> FloatArray:
    """(n, 2) points of a polyline, spread evenly over its length."""
    kept = points[np.r_[True, np.hypot(*np.diff(points, axis=0).T) > 1e-9]]
    run = np.r_[0.0, np.cumsum(np.hypot(*np.diff(kept, axis=0).T))]
    places = np.linspace(0.0, run[-1], ALONG)
    return np.stack([np.interp(places, run, kept[:, k]) for k in (0, 1)], axis=1)


def _old(given: HullPlate, plates: tuple[Plate, ...]) -> Finding:
    """What comes off for it."""
    area = sum(plate.flat_area for plate in plates)
    mass = area * m_of_mm(given.old_plate_mm) * STEEL_DENSITY
    x, y, z = mass_properties(plates[0].surface(), STEEL_DENSITY).centroid
    across = 0.0 if len(plates) > 1 else y
    sentence = (
        f"The old {given.old_plate_mm:g} mm plate that is cut out weighs {mass:.0f} kg, at x "
        f"{x:.2f}, y {across:.2f}, z {z:.2f} m, and is counted as removed unless a weight "
        "under removes has replaced_by: this part."
    )
    return Finding("old-plate", Severity.NOTE, "old_plate_mm", sentence)


def _doubts(plate: Ruled) -> tuple[Finding, ...]:
    if not plate.doubtful:
        return ()
    sentence = (
        f"The plate twists by {deg_of_rad(float(plate.twist.max())):.1f}°: fitted to the "
        f"lines it stretches by {100.0 * plate.strain:.2f} %, and steel yields at "
        f"{100.0 * YIELD_STRAIN:.2f} %. Expect to force it, or divide it by a seam."
    )
    return (Finding("plate-forced", Severity.WARN, "upper_line", sentence),)

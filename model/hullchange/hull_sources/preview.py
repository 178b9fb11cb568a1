"""Lines that were found, looked at as a hull before anything is changed."""

from dataclasses import dataclass

import numpy as np

from hullchange.errors import DocumentError, Fault, ModelError
from hullchange.findings import Finding
from hullchange.floating.integrals import integrals_below
from hullchange.geometry.frame import WaterPlane
from hullchange.hull.hull import Hull, HullInput, hull_of
from hullchange.hull.line_report import line_report
from hullchange.hull_sources.found import FoundLines

TRIANGLES = 4000
LEVEL = WaterPlane(np.array([0.0, 0.0, 1.0]), 0.0)


@dataclass(frozen=True)
class HullSize:
    """A hull in a few figures; what is below the design waterline is the canoe body's.

    Attributes:
        length: [m] over all.
        beam: [m].
        waterline: [m] length of the design waterline on the centreline, 0 if she has none.
        volume: [m^3] below the design waterline.
        lcb: [m] x of its centre, None where there is none.
    """

    length: float
    beam: float
    waterline: float
    volume: float
    lcb: float | None


@dataclass(frozen=True, eq=False)
class HullPreview:
    """What would become of the lines that were found.

    Attributes:
        found: the lines.
        faults: why they are no hull, empty if they are one.
        findings: readings that do not fit the others.
        size: of the hull they are, None if they are none.
    """

    found: FoundLines
    faults: tuple[Fault, ...]
    findings: tuple[Finding, ...]
    size: HullSize | None


def previewed(found: FoundLines) -> HullPreview:
    """The lines with what would be refused and what is doubtful about them."""
    try:
        hull = hull_of(HullInput(found.lines), TRIANGLES)
    except DocumentError as error:
        return HullPreview(found, error.faults, (), None)
    except ModelError as error:
        fault = Fault(error.code, error.place, error.sentence)
        return HullPreview(found, (fault,), (), None)
    measured = found.source in ("points", "tape", "drawing")
    report = line_report(hull.lines.lines, (), frozenset()) if measured else None
    return HullPreview(found, (), report.findings if report else (), _size(hull))


def _size(hull: Hull) -> HullSize:
    below = integrals_below(hull.surface, LEVEL)
    x = np.linspace(hull.lines.centreline.fore_x, hull.lines.centreline.aft_x, 2001)
    wet = x[hull.lines.centreline.at(x)[:, 1] < 0.0]
    return HullSize(
        hull.length,
        hull.beam,
        float(np.ptp(wet)) if len(wet) else 0.0,
        below.volume,
        float(below.buoyancy_centre[0]) if below.volume > 0.0 else None,
    )

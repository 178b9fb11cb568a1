"""Any flat plate by its corners in space, so that no change is beyond reach."""

import numpy as np

from hullchange.errors import ModelError
from hullchange.findings import Finding, Severity
from hullchange.geometry.frame import FloatArray, Frame
from hullchange.geometry.outline import FlatOutline, flat_points
from hullchange.geometry.plate import Plate
from hullchange.parts.parameters import Plating
from hullchange.parts.part import Part, Site
from hullchange.parts.steelwork import frame_of, plate, with_scallop
from hullchange.units import m_of_mm

OUT_OF_PLANE = 1e-3  # [m] what a measured corner may lie off
LEAST_AREA = 1e-6  # [m^2]


def plating(given: Plating, site: Site) -> Part:  # noqa: ARG001 - its corners say where it stands
    """The plate, and its twin where it is mirrored.

    Raises:
        ModelError: ``corners-not-in-a-plane``, ``plate-without-area``,
            ``outline-crosses-itself``, ``hole-outside-outline``, ``holes-overlap``,
            ``wrong-count``.
    """
    corners = np.array(given.corners_m)
    frame = _plane(corners)
    cutouts = tuple(np.array(cut) for cut in given.cutouts_m)
    _require_flat(frame, corners, "corners_m")
    for cut in cutouts:
        _require_flat(frame, cut, "cutouts_m")
    centres = np.array([hole.at_m for hole in given.holes]).reshape(-1, 3)
    _require_flat(frame, centres, "holes")
    holes = (
        *(FlatOutline.polygon(flat_points(frame.to_flat(cut))) for cut in cutouts),
        *(
            FlatOutline.circle(at, m_of_mm(hole.diameter_mm) / 2.0)
            for at, hole in zip(flat_points(frame.to_flat(centres)), given.holes, strict=True)
        ),
    )
    outer = FlatOutline.polygon(flat_points(frame.to_flat(corners)))
    one = plate("plate", frame, outer, given.thickness_mm, holes)
    for number in sorted(set(given.scallop_corners)):
        one = _relieved(one, number, outer, given.scallop_mm)
    plates = (one, one.twin("plate-mirrored")) if given.mirrored else (one,)
    return Part(
        given.kind, plates, side_view=(corners[:, [0, 2]],), findings=_on_itself(given, corners)
    )


def _relieved(one: Plate, number: int, outer: FlatOutline, scallop_mm: float) -> Plate:
    if number > len(outer.segments):
        sentence = f"There is no corner {number}: the plate has {len(outer.segments)} corners."
        raise ModelError("wrong-count", sentence, "scallop_corners")
    return with_scallop(one, outer.segments[number - 1].start, scallop_mm)


def _plane(corners: FloatArray) -> Frame:
    """The best plane through the corners, first side as u."""
    area = np.linalg.norm(
        np.cross(corners - corners[0], np.roll(corners, -1, axis=0) - corners[0]).sum(axis=0)
    )
    if area < 2.0 * LEAST_AREA or np.linalg.norm(corners[1] - corners[0]) < 1e-6:
        sentence = "The corners enclose no area: give at least three, not in one line."
        raise ModelError("plate-without-area", sentence, "corners_m")
    first = frame_of(corners)
    return Frame(corners.mean(axis=0), first.u, first.v)


def _require_flat(frame: Frame, points: FloatArray, place: str) -> None:
    away = np.abs((points - frame.origin) @ frame.normal).max(initial=0.0)
    if away > OUT_OF_PLANE:
        sentence = (
            f"A corner lies {away * 1e3:.0f} mm out of the plane of the others: correct it, "
            "or make two plates."
        )
        raise ModelError("corners-not-in-a-plane", sentence, place)


def _on_itself(given: Plating, corners: FloatArray) -> tuple[Finding, ...]:
    y = corners[:, 1]
    if not given.mirrored or y.min() >= 0.0 or y.max() <= 0.0:
        return ()
    sentence = (
        "The plate reaches over the centreline, so its mirror image overlaps it: end "
        "it at the centreline, or leave out the second one."
    )
    return (Finding("overlaps-its-twin", Severity.WARN, "mirrored", sentence),)

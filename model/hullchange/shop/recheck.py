"""The check before a file leaves: read again, and held against the model."""

from collections.abc import Sequence

import numpy as np
import shapely

from hullchange.errors import ModelError
from hullchange.findings import Finding, Severity
from hullchange.shop.contour import Contour
from hullchange.shop.dxf import audited, read_again
from hullchange.shop.marks import Marks
from hullchange.shop.piece import PlatePiece
from hullchange.units import mm_of_m

OF_SIZE = 1e-3
"""Share by which area and perimeter of a file may differ from the model's."""

_SAME = 1e-5  # [m]
_SLIVER = 0.25  # of the thickness squared: less is a corner's own point


def require_sound(text: str, layer: str, pieces: Sequence[PlatePiece], name: str) -> None:
    """Refuse unless a file holds the pieces it should, each loop closed and once.

    Args:
        text: of a DXF file.
        layer: the name its contours lie on.
        pieces: whose contours it holds, in whatever place.
        name: what it is called in a refusal.

    Raises:
        ModelError: ``file-fails-check``.
    """
    faults = audited(text)
    rows = [row for row in read_again(text) if row[0] == layer]
    faults += ["a contour is not closed"] * sum(not closed for _, closed, _ in rows)
    loops = [Contour(nodes) for _, _, nodes in rows]
    faults += _faults_of_loops(loops)
    area, length = 0.0, 0.0
    wanted_area = sum(piece.wanted[0] for piece in pieces)
    wanted_length = sum(piece.wanted[1] for piece in pieces)
    holes = sum(len(piece.rings) - 1 for piece in pieces)
    if len(loops) != len(pieces) + holes:
        faults.append(f"{len(loops)} contours instead of {len(pieces) + holes}")
    inside = _nesting(loops)
    for loop, depth in zip(loops, inside, strict=True):
        area += abs(loop.area) * (-1.0 if depth % 2 else 1.0)
        length += loop.perimeter
    for what, found, wanted in (
        ("area", area, wanted_area),
        ("length of cut", length, wanted_length),
    ):
        if abs(found - wanted) > OF_SIZE * wanted:
            faults.append(
                f"{what} {100.0 * (found / wanted - 1.0):+.2f} % different from the model"
            )
    if faults:
        sentence = f"{name} fails the check before it is written: {'; '.join(faults)}."
        raise ModelError("file-fails-check", sentence)


def _faults_of_loops(loops: Sequence[Contour]) -> list[str]:
    faults = []
    regions = [shapely.Polygon(loop.points) for loop in loops]
    for k, region in enumerate(regions):
        if not region.is_valid:
            faults.append("a contour crosses itself")
            continue
        for other in regions[:k]:
            near = np.abs(np.subtract(region.bounds, other.bounds)).max() < _SAME
            if near and shapely.hausdorff_distance(region.boundary, other.boundary) < _SAME:
                faults.append("a contour is in the file twice")
    return faults


def _nesting(loops: Sequence[Contour]) -> list[int]:
    """Number of other loops that each lies in."""
    regions = [shapely.Polygon(loop.points) for loop in loops]
    within = shapely.STRtree(regions).query(regions, predicate="within")[0]
    return [int(depth) - 1 for depth in np.bincount(within, minlength=len(loops))]


def feature_findings(piece: PlatePiece, marks: Marks) -> tuple[Finding, ...]:
    """What a cutter would ring up about: features smaller than the plate is thick."""
    found = []
    place = f"{piece.part}.{piece.plate.id}"
    thick = piece.thickness
    for ring in piece.rings[1:]:
        least = 2.0 * shapely.maximum_inscribed_circle(shapely.Polygon(ring.points)).length
        if least < thick:
            found.append(_small(piece, place, f"a hole {mm_of_m(least):.1f} mm wide"))
    bridge = _least_bridge(piece)
    if bridge < thick:
        found.append(_small(piece, place, f"a bridge {mm_of_m(bridge):.1f} mm wide"))
    half = thick / 2.0 * 0.999
    lost = piece.region.difference(piece.region.buffer(-half).buffer(half))
    narrow = [
        p for p in shapely.get_parts(lost) if p.area > _SLIVER * thick**2 and _long(p, thick)
    ]
    if narrow:
        thin = f"a point or a tongue narrower than {mm_of_m(thick):g} mm"
        found.append(_small(piece, place, thin))
    if not marks.named:
        sentence = f"{piece.id} has no room for its mark: mark it by hand."
        found.append(Finding("no-room-for-mark", Severity.NOTE, place, sentence))
    return tuple(found)


def _long(part: shapely.Polygon, thick: float) -> bool:
    """True for a strip, false for the point of a sharp corner."""
    low_x, low_y, high_x, high_y = part.bounds
    return bool(np.hypot(high_x - low_x, high_y - low_y) > 3.0 * thick)


def _least_bridge(piece: PlatePiece) -> float:
    """Least steel between two contours [m]."""
    rims = [shapely.LinearRing(ring.points) for ring in piece.rings]
    pairs = (shapely.distance(a, b) for k, a in enumerate(rims) for b in rims[:k])
    return float(min(pairs, default=np.inf))


def _small(piece: PlatePiece, place: str, what: str) -> Finding:
    sentence = (
        f"{piece.id} has {what}, in plate of {mm_of_m(piece.thickness):g} mm: cutting may "
        "burn it away. Ask the cutter."
    )
    return Finding("smaller-than-thickness", Severity.WARN, place, sentence)

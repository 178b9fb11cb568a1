"""Where plates meet the hull and its deck, and how far off an edge is that should lie there."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from math import ceil

import numpy as np

from hullchange.findings import Finding, Severity
from hullchange.geometry.frame import FloatArray
from hullchange.geometry.host import Host
from hullchange.geometry.outline import Line, Segment
from hullchange.geometry.plate import Plate
from hullchange.parts.part import Part
from hullchange.units import mm_of_m, span_in_mm

STEP = 0.02  # [m] between places at which an edge is checked
MOST_GAP = 2e-3  # [m] that an edge may stand off, and half its plate (common practice)
LEAST = 0.020  # [m] shortest gap that counts
ENDS_ON = 0.012  # [m] off the hull's outside: an end so near lies on it, or inside its plating

STATIONS = 121
_HALVED = 20
_HAIR = 1e-3  # [m] for slopes


def hull_x_at(host: Host, y: FloatArray, z: FloatArray) -> FloatArray:
    """x (n,) [m] where a line straight aft at half-breadth y and height z meets the hull.

    Above the sheer it is where the sheer is met; not a number where the hull is nowhere so
    wide, or not so deep.
    """
    stations = np.linspace(host.fore_x, host.transom_x, STATIONS)
    reached = _half_breadth(host.sections(stations)[:, None], z[None]) >= y
    first = np.argmax(reached, axis=0)
    high, low = stations[first], stations[np.maximum(first - 1, 0)]
    for _ in range(_HALVED):
        middle = (low + high) / 2.0
        within = _half_breadth(host.sections(middle), z) >= y
        low, high = np.where(within, low, middle), np.where(within, middle, high)
    found = np.where(first == 0, stations[0], high)
    return np.where(reached.any(axis=0), found, np.nan)


def _half_breadth(sections: FloatArray, z: FloatArray) -> FloatArray:
    """Widest half-breadth (...) at heights z (...) of half sections (..., m, 2).

    Above a section's top that of the top; below its bottom -1.
    """
    y, height = sections[..., 0], sections[..., 1]
    level = np.minimum(z, height[..., -1])[..., None]
    before, after = height[..., :-1], height[..., 1:]
    spans = (np.minimum(before, after) <= level) & (level <= np.maximum(before, after))
    step = after - before
    share = np.divide(
        level - before, step, out=np.ones(np.broadcast(level, step).shape), where=step != 0.0
    )
    widths = y[..., :-1] + share * np.diff(y, axis=-1)
    return np.asarray(np.where(spans, widths, -1.0).max(axis=-1))


def inside_bottom(host: Host, x: FloatArray, y: FloatArray) -> FloatArray:
    """Height (n,) [m] of the bottom plating's inner face at (x, y), square to its slope."""
    outside = host.bottom_z(x, y)
    slopes = [
        (host.bottom_z(x + a, y + b) - host.bottom_z(x - a, y - b)) / (2.0 * _HAIR)
        for a, b in ((_HAIR, 0.0), (0.0, _HAIR))
    ]
    thickness = host.bottom_thickness(x, y)
    return np.asarray(outside + thickness * np.sqrt(1.0 + slopes[0] ** 2 + slopes[1] ** 2))


Distance = Callable[[FloatArray], FloatArray]
"""Signed distances (n,) [m] of points (n, 3) from a surface, outside or above positive."""

WORDS = {"deck": "the deck", "hull": "the hull", "bottom": "the bottom plating"}


def _surfaces(host: Host) -> dict[str, Distance]:
    """The surface that an edge should lie on, by its tag."""

    def over(height: Callable[[FloatArray, FloatArray], FloatArray]) -> Distance:
        def distance(at: FloatArray) -> FloatArray:
            return np.asarray(at[:, 2] - height(at[:, 0], at[:, 1]))

        return distance

    def beside(at: FloatArray) -> FloatArray:
        return _from_section(host.sections(at[:, 0]), np.abs(at[:, 1]), at[:, 2])

    def within_ends(at: FloatArray) -> FloatArray:
        beyond = np.maximum(host.fore_x - at[:, 0], at[:, 0] - host.transom_x)
        return np.maximum(_true(beside, (0,))(at), beyond)

    return {
        "deck": _true(over(host.deck_z), (0, 1)),
        "bottom": over(lambda x, y: inside_bottom(host, x, y)),
        "hull": within_ends,
    }


def _true(measure: Distance, axes: tuple[int, ...]) -> Distance:
    """A measure along one direction made a distance by its slope along the others."""

    def distance(at: FloatArray) -> FloatArray:
        steepness = np.ones(len(at))
        for axis in axes:
            aside = np.zeros(3)
            aside[axis] = _HAIR
            slope = (measure(at + aside) - measure(at - aside)) / (2.0 * _HAIR)
            steepness += slope**2
        return np.asarray(measure(at) / np.sqrt(steepness))

    return distance


def _from_section(sections: FloatArray, y: FloatArray, z: FloatArray) -> FloatArray:
    """(n,) distance of (y, z) from half sections (n, m, 2), outside positive."""
    at = np.stack([y, z], axis=1)[:, None]
    start, side = sections[:, :-1], np.diff(sections, axis=1)
    size = np.maximum((side * side).sum(axis=2), 1e-18)
    share = np.clip(((at - start) * side).sum(axis=2) / size, 0.0, 1.0)
    away = np.linalg.norm(at - start - share[..., None] * side, axis=2).min(axis=1)
    return np.asarray(np.where(_half_breadth(sections, z) >= y, -away, away))


def with_fit_findings(host: Host, part: Part) -> Part:
    """The part with findings of every edge that should lie on hull or deck and does not."""
    surfaces = _surfaces(host)
    found: list[Finding] = []
    for plate in part.plates:
        if not plate.twin_of:
            found += _off(plate, host, surfaces)
            if part.kind == "plating":
                found += _bowed(plate, surfaces)
    return replace(part, findings=(*part.findings, *found)) if found else part


def _off(plate: Plate, host: Host, surfaces: dict[str, Distance]) -> Iterator[Finding]:
    """Tagged edges that are clear of their surface, by surface."""
    allowed = min(plate.thickness / 2.0, MOST_GAP)
    for tag, distance in surfaces.items():
        rows = [_clear(plate, edge, host, distance) for edge in plate.outer.tagged(tag)]
        if not rows:
            continue
        gap, run = (np.concatenate(column) for column in zip(*rows, strict=True))
        off = gap > allowed
        length = float(run[off].sum())
        if length < LEAST:
            continue
        sides = "; the other side too" if plate.id.endswith("starboard") else ""
        sentence = (
            f"Plate {plate.id.replace('-', ' ')} is "
            f"{span_in_mm(float(gap[off].min()), float(gap[off].max()))} away from "
            f"{WORDS[tag]} along {mm_of_m(length):.0f} mm of its edge{sides}: change its "
            "dimensions, or fill the gap with a plate."
        )
        yield Finding("edge-apart", Severity.WARN, "", sentence)


def _clear(
    plate: Plate, edge: Segment, host: Host, distance: Distance
) -> tuple[FloatArray, FloatArray]:
    """Clearance of both faces of an edge from a surface, and the length of each place."""
    row = edge.spread(max(2, ceil(edge.length / STEP)))
    run = np.hypot(*np.diff(row, axis=0).T)
    flat = (row[1:] + row[:-1]) / 2.0
    at, out = plate.map.to_boat(flat), plate.map.normals(flat) * plate.thickness / 2.0
    faces = np.stack([distance(at + s * out) for s in (-1.0, 1.0)])
    crosses = faces[0] * faces[1] <= 0.0
    beyond = np.abs(at[:, 1]) > host.sheer(at[:, 0])[:, 1]
    gap = np.where(crosses | beyond, 0.0, np.abs(faces).min(axis=0))
    return gap, run


def _bowed(plate: Plate, surfaces: dict[str, Distance]) -> Iterator[Finding]:
    """Straight edges whose ends lie on the hull or the deck, and that leave it between."""
    allowed = min(plate.thickness / 2.0, MOST_GAP)
    for number, edge in enumerate(plate.outer.segments, 1):
        if not isinstance(edge, Line) or edge.length < 4.0 * STEP:
            continue
        at = plate.map.to_boat(edge.spread(ceil(edge.length / STEP)))
        bows = [
            (float(bow.max()), tag, float((bow > allowed).mean()) * edge.length)
            for tag in ("deck", "hull")
            if (bow := _bow(surfaces[tag](at))) is not None
        ]
        most, tag, length = min(bows, default=(0.0, "", 0.0))
        if most > allowed:
            sentence = (
                f"Edge {number} lies on {WORDS[tag]} at both ends but up to "
                f"{mm_of_m(most):.0f} mm off it in between, over {mm_of_m(length):.0f} mm: "
                "add corners in between."
            )
            yield Finding("edge-apart", Severity.WARN, "corners_m", sentence)


def _bow(away: FloatArray) -> FloatArray | None:
    """Distance (n,) of a row from what its ends lie on; None where one of them does not."""
    if max(abs(away[0]), abs(away[-1])) > ENDS_ON:
        return None
    return np.abs(away - np.linspace(float(away[0]), float(away[-1]), len(away)))

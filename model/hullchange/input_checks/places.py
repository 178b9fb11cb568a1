"""Tanks, voids and openings where nothing of the boat is, or hold oddly much: asked about."""

from collections.abc import Iterable, Iterator

import numpy as np

from hullchange.answer.wire import Stage
from hullchange.boat.boat import Boat
from hullchange.boat.built import BuiltPart
from hullchange.boat.hull_hydrostatics import hull_result
from hullchange.boat.openings import edges_of
from hullchange.cache import cached
from hullchange.findings import Finding, Severity
from hullchange.geometry.frame import FloatArray
from hullchange.geometry.surface import Surface, intersection
from hullchange.plain_words import id_in_words
from hullchange.survey.as_found import tank_of
from hullchange.units import mm_of_m

WORTH_A_WORD = 0.02  # of what a tank holds; a box measured to the centimetre
NEAR = 0.5  # [m] a vent stands on a pipe
INSIDE = 0.3  # [m] from deck, bottom, shell and every part an opening is in the cabin's midst
ODD_VOLUME = 2.0  # a tank's capacity is its shape's within this factor: frames, pipes
LITRES_PER_M3 = 1000.0
TAPED, LONG_TAPED = 0.05, 0.01  # [m], and share of a length, within which it is measured
STAGES: tuple[Stage, Stage] = ("as_found", "refit")


def place_findings(boat: Boat) -> Iterator[Finding]:
    """What is doubtful about the places of tanks and openings."""
    for name, tank in boat.document.tanks.items():
        if tank.has_shape:
            yield from _of_tank(boat, name)
    yield from _of_waterline(boat)
    if not boat.document.openings:
        yield Finding(
            "no-openings",
            Severity.WARN,
            "openings",
            "No openings are entered, so where the sea comes in first is not known and the "
            "range is just the angle of vanishing stability. Enter them with edge, area and "
            "closing.",
        )
    far = {
        name
        for stage in STAGES
        for name, edge in edges_of(boat.document, stage)
        if _distance(boat, edge) > NEAR
    }
    for name in boat.document.openings:
        if name in far:
            yield Finding(
                "opening-off-the-boat",
                Severity.WARN,
                f"openings.{name}.edge_m",
                f"Opening {id_in_words(name)} is more than {NEAR:g} m away from hull and "
                "parts: check its edge, in metres aft of the forward perpendicular, to "
                "starboard and up.",
            )
    yield from _of_openings_inside(boat)
    yield from _of_voids(boat)
    yield from _of_compartments(boat)


def _of_openings_inside(boat: Boat) -> Iterator[Finding]:
    """Water comes in by deck, house, well or shell, not in the middle of the cabin."""
    boxes = _boxes(boat)[1:]
    for name, edge in edges_of(boat.document, "refit"):
        x, y, z = edge[int(np.argmin(edge[:, 2]))]
        there = np.array([np.clip(x, boat.hull.stem_x, boat.hull.transom_x)]), np.array([y])
        below = float(boat.hull.deck_z(*there)[0]) - z
        above = z - float(boat.hull.bottom_z(*there)[0])
        beside = float(boat.hull.sheer(there[0])[0, 1]) - abs(y)
        near = len(boxes) and _away(boxes, np.array([[x, y, z]])).min() < INSIDE
        if min(below, above, beside) > INSIDE and not near:
            sentence = (
                f"Opening {id_in_words(name)} lies inside the hull, {mm_of_m(below):,.0f} mm "
                "below the deck: is its edge right?"
            )
            place = f"openings.{name}.edge_m"
            yield Finding("opening-inside", Severity.WARN, place, sentence)


def _of_compartments(boat: Boat) -> Iterator[Finding]:
    """A compartment lies between the ends of the hull."""
    low, high = boat.hull.surface.bounds
    for name, given in boat.document.hull.compartments.items():
        out = max(low[0] - given.x_m[0], given.x_m[1] - high[0])
        if out > NEAR:
            sentence = (
                f"Compartment {id_in_words(name)} reaches {mm_of_m(float(out)):,.0f} mm "
                "beyond the hull: are its bulkheads right?"
            )
            place = f"hull.compartments.{name}"
            yield Finding("compartment-out-of-place", Severity.WARN, place, sentence)


def _of_voids(boat: Boat) -> Iterator[Finding]:
    """A void lies in what it is within."""
    for name, void in boat.document.voids.items():
        body = boat.hull.appendages.get(void.within)
        low, high = (boat.hull if body is None else body).surface.bounds
        across = void.y_m or (0.0, 0.0)
        ends = np.array([void.x_m, across, void.z_m]).T
        out = max(float((low - ends[0]).max()), float((ends[1] - high).max()))
        if out > NEAR:
            sentence = (
                f"Void {id_in_words(name)} reaches {mm_of_m(out):,.0f} mm beyond "
                f"{id_in_words(void.within)}: is its place right?"
            )
            yield Finding("void-out-of-place", Severity.WARN, f"voids.{name}", sentence)


def _of_waterline(boat: Boat) -> Iterator[Finding]:
    """The perpendiculars are the ends of the design waterline; trim is taken between them."""
    entered, drawn = boat.document.hull.length_waterline_m, hull_result(boat).length_waterline_m
    if abs(entered - drawn) > max(TAPED, LONG_TAPED * drawn):
        yield Finding(
            "waterline-length",
            Severity.WARN,
            "hull.length_waterline_m",
            f"Her lines cut the design waterline over {drawn:.2f} m, but {entered:.2f} m is "
            "entered, and trim is measured over that. Measure again, or correct the lines.",
        )


def _of_tank(boat: Boat, name: str) -> Iterator[Finding]:
    inside = tank_of(boat, name, 0.0).surface
    volume = inside.volume
    held = boat.document.tanks[name].capacity_l
    if not volume / ODD_VOLUME < held / LITRES_PER_M3 < volume * ODD_VOLUME:
        sentence = (
            f"Tank {id_in_words(name)} is entered with {held:,.0f} l, but its shape holds "
            f"{LITRES_PER_M3 * volume:,.0f} l: correct one of them."
        )
        yield Finding("tank-capacity", Severity.WARN, f"tanks.{name}.capacity_l", sentence)
    bodies = (boat.hull.surface, *(part.surface for part in boat.hull.appendages.values()))
    outside = volume - sum(_shared(inside, body) for body in bodies)
    if outside > WORTH_A_WORD * volume:
        yield _doubt(
            name,
            outside,
            volume,
            "outside the hull: check its place, or set within: hull",
        )
    for part in _cockpits(boat):
        wells = (body.surface for body in part.bodies if not body.adds)
        shared = sum(_shared(inside, well) for well in wells)
        if shared > WORTH_A_WORD * volume:
            yield _doubt(
                name,
                shared,
                volume,
                f"inside the {id_in_words(part.path)}: move one of them",
            )


def _doubt(name: str, part: float, whole: float, where: str) -> Finding:
    litres, of = LITRES_PER_M3 * part, LITRES_PER_M3 * whole
    sentence = f"Tank {id_in_words(name)}: {litres:.0f} of {of:.0f} l are {where}."
    return Finding("tank-out-of-place", Severity.WARN, f"tanks.{name}", sentence)


def _cockpits(boat: Boat) -> Iterable[BuiltPart]:
    built = (*boat.existing.values(), *boat.parts.values())
    return (part for part in built if part.part.kind == "cockpit")


def _shared(first: Surface, second: Surface) -> float:
    """[m^3] that two closed surfaces have in common."""
    mine, theirs = first.bounds, second.bounds
    if (mine[0] >= theirs[1]).any() or (theirs[0] >= mine[1]).any():
        return 0.0
    return _in_common(first, second)


@cached(64)
def _in_common(first: Surface, second: Surface) -> float:
    return intersection(first, second).volume


def _distance(boat: Boat, edge: FloatArray) -> float:
    """[m] from the nearest box around hull and parts to the farthest point of an edge."""
    return float(_away(_boxes(boat), edge).min(axis=1).max())


def _boxes(boat: Boat) -> FloatArray:
    """(k, 2, 3) lowest and highest corners of the hull, then of the bodies of parts."""
    built = (*boat.existing.values(), *boat.parts.values())
    surfaces = [boat.hull.surface, *(body.surface for part in built for body in part.bodies)]
    return np.array([surface.bounds for surface in surfaces])


def _away(boxes: FloatArray, points: FloatArray) -> FloatArray:
    """(n, k) [m] from points (n, 3) to boxes; 0 inside."""
    beyond = np.maximum(boxes[:, 0] - points[:, None], points[:, None] - boxes[:, 1])
    return np.asarray(np.linalg.norm(np.maximum(beyond, 0.0), axis=2))

"""A float heeled through the circle: levers with and without the house, openings, criteria."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from math import pi
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from hullchange.afloat.floats_in_conditions import FloatInCondition
from hullchange.afloat.whole_circle import COARSE_CIRCLE
from hullchange.answer.wire import Side, Stage
from hullchange.boat.boat import Boat
from hullchange.boat.openings import opening_edge
from hullchange.boat.wells import coaming_corners
from hullchange.criteria import openings as doors
from hullchange.criteria.facts import (
    Absent,
    DesignCategory,
    LeverFacts,
    Particulars,
    Sails,
    Sides,
)
from hullchange.criteria.levers import Angle, AtHeel, Beyond, SideLevers
from hullchange.document.document import Document
from hullchange.document.items import DocumentOpening
from hullchange.floating.crossings import Reached
from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.equilibrium import Equilibrium
from hullchange.floating.lever_curve import ImmersionAngle, LeverCurve, NeverRights, NotReached
from hullchange.floating.levers import levers_without, stepped
from hullchange.geometry.frame import FloatArray, WaterPlane
from hullchange.parts.parameters import Cockpit
from hullchange.survey.as_found import amidships

SIDES: tuple[Side, Side] = ("port", "starboard")
DECK_STATIONS = 41


@dataclass(frozen=True, eq=False)
class Edge:
    """One side of an opening.

    Attributes:
        id: of the opening.
        side: it lies on; centreline where its edge lies on both.
        points: (n, 3) [m].
        opening: as in the document.
        into_hull: whether it leads into the hull, not into a house on it.
    """

    id: str
    side: Literal["port", "starboard", "centreline"]
    points: FloatArray
    opening: DocumentOpening
    into_hull: bool

    @property
    def name(self) -> str:
        """The name in the criteria: with its side where it has one."""
        return self.id if self.side == "centreline" else f"{self.id}, {self.side}"

    @property
    def stands_open(self) -> bool:
        """Whether nothing shuts it."""
        return self.opening.closing == "none"


@dataclass(frozen=True, eq=False)
class Stability:
    """One float heeled round.

    Attributes:
        counted: levers with the house, until an opening of its own that stands open goes under.
        bare: levers without the house, of the same weight.
        dry: levers with the wells dry until their coaming goes under; ``counted`` where none.
        coaming: heel at which a coaming goes under, to either side.
        worse: side with the smaller area up to 90 degrees; what is flooded or asked of her may
            be worse on the other, so `facts` has both.
        facts: of either side, for the criteria; or why there are none.
        edges: openings of this boat, side by side.
        openings: the same on the way to either side, in the order of ``edges``.
    """

    counted: LeverCurve
    bare: LeverCurve
    dry: LeverCurve
    coaming: Mapping[Side, ImmersionAngle]
    worse: Side
    facts: Sides | Absent
    edges: tuple[Edge, ...]
    openings: Mapping[Side, tuple[doors.DownfloodingOpening, ...]]


def stability_of(boat: Boat, row: FloatInCondition, beam: tuple[float, float]) -> Stability:
    """A float heeled through the whole circle.

    Args:
        boat: everything built.
        row: the float.
        beam: greatest, and on the waterline [m].
    """
    rest = row.rest
    edges = tuple(edges_of(boat, row.stage))
    houses = houses_of(boat)
    whole = row.spread.levers
    bare = _without(whole, lambda piece: piece.id in houses)
    counted = whole if bare is whole else house_until_flooded(whole, lambda: bare, edges)
    sides = {side: side_levers(counted, side) for side in SIDES}
    areas = {s: v.area(0.0, pi / 2.0) for s, v in sides.items() if isinstance(v, SideLevers)}
    worse: Side = min(areas, key=lambda s: areas[s]) if areas else "starboard"
    about = particulars_afloat(particulars(boat, row.stage, beam), boat, rest.upright.plane)
    openings = {side: openings_on_side(counted, edges, side) for side in SIDES}
    weight = (rest.mass, rest.upright.gm_transverse)
    facts = lever_facts(boat, counted, about, weight, openings)
    dry, coaming = _wells_dry(boat, rest, whole)
    return Stability(counted, bare, dry, coaming, worse, facts, edges, openings)


def houses_of(boat: Boat) -> frozenset[str]:
    """Names of the parts that are houses, on either boat."""
    built = (*boat.existing.values(), *boat.parts.values())
    return frozenset(part.id for part in built if part.is_house)


def _without(whole: LeverCurve, leaves: Callable[[Piece], bool]) -> LeverCurve:
    """Levers without some pieces of what floats."""
    pieces = whole.boats[0].envelope.pieces
    left = Envelope(tuple(piece for piece in pieces if not leaves(piece)))
    lost = [piece.surface.vertices for piece in pieces if leaves(piece)]
    return levers_without(whole, left, np.vstack(lost), COARSE_CIRCLE) if lost else whole


def _wells_dry(
    boat: Boat, rest: Equilibrium, whole: LeverCurve
) -> tuple[LeverCurve, Mapping[Side, ImmersionAngle]]:
    """Levers with the wells dry until a coaming goes under, and the heels at which one does."""
    floats = {piece.id for piece in rest.envelope.pieces if not piece.adds}
    wells = {
        part.id: part.dimensions
        for part in (*boat.existing.values(), *boat.parts.values())
        if part.id in floats and isinstance(part.dimensions, Cockpit)
    }
    corners = [corner for well in wells.values() for corner in coaming_corners(well)]
    if not corners:
        return whole, {side: NotReached(pi) for side in SIDES}
    dry = _without(whole, lambda piece: not piece.adds and piece.id in wells)
    points = np.array(corners)
    reached = {side: dry.immersion_angle(points, side) for side in SIDES}
    return stepped(dry, whole, reached["starboard"], reached["port"]), reached


def side_levers(curve: LeverCurve, side: Side) -> SideLevers | Absent:
    """One side of a curve as the criteria take it, from upright outwards."""
    order = side_order(curve, side)
    heels = np.abs(curve.heels[order])
    # of this side at upright too: the weight of a list rights there on the other side only
    gz = curve.to_port[order] if side == "starboard" else -curve.to_port[order]
    if not len(heels) or heels[-1] < pi / 2.0:
        return Absent(
            "She tips end over end before 90° of heel: the criteria cannot be applied."
        )
    return SideLevers(heels, gz, curve.slopes[order])


def edges_of(boat: Boat, stage: Stage) -> Iterator[Edge]:
    """The openings of a boat, each side of a mirrored one by itself."""
    houses = houses_of(boat)
    for name, opening in boat.document.openings.items():
        if opening.boat not in (None, stage):
            continue
        points = opening_edge(boat.document, opening, stage)
        into_hull = opening.leads_to.rsplit(".", 1)[-1] not in houses
        if opening.side == "both":
            half = len(points) // 2
            for own in (points[:half], points[half:]):
                on: Side = "starboard" if own[:, 1].mean() > 0.0 else "port"
                yield Edge(name, on, own, opening, into_hull)
        else:
            low, high = points[:, 1].min(), points[:, 1].max()
            side: Literal["port", "starboard", "centreline"] = (
                "starboard" if low > 0.0 else "port" if high < 0.0 else "centreline"
            )
            yield Edge(name, side, points, opening, into_hull)


def lowest_heights(curve: LeverCurve, points: FloatArray) -> FloatArray:
    """(n,) height [m] of the lowest of some points above the water at each heel of a curve."""
    return np.asarray(_heights(curve, points).min(axis=1))


def lowest_points(curve: LeverCurve, points: FloatArray) -> FloatArray:
    """(n, 3) [m] the lowest of some points above the water at each heel of a curve."""
    return np.asarray(points[np.argmin(_heights(curve, points), axis=1)])


def _heights(curve: LeverCurve, points: FloatArray) -> FloatArray:
    """(n, m) [m] of each point above the water at each heel."""
    trims, heels = curve.trims, curve.heels
    ups = np.stack(
        [-np.sin(trims), -np.cos(trims) * np.sin(heels), np.cos(trims) * np.cos(heels)], axis=1
    )
    return np.asarray(ups @ points.T - curve.offsets[:, None])


def deck_edge(boat: Boat) -> FloatArray:
    """(n, 3) points [m] along the sheer, both sides."""
    x = np.linspace(boat.hull.stem_x, boat.hull.transom_x, DECK_STATIONS)
    sheer = boat.hull.sheer(x)
    return np.vstack([sheer, sheer * [1.0, -1.0, 1.0]])


def criterion_angle(found: ImmersionAngle) -> Angle:
    """An immersion angle as the criteria take it."""
    if isinstance(found, NotReached):
        return Beyond(abs(found.up_to))
    return AtHeel(abs(found.at.heel))


def house_until_flooded(
    whole: LeverCurve, bare: Callable[[], LeverCurve], edges: Iterable[Edge]
) -> LeverCurve:
    """The house counts until the first opening into it that stands open goes under."""
    own = [edge.points for edge in edges if edge.stands_open and not edge.into_hull]
    if not own:
        return whole
    points = np.vstack(own)
    starboard, port = (whole.immersion_angle(points, side) for side in ("starboard", "port"))
    return stepped(whole, bare(), starboard, port)


def lever_facts(
    boat: Boat,
    curve: LeverCurve,
    about: Particulars,
    weight: tuple[float, float],
    openings: Mapping[Side, tuple[doors.DownfloodingOpening, ...]],
) -> Sides | Absent:
    """What the criteria ask of her, heeled to either side.

    Args:
        boat: for her deck edge.
        curve: her levers.
        about: her particulars.
        weight: mass [kg] and GM upright [m].
        openings: hers, on the way to either side.
    """
    deck, facts = deck_edge(boat), []
    for side in SIDES:
        levers = side_levers(curve, side)
        if isinstance(levers, Absent):
            return levers
        edge = lowest_heights(curve, deck)[side_order(curve, side)]
        facts.append(LeverFacts(about, *weight, levers, openings[side], edge, side))
    return tuple(facts)


def openings_on_side(
    curve: LeverCurve, edges: Iterable[Edge], side: Side
) -> tuple[doors.DownfloodingOpening, ...]:
    """Openings as the criteria take them, on the way to one side."""
    order = side_order(curve, side)
    return tuple(
        doors.DownfloodingOpening(
            edge.name,
            edge.opening.area_m2,
            criterion_angle(curve.immersion_angle(edge.points, side)),
            lowest_heights(curve, edge.points)[order],
            edge.opening.closing,
            edge.into_hull,
            edge.opening.regular,
            edge.opening.progressive,
            edge.opening.tank_air_pipe,
        )
        for edge in edges
    )


def side_order(curve: LeverCurve, side: Side) -> NDArray[np.intp]:
    """Numbers of the heels of one side, from upright outwards."""
    if side == "starboard":
        return np.flatnonzero(curve.heels >= 0.0)
    return np.flatnonzero(curve.heels <= 0.0)[::-1]


def particulars(boat: Boat, stage: Stage, beam: tuple[float, float]) -> Particulars:
    """The boat at her design waterline; only the refit has the longer transom and higher rig.

    Heights count from that waterline: `particulars_afloat` takes them from the sea.
    """
    document = boat.document
    category = document.boat.design_category
    welded_on = _welded_on(boat) if stage == "refit" else []
    extension = max((float(p.surface.bounds[1, 0]) for p in welded_on), default=-np.inf)
    stem = boat.hull.transom_x - boat.hull.length
    return Particulars(
        hull_length=max(extension, boat.hull.transom_x) - stem,
        waterline_length=document.hull.length_waterline_m,
        hull_beam=beam[0],
        waterline_beam=beam[1],
        freeboard=float(boat.hull.sheer(np.array([amidships(boat)]))[0, 2]),
        category=Absent("The document names no design category (boat.design_category).")
        if category is None
        else DesignCategory(category),
        sails=sails(document, rig_rise(boat) if stage == "refit" else 0.0),
    )


def particulars_afloat(about: Particulars, boat: Boat, water: WaterPlane) -> Particulars:
    """The particulars with heights from the water she lies in, amidships."""
    sunk = water.sinkage(amidships(boat))
    rig = about.sails if isinstance(about.sails, Absent) else about.sails.sunk(sunk)
    return replace(about, freeboard=about.freeboard - sunk, sails=rig)


def rig_rise(boat: Boat) -> float:
    """Rise of the rig in the refit [m]: that of the heaviest weight that rises."""
    risen = [e for e in boat.entries if e.role == "moved" and e.rides_on]
    if not risen:
        return 0.0
    rig = max(risen, key=lambda e: e.weight.mass)
    return rig.to[2] - rig.weight.centre[2]


def sails(document: Document, rise: float) -> Sails | Absent:
    """Mainsail and foretriangle, each as a triangle, with the heights the document gives.

    Args:
        document: for its rig.
        rise: of the rig with the roof it stands on [m].
    """
    rig = document.rig
    if rig.mainsail is None or rig.foretriangle is None:
        return Absent("The document names no sails (rig.mainsail, rig.foretriangle).")
    if rig.centre_of_effort_z_m is None or rig.centre_of_lateral_plane_z_m is None:
        return Absent("The document gives no centre of effort or of the lateral plane (rig).")
    main, fore = rig.mainsail, rig.foretriangle
    area = (main.luff_m * main.foot_m + fore.height_m * fore.base_m) / 2.0
    return Sails(area, rig.centre_of_effort_z_m + rise, -rig.centre_of_lateral_plane_z_m)


def _welded_on(boat: Boat) -> list[Piece]:
    return [
        body
        for part in boat.parts.values()
        if part.part.kind == "transom_extension"
        for body in part.bodies
    ]


def reached_deg(found: object) -> float | None:
    """An angle that is reached, without its side [deg]; None where it is not."""
    return float(np.degrees(abs(found.at.heel))) if isinstance(found, Reached) else None


def vanishing_deg(curve: LeverCurve, side: Side) -> float:
    """[deg] without its side; 0 where she never rights, 180 where it does not vanish."""
    found = curve.vanishing_angle(side)
    if isinstance(found, NeverRights):
        return 0.0
    angle = reached_deg(found)
    return 180.0 if angle is None else angle

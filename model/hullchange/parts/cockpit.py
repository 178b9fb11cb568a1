"""A cockpit: seats round a foot well, sides carried up to the coamings, flats, drains."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from hullchange.errors import ModelError
from hullchange.findings import Finding, Severity
from hullchange.geometry.frame import FloatArray, Frame
from hullchange.geometry.host import Host
from hullchange.geometry.outline import FlatOutline, Line
from hullchange.geometry.plate import Plate
from hullchange.geometry.surface import Surface, box, union
from hullchange.parts.parameters import Cockpit, Drains, Flats
from hullchange.parts.part import Body, Part, Site
from hullchange.parts.steelwork import (
    AFT,
    STARBOARD,
    UP,
    both_sides,
    closed_outline,
    fitted_segments,
    flat_bar,
    plate,
    section_of,
    spaced_evenly,
)
from hullchange.units import m_of_mm

ABOVE_DECK = 0.05  # [m] how far the volume taken away reaches above the deck, at least
LEAST_STRIP = 0.005  # [m] narrower seats and bridges, and lower walls, are not built
ALONG_THE_DECK = 49  # places at which the top of a wall is looked for
DRAIN_TO_EDGE = 0.03  # [m] steel between a drain and the edge (common practice, no source)
DECK_DOUBT = 0.03  # [m] typed and measured deck may differ by so much


@dataclass(frozen=True)
class _Well:
    """A rectangular well, centred: from x to x, half-breadth, from floor to top."""

    forward: float
    after: float
    half: float
    floor: float
    top: float

    @property
    def length(self) -> float:
        return self.after - self.forward

    def box(self, top: float) -> Surface:
        return box(
            np.array([self.forward, -self.half, self.floor]),
            np.array([self.after, self.half, top]),
        )

    def floor_edge(self) -> FloatArray:
        """(n, 3) points around the floor, starboard half."""
        x, y = np.linspace(self.forward, self.after, 9), np.linspace(0.0, self.half, 5)
        ends = [np.stack([np.full(5, e), y, y * 0.0], axis=1) for e in (x[0], x[-1])]
        side = np.stack([x, np.full(9, self.half), x * 0.0], axis=1)
        return np.concatenate([*ends, side]) + self.floor * UP


def cockpit(given: Cockpit, site: Site) -> Part:
    """The cockpit for given dimensions.

    Raises:
        ModelError: ``coaming-below-deck``, ``foot-well-outside-seat-well``,
            ``cockpit-off-the-deck``, ``well-wider-than-deck``, ``well-above-the-deck``,
            ``well-through-the-hull``, ``hole-outside-outline``.
    """
    seats, foot = _wells(given)
    _require_on_deck(seats, site.host)
    clear = min(
        _clearance(seats, site.host, "seat_well_m"), _clearance(foot, site.host, "foot_well_m")
    )
    plates = (
        *_foot_well(foot, given),
        *_seats(seats, foot, given.plate_mm),
        *_well_walls(seats, given, site.host),
        *_flats(seats, foot, given),
    )
    reach = max(given.coaming_top_z_m, _highest_deck(seats, site.host) + ABOVE_DECK)
    return Part(
        given.kind,
        plates,
        bodies=(Body(union(seats.box(reach), foot.box(reach)), adds=False),),
        side_view=_side_view(seats, foot),
        findings=(*_deck_finding(seats, given, site.host), *_flats_finding(given, clear)),
    )


def _wells(given: Cockpit) -> tuple[_Well, _Well]:
    if given.coaming_top_z_m < given.deck_z_m:
        sentence = "The coaming top is below the deck, so water would run in: raise it."
        raise ModelError("coaming-below-deck", sentence, "coaming_top_z_m")
    length, width, depth = given.seat_well_m
    forward, floor = given.x_forward_m, given.deck_z_m - depth
    seats = _Well(forward, forward + length, width / 2.0, floor, given.coaming_top_z_m)
    length, width, depth = given.foot_well_m
    forward = given.foot_well_forward_m
    foot = _Well(forward, forward + length, width / 2.0, floor - depth, floor)
    over = max(seats.forward - foot.forward, foot.after - seats.after, foot.half - seats.half)
    if over > 1e-9:
        sentence = (
            f"The foot well reaches {over * 1e3:.0f} mm outside the seat well: make it "
            "smaller or move it."
        )
        raise ModelError("foot-well-outside-seat-well", sentence, "foot_well_m")
    return seats, foot


def _require_on_deck(seats: _Well, host: Host) -> None:
    if not (host.stem_x < seats.forward and seats.after < host.transom_x):
        sentence = (
            f"The cockpit, x {seats.forward:.2f} to {seats.after:.2f} m, runs off the deck, "
            f"which extends from x {host.stem_x:.2f} to {host.transom_x:.2f} m."
        )
        raise ModelError("cockpit-off-the-deck", sentence, "x_forward_m")
    beside = seats.half - host.sheer(np.linspace(seats.forward, seats.after, 9))[:, 1]
    if beside.max() > 0.0:
        sentence = (
            f"The well is {beside.max() * 1e3:.0f} mm wider than the deck on each "
            "side: make it narrower."
        )
        raise ModelError("well-wider-than-deck", sentence, "seat_well_m")
    edge = seats.floor_edge()
    proud = float((edge[:, 2] - host.deck_z(edge[:, 0], edge[:, 1])).max())
    if proud > -LEAST_STRIP:
        where = f"{abs(proud) * 1e3:.0f} mm {'above' if proud > 0.0 else 'below'}"
        sentence = (
            f"In places the seats lie {where} the measured deck, which leaves no well: lower "
            "deck_z_m, or make the seat well deeper."
        )
        raise ModelError("well-above-the-deck", sentence, "deck_z_m")


def _clearance(well: _Well, host: Host, place: str) -> float:
    """Least height of a well's floor above the hull's bottom [m]; refused where negative."""
    edge = well.floor_edge()
    above = edge[:, 2] - host.bottom_z(edge[:, 0], edge[:, 1])
    worst = int(np.argmin(above))
    if above[worst] < 0.0:
        sentence = (
            f"The well's floor comes {-above[worst] * 1e3:.0f} mm through the hull at "
            f"({edge[worst, 0]:.2f}, {edge[worst, 1]:.2f}): make it shallower or narrower, or "
            "move it aft."
        )
        raise ModelError("well-through-the-hull", sentence, place)
    return float(above[worst])


def _highest_deck(seats: _Well, host: Host) -> float:
    x = np.linspace(seats.forward, seats.after, 9)
    return float(host.deck_z(x, np.zeros(9)).max())


def _level(name: str, low: FloatArray, high: FloatArray, z: float, thickness: float) -> Plate:
    """A level rectangular plate between two corners (x, y)."""
    frame = Frame.of(np.array([*low, z]), AFT, STARBOARD)
    outer = FlatOutline.rectangle(
        (0.0, 0.0), (float(high[0] - low[0]), float(high[1] - low[1]))
    )
    return plate(name, frame, outer, thickness)


def _upright(name: str, start: FloatArray, along: FloatArray, top: float, mm: float) -> Plate:
    """An upright rectangular plate over the vector ``along``, from its foot to a height."""
    outer = FlatOutline.rectangle(
        (0.0, 0.0), (float(np.linalg.norm(along)), top - float(start[2]))
    )
    return plate(name, Frame.of(start, along, UP), outer, mm)


def _foot_well(foot: _Well, given: Cockpit) -> Iterator[Plate]:
    mm, half, across = given.plate_mm, foot.half, 2.0 * foot.half * STARBOARD
    corner = np.array([foot.forward, -half, foot.floor])
    frame = Frame.of(corner, AFT, STARBOARD)
    outer = FlatOutline.rectangle((0.0, 0.0), (foot.length, 2.0 * half))
    holes = _drains(foot, given.drains) if given.drains else ()
    try:
        yield plate("sole", frame, outer, mm, holes)
    except ModelError as error:
        raise error.at("drains") from error
    side = np.array([foot.forward, half, foot.floor])
    yield from both_sides(
        _upright("foot-well-side-starboard", side, foot.length * AFT, foot.top, mm)
    )
    yield _upright("foot-well-forward", corner, across, foot.top, mm)
    yield _upright("foot-well-after", corner + foot.length * AFT, across, foot.top, mm)


def _drains(foot: _Well, given: Drains) -> tuple[FlatOutline, ...]:
    """Round holes in the sole's flat coordinates."""
    radius = m_of_mm(given.diameter_mm) / 2.0
    inset = radius + DRAIN_TO_EDGE
    after, forward = foot.length - inset, inset
    port, starboard, middle = inset, 2.0 * foot.half - inset, foot.half
    places = {
        1: ((after, middle),),
        2: ((after, port), (after, starboard)),
        3: ((after, port), (after, starboard), (forward, middle)),
        4: ((after, port), (after, starboard), (forward, port), (forward, starboard)),
    }
    return tuple(FlatOutline.circle(at, radius) for at in places[given.count])


def _seats(seats: _Well, foot: _Well, mm: float) -> Iterator[Plate]:
    """Seats along both sides, and bridges between them before and behind the foot well."""
    if seats.half - foot.half > LEAST_STRIP:
        low, high = np.array([seats.forward, foot.half]), np.array([seats.after, seats.half])
        yield from both_sides(_level("seat-starboard", low, high, seats.floor, mm))
    bridges = ("forward", seats.forward, foot.forward), ("after", foot.after, seats.after)
    for name, start, end in bridges:
        if end - start > LEAST_STRIP:
            low, high = np.array([start, -foot.half]), np.array([end, foot.half])
            yield _level(f"bridge-{name}", low, high, seats.floor, mm)


def _well_walls(seats: _Well, given: Cockpit, host: Host) -> Iterator[Plate]:
    """Sides and ends of the seat well, up to the coaming, or to the deck where it is higher.

    The forward end goes to the cambered deck alone where a house stands on it.
    """
    share = np.linspace(0.0, 1.0, ALONG_THE_DECK)[:, None]
    fore_port, aft_port = (
        np.array([x, -seats.half, seats.floor]) for x in (seats.forward, seats.after)
    )
    across, aft = 2.0 * seats.half * STARBOARD, seats.length * AFT

    def wall(name: str, start: FloatArray, along: FloatArray, least: float) -> Plate:
        row = start + share * along
        top = np.maximum(host.deck_z(row[:, 0], row[:, 1]), least) - seats.floor
        run = share[:, 0] * float(np.linalg.norm(along))
        edge = np.stack([run, top], axis=1)[::-1]
        foot = Line((0.0, 0.0), (float(run[-1]), 0.0))
        outer = closed_outline(foot, *fitted_segments(edge, "deck" if np.isinf(least) else ""))
        return plate(name, Frame.of(start, along, UP), outer, given.plate_mm)

    yield from both_sides(wall("well-side-starboard", fore_port + across, aft, seats.top))
    forward = seats.top if given.forward_coaming else -np.inf
    yield wall("well-end-forward", fore_port, across, forward)
    yield wall("well-end-after", aft_port, across, seats.top)


def _flats(seats: _Well, foot: _Well, given: Cockpit) -> Iterator[Plate]:
    """Flats athwartships under the sole and under the seats, bridging them where they can."""
    if given.stiffeners is None:
        return
    spacing, below = given.stiffeners.spacing_m, m_of_mm(given.plate_mm) / 2.0

    def bar(name: str, x: float, span: tuple[float, float], floor: float) -> Plate:
        ends = np.array([[x, y, floor - below] for y in span])
        assert given.stiffeners is not None
        return flat_bar(name, ends[0], ends[1], -UP, section_of(given.stiffeners.flat_mm))

    for k, x in enumerate(foot.forward + spaced_evenly(foot.length, spacing), 1):
        yield bar(f"sole-flat-{k}", float(x), (-foot.half, foot.half), foot.floor)
    for k, x in enumerate(seats.forward + spaced_evenly(seats.length, spacing), 1):
        if not foot.forward <= x <= foot.after:
            yield bar(f"seat-flat-{k}", float(x), (-seats.half, seats.half), seats.floor)
        elif seats.half - foot.half > LEAST_STRIP:
            span = foot.half, seats.half
            yield from both_sides(bar(f"seat-flat-starboard-{k}", float(x), span, seats.floor))


def _side_view(seats: _Well, foot: _Well) -> tuple[FloatArray, ...]:
    return tuple(
        np.array(
            [[w.forward, w.floor], [w.after, w.floor], [w.after, w.top], [w.forward, w.top]]
        )
        for w in (seats, foot)
    )


def _deck_finding(seats: _Well, given: Cockpit, host: Host) -> tuple[Finding, ...]:
    x = np.linspace(seats.forward, seats.after, 9)
    measured = float(host.deck_z(x, np.full(9, seats.half)).mean())
    if abs(measured - given.deck_z_m) <= DECK_DOUBT:
        return ()
    sentence = (
        f"The deck beside the well is entered at z {given.deck_z_m:.2f} m, but the hull's "
        f"lines have it at {measured:.2f} m; depths are measured from the entered height."
    )
    return (Finding("deck-height-differs", Severity.WARN, "deck_z_m", sentence),)


def _flats_finding(given: Cockpit, clear: float) -> tuple[Finding, ...]:
    flats: Flats | None = given.stiffeners
    if flats is None or clear > m_of_mm(flats.flat_mm[0]):
        return ()
    sentence = (
        f"There are only {clear * 1e3:.0f} mm between the well and the hull: flat bars "
        f"{flats.flat_mm[0]:.0f} mm deep do not fit there."
    )
    return (Finding("no-room-for-flats", Severity.WARN, "stiffeners.flat_mm", sentence),)
